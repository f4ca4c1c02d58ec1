"""Compiled arithmetic of one beat: floats and arrays in, a status out.

Knows: laws of parts and edges, the beat, its tangents, the closed orbit; numpy, numba, math.
Must not know: parts by name, patients, days.
Start reading: ``beat.py``, then ``search.py``.
Proven by: ``tests/rooms/test_kernels.py`` and ``tests/witness``.
"""
