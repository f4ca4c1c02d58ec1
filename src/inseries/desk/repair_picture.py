"""From a repair to the records that its pictures are drawn from."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from inseries.desk.repair_told import middles, neoaortic_end_mm
from inseries.draw.repair_plan import ButtonMove, RepairPlan, RootRing, ring_of
from inseries.draw.repair_view import RepairView, SideView, Vessel
from inseries.repair import Join, SeenFrom, number, on_page

if TYPE_CHECKING:
    from collections.abc import Sequence

    from inseries.desk.repair_plan import Plan
    from inseries.desk.repair_records import ButtonTold
    from inseries.prior.traits import Floats
    from inseries.repair import Reading, Root, Search

    Point = tuple[float, float]

# pictures of the roots are seen as a CT section is
SEEN = SeenFrom.FEET
CONCERN = (
    "Hatched wall: 12 to 1 o'clock seen from the feet, of concern for the left button (CT study)."
)
# chosen: room drawn between the root and the cut end above it, mm
APART_MM = 1.0
# chosen: points along the region of concern
ARC = 16


def repair_view(
    plan: Plan, stated: Reading, buttons: tuple[ButtonTold, ...], made: Join, gap_mm: float
) -> RepairView:
    """Both pictures by the stated pattern and the middle of every size.

    Parameters
    ----------
    plan : Plan
    stated : Reading, of the stated pattern
    buttons : as told, for their words
    made : Join, of the usual way at its middle
    gap_mm : as told, the middle of all draws
    """
    return RepairView(plan=_section(plan, stated, buttons), side=_side(plan, made, gap_mm))


def _section(plan: Plan, stated: Reading, buttons: tuple[ButtonTold, ...]) -> RepairPlan:
    roots = plan.roots
    told = {each.artery: each for each in buttons}
    concern = _points(roots.pulmonary.point_mm(_arc()))
    return RepairPlan(
        title="Where the coronary buttons go",
        seen_from=SEEN.words,
        left_side="patient's right",
        right_side="patient's left",
        roots=(
            _ring("new aorta", roots.pulmonary),
            _ring("new lung artery", roots.aortic),
        ),
        moves=tuple(_move(plan, each, told[each.button.name]) for each in stated.searches),
        concern=concern,
        concern_text=CONCERN,
        figure_id="repair",
    )


def _arc() -> Floats:
    return np.linspace(number("concern_left_from"), number("concern_left_to"), ARC)


def _points(places: Floats) -> tuple[Point, ...]:
    return tuple((float(x), float(y)) for x, y in on_page(np.atleast_2d(places), SEEN))


def _ring(name: str, root: Root) -> RootRing:
    return ring_of(name, _points(root.centre_mm)[0], root.long_mm, root.commissures_deg)


def _move(plan: Plan, each: Search, told: ButtonTold) -> ButtonMove:
    assert told.path_mm is not None
    path = _points(each.best.path_mm[:, :2])
    note = f"path {told.path_mm.value:.1f} mm, {each.best.opening}"
    if told.concern:
        note += f"; {told.concern[0]}"
    return ButtonMove(
        name=told.artery,
        note=note,
        old=_points(plan.roots.aortic.point_mm(each.button.angle_deg))[0],
        new=path[0],
        path=path,
        concern=bool(told.concern),
    )


# --- side view ----------------------------------------------------------------------------------


def _side(plan: Plan, made: Join, gap_mm: float) -> SideView:
    """Front at the reader's left, head at the top."""
    size, roots = middles(plan), plan.roots
    new, old = roots.pulmonary, roots.aortic
    ahead = float(old.centre_mm[1])
    end = float(neoaortic_end_mm(size))
    branch, trunk = plan.lung.branch_diameter_mm / 2.0, size["pulmonary_trunk_mm"] / 2.0
    reach = made.reach_mm - new.short_mm
    level = old.junction_mm + trunk + APART_MM
    rise = max(new.junction_mm, level) + trunk
    tip = reach + branch + plan.lung.trunk_mm
    where = tip + gap_mm
    vessels = (
        Vessel(
            name="new aorta",
            outline=_tube(
                0.0,
                (2.0 * new.short_mm, end, size["ascending_aorta_mm"]),
                (0.0, new.junction_mm, rise),
            ),
            filled=False,
        ),
        Vessel(
            name="new\nlung root",
            outline=_tube(
                ahead,
                (2.0 * old.short_mm, size["sinotubular_junction_mm"]),
                (0.0, old.junction_mm),
            ),
            filled=True,
        ),
        Vessel(
            name="",
            outline=_along((reach, tip), (branch, trunk), level),
            filled=True,
        ),
        Vessel(name="", outline=_round(reach, level, branch), filled=True),
    )
    return SideView(
        title="The gap of the lung artery",
        seen_from="Seen from the patient's left: front of the chest on the reader's left.",
        left_side="front",
        right_side="back",
        vessels=vessels,
        gap=((-tip, level), (-where, level)),
        gap_text=_gap_text(gap_mm, str(made.way)),
    )


def _gap_text(gap_mm: float, way: str) -> str:
    kind = "gap" if gap_mm >= 0.0 else "slack"
    return (
        f"Thick line: {kind} of {abs(gap_mm):.1f} mm along the vessel, drawn straight. Ring: where "
        f"the branches part. Way: {way}."
    )


def _along(
    ends: tuple[float, float], radii: tuple[float, float], level: float
) -> tuple[Point, ...]:
    """A vessel that lies from back to front."""
    (back, front), (near, far) = ends, radii
    upper = ((-back, level + near), (-front, level + far))
    lower = ((-front, level - far), (-back, level - near))
    return (*upper, *lower, upper[0])


def _tube(middle: float, widths: Sequence[float], heights: Sequence[float]) -> tuple[Point, ...]:
    """A vessel upright, its front toward the reader's left."""
    left = [(-(middle + w / 2.0), z) for w, z in zip(widths, heights, strict=True)]
    right = [(-(middle - w / 2.0), z) for w, z in zip(widths, heights, strict=True)]
    return (*left, *reversed(right), left[0])


def _round(middle: float, height: float, radius: float) -> tuple[Point, ...]:
    turn = np.linspace(0.0, 2.0 * np.pi, 49)
    return tuple(
        (float(-middle + radius * np.cos(t)), float(height + radius * np.sin(t))) for t in turn
    )
