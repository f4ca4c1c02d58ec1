"""Pictures: plain view records in, SVG or terminal text out; one file per picture.

Knows: places, widths, colours, letters and how wide they are.
Must not know: how a number was computed, where a case is kept, physics.
Start reading: ``views.py``, then ``ribbons.py``.
Proven by: ``tests/rooms/test_draw_*.py``.
"""
