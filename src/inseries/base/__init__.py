"""Words that every room shares.

Knows: errors, estimates, findings, numbers with provenance, sources, units, ages.
Must not know: anything clinical.
Start reading: ``errors.py``.
Proven by: ``tests/rooms/test_base.py``.
"""
