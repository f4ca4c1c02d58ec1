"""Published rates, as rows that stand beside a simulation.

Knows: paper, population, era, interval, denominator, and what of it was read.
Must not know: inference, cases, circuits, norms.
Start reading: ``rows.toml``, then ``rows.py``.
Proven by: ``tests/rooms/test_evidence.py``.
"""
