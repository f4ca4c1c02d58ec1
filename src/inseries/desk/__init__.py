"""The verbs: one question each, answered for a terminal, a program or a page.

Knows: every room below, and how to join them into one answer.
Must not know: HTTP, the terminal, how an argument was parsed.
Start reading: ``answer.py``, then ``verbs.py``.
Proven by: ``tests/rooms/test_mouth_answer.py``, ``tests/rooms/test_mouth_verbs.py``.
"""
