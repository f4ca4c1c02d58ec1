"""What a reader is handed: the team brief, and the sense its words must keep.

Knows: composition of finished words, numbers and pictures for a reader, and the rules of wording.
Must not know: how anything was computed, and who the baby is.
Start reading: ``view.py``.
Proven by: ``tests/rooms/test_brief.py``, ``tests/rooms/test_brief_sense.py``.
"""
