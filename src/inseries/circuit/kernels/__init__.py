"""Compiled arithmetic of one beat: floats and arrays in, a status out.

Knows: pressures, flows, the beat, the closed orbit; numpy, numba, math.
Must not know: parts by name, patients, days.
Start reading: ``beat.py``.
Proven by: ``tests/rooms/test_kernels.py`` and ``tests/witness``.
"""
