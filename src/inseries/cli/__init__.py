"""The mouth: takes a call apart, asks the desk, prints what it hears.

Knows: arguments, terminals, exit codes.
Must not know: how any answer is found.
Start reading: ``main.py``.
Proven by: ``tests/rooms/test_mouth_cli.py``.
"""
