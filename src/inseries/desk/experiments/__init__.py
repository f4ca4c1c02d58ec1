"""Published situations set up again: one small module each, giving our numbers by name.

Start reading: ``catalogue.py``.
"""
