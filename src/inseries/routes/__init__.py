"""Operations as pure functions from one circuit to another, with their preconditions.

Knows: what an operation does to parts and edges.
Must not know: the case, days, how a beat is solved.
Start reading: ``switch.py``.
Proven by: ``tests/rooms/test_routes.py``.
"""

from inseries.routes.defects import (
    round_area_cm2,
    with_atrial_defect,
    with_duct,
    with_ventricular_defect,
)
from inseries.routes.switch import AfterBypass, arterial_switch, with_left_outflow

__all__ = [
    "AfterBypass",
    "arterial_switch",
    "round_area_cm2",
    "with_atrial_defect",
    "with_duct",
    "with_left_outflow",
    "with_ventricular_defect",
]
