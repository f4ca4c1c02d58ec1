"""Many plausible circuits for one baby: drawn from stated spreads, narrowed by its readings.

Knows: what differs from baby to baby, how a reading errs, weights of draws.
Must not know: drawing, storing.
Start reading: ``traits.py``, ``story.py``, ``baby.py``, then ``narrow.py``.
Proven by: ``tests/rooms/test_prior_narrowing.py``, ``tests/laws/test_prior_laws.py``.
"""
