"""Slow time: how walls and cavities follow their load over days.

Knows: growth laws, the walk through days, events at their hour.
Must not know: how a beat is solved, patients' names for things.
Start reading: ``walk.py``, then ``laws/``.
Proven by: ``tests/rooms/test_course.py``, ``tests/witness``.
"""
