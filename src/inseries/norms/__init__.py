"""What is usual at an age and a size.

Knows: growth, body surface, Z-scores by method, thresholds with their population, blood, pressures.
Must not know: patients, circuits, published outcomes.
Start reading: ``zscores.py``.
Proven by: ``tests/rooms/test_norms.py``.
"""
