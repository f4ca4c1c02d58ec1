"""The geometry of an arterial switch: how the pieces fit, in millimetres.

Knows: two roots, coronary patterns, buttons and their course, the lung artery, patches.
Must not know: a circuit, a case, how a picture is drawn.
Start reading: ``frames.py``, then ``roots.py``.
Proven by: ``tests/rooms/test_repair_roots.py``,
``tests/witness/test_coronary_codes_against_leiden.py``.
"""

from inseries.repair.frames import SeenFrom, angle_of, clock_hour, direction, on_page
from inseries.repair.leiden import (
    Pattern,
    code_on,
    plausible_readings,
    read_pattern,
    sinus_imaging,
    sinus_surgical,
)
from inseries.repair.numbers import number, spread
from inseries.repair.roots import Root, TwoRoots, two_roots

__all__ = [
    "Pattern",
    "Root",
    "SeenFrom",
    "TwoRoots",
    "angle_of",
    "clock_hour",
    "code_on",
    "direction",
    "number",
    "on_page",
    "plausible_readings",
    "read_pattern",
    "sinus_imaging",
    "sinus_surgical",
    "spread",
    "two_roots",
]
