"""The mouth for a browser: takes a request apart, asks the desk, sends a page.

Knows: HTTP, who may ask, templates, what is being computed for whom.
Must not know: how any answer is found, or what is drawn in a picture.
Start reading: ``app.py``, then ``guard.py``.
Proven by: ``tests/rooms/test_serve*.py``, ``tests/browser/``.
"""
