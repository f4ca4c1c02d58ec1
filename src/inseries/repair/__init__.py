"""The geometry of an arterial switch: how the pieces fit, in millimetres.

Knows: two roots, coronary patterns, buttons and their course, the lung artery, patches.
Must not know: a circuit, a case, how a picture is drawn.
Start reading: ``frames.py``, then ``roots.py``, ``landing.py``, ``patch.py``.
Proven by: ``tests/rooms/test_repair_roots.py``, ``tests/rooms/test_repair_pieces.py``,
``tests/laws/test_repair_laws.py``, ``tests/witness/test_rod_against_elastica.py``.
"""

from inseries.repair.averaged import (
    Courses,
    Doubt,
    Reading,
    Spread,
    concern_weight,
    courses,
    estimate,
    pooled,
    reading_of,
    readings,
    spread_of,
)
from inseries.repair.buttons import Button, FirstCourse, button, buttons_of
from inseries.repair.frames import SeenFrom, angle_of, clock_hour, direction, on_page
from inseries.repair.landing import Landing, Opening, Places, Search, landings, search
from inseries.repair.leiden import (
    Pattern,
    code_on,
    plausible_readings,
    read_pattern,
    sinus_imaging,
    sinus_surgical,
)
from inseries.repair.lung import (
    Join,
    LungArtery,
    Way,
    flattened,
    forward_reach_mm,
    join,
    usual_lung_artery,
)
from inseries.repair.mismatch import Mismatch, mismatch
from inseries.repair.numbers import number, spread
from inseries.repair.patch import (
    Patch,
    Wall,
    legs,
    missing_share,
    polygon_mm2,
    trousers,
    trousers_mm2,
    u_area_mm2,
)
from inseries.repair.rod import Rods, solve_rods
from inseries.repair.roots import Root, TwoRoots, two_roots

__all__ = [
    "Button",
    "Courses",
    "Doubt",
    "FirstCourse",
    "Join",
    "Landing",
    "LungArtery",
    "Mismatch",
    "Opening",
    "Patch",
    "Pattern",
    "Places",
    "Reading",
    "Rods",
    "Root",
    "Search",
    "SeenFrom",
    "Spread",
    "TwoRoots",
    "Wall",
    "Way",
    "angle_of",
    "button",
    "buttons_of",
    "clock_hour",
    "code_on",
    "concern_weight",
    "courses",
    "direction",
    "estimate",
    "flattened",
    "forward_reach_mm",
    "join",
    "landings",
    "legs",
    "mismatch",
    "missing_share",
    "number",
    "on_page",
    "plausible_readings",
    "polygon_mm2",
    "pooled",
    "read_pattern",
    "reading_of",
    "readings",
    "search",
    "sinus_imaging",
    "sinus_surgical",
    "solve_rods",
    "spread",
    "spread_of",
    "trousers",
    "trousers_mm2",
    "two_roots",
    "u_area_mm2",
    "usual_lung_artery",
]
