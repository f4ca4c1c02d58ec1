"""Operations as pure functions from one circuit to another, with their preconditions.

Knows: what an operation, birth, a leak, a shunt or support does to parts and edges; what to add.
Must not know: the case, days, how a beat is solved.
Start reading: ``switch.py``.
Proven by: ``tests/rooms/test_routes.py``, ``tests/rooms/test_routes_topologies.py``,
``tests/rooms/test_routes_additions.py``, ``tests/rooms/test_routes_shunts.py``.
"""

from inseries.routes.atrial_switch import atrial_switch
from inseries.routes.birth import AfterBirth, birth
from inseries.routes.branches import with_branch_stenosis, with_lung_branches
from inseries.routes.coronaries import coronary_need, with_coronaries, with_ostial_stenosis
from inseries.routes.defects import (
    round_area_cm2,
    with_atrial_defect,
    with_duct,
    with_ventricular_defect,
)
from inseries.routes.leaks import with_aortic_leak, with_valve_leak
from inseries.routes.narrowings import (
    band_circumference_mm,
    band_lumen_mm,
    with_band,
    with_coarctation,
    with_supravalvar_stenosis,
)
from inseries.routes.reflex import newborn_reflex
from inseries.routes.sharing import with_pericardium, with_septum
from inseries.routes.shunts import with_shunt
from inseries.routes.support import pump_head_mmhg, with_support
from inseries.routes.switch import AfterBypass, arterial_switch, with_left_outflow

__all__ = [
    "AfterBirth",
    "AfterBypass",
    "arterial_switch",
    "atrial_switch",
    "band_circumference_mm",
    "band_lumen_mm",
    "birth",
    "coronary_need",
    "newborn_reflex",
    "pump_head_mmhg",
    "round_area_cm2",
    "with_aortic_leak",
    "with_atrial_defect",
    "with_band",
    "with_branch_stenosis",
    "with_coarctation",
    "with_coronaries",
    "with_duct",
    "with_left_outflow",
    "with_lung_branches",
    "with_ostial_stenosis",
    "with_pericardium",
    "with_septum",
    "with_shunt",
    "with_support",
    "with_supravalvar_stenosis",
    "with_valve_leak",
    "with_ventricular_defect",
]
