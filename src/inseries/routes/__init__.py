"""Operations as pure functions from one circuit to another, with their preconditions.

Knows: what an operation, or birth, does to parts and edges.
Must not know: the case, days, how a beat is solved.
Start reading: ``switch.py``.
Proven by: ``tests/rooms/test_routes.py``, ``tests/rooms/test_routes_topologies.py``.
"""

from inseries.routes.atrial_switch import atrial_switch
from inseries.routes.birth import AfterBirth, birth
from inseries.routes.branches import with_branch_stenosis, with_lung_branches
from inseries.routes.defects import (
    round_area_cm2,
    with_atrial_defect,
    with_duct,
    with_ventricular_defect,
)
from inseries.routes.narrowings import with_band, with_coarctation, with_supravalvar_stenosis
from inseries.routes.switch import AfterBypass, arterial_switch, with_left_outflow

__all__ = [
    "AfterBirth",
    "AfterBypass",
    "arterial_switch",
    "atrial_switch",
    "birth",
    "round_area_cm2",
    "with_atrial_defect",
    "with_band",
    "with_branch_stenosis",
    "with_coarctation",
    "with_duct",
    "with_left_outflow",
    "with_lung_branches",
    "with_supravalvar_stenosis",
    "with_ventricular_defect",
]
