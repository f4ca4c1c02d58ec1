"""From a planned repair to the switch as it is drawn, step by step."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from inseries.desk.repair_told import middles, neoaortic_end_mm
from inseries.draw.switch_view import (
    SwitchArteries,
    SwitchButton,
    SwitchPatch,
    SwitchRoot,
    SwitchView,
)
from inseries.repair import Way, forward_reach_mm, number
from inseries.repair.frames import direction

if TYPE_CHECKING:
    from inseries.desk.repair_plan import Plan
    from inseries.desk.repair_records import PatchTold
    from inseries.draw.switch_view import Point
    from inseries.draw.switch_view import Way as Led
    from inseries.repair import Button, Join, Reading, Root, Search

# chosen: points along a first course
POINTS = 17
TITLES = (
    "Before the switch",
    "Both great arteries are cut across",
    "The coronary buttons are cut out and lifted",
    "The buttons are sewn into the new aorta",
    "The arteries are crossed",
    "The holes are closed",
    "The lung artery is joined: done",
)
WAYS: dict[str, Led] = {
    str(Way.LECOMPTE): "in front",
    str(Way.SHIFTED): "beside",
    str(Way.SPIRAL): "behind",
}


def switch_view(
    plan: Plan, stated: Reading, patches: tuple[PatchTold, ...], made: Join, gap_mm: float
) -> SwitchView:
    """A switch by the stated pattern and the middle of every size.

    Parameters
    ----------
    plan : Plan
    stated : Reading, of the stated pattern
    patches : as told, the one that is drawn first
    made : Join, of the usual way at its middle
    gap_mm : as told, the middle of all draws
    """
    size, roots = middles(plan), stated.roots
    return SwitchView(
        title="The switch, step by step",
        old_aorta=_root(roots.aortic, size["aortic_annulus_mm"], size["sinotubular_junction_mm"]),
        old_lung=_root(
            roots.pulmonary, size["pulmonary_annulus_mm"], float(neoaortic_end_mm(size))
        ),
        buttons=(
            *(_moved(plan, stated, each) for each in stated.searches),
            *(_button(stated, each) for each in stated.fixed),
        ),
        arteries=_arteries(plan, made, gap_mm),
        patch=SwitchPatch(waist_mm=_waist(patches, gap_mm)),
        titles=TITLES,
        figure_id="switch",
    )


def _root(root: Root, hinge_mm: float, end_mm: float) -> SwitchRoot:
    return SwitchRoot(
        x_mm=root.x_mm,
        y_mm=root.y_mm,
        hinge_mm=hinge_mm,
        sinus_mm=2.0 * root.long_mm,
        end_mm=end_mm,
        height_mm=root.junction_mm,
        commissures_deg=root.commissures_deg,
    )


def _moved(plan: Plan, stated: Reading, each: Search) -> SwitchButton:
    path = each.best.path_mm
    places = np.linspace(0.0, len(path) - 1.0, POINTS).round().astype(int)
    return _button(stated, each.button, landed=each, after=_points(path[places]))


def _button(
    stated: Reading, button: Button, landed: Search | None = None, after: tuple[Point, ...] = ()
) -> SwitchButton:
    root = stated.roots.aortic
    best = landed.best if landed is not None else None
    start = np.array([*root.point_mm(button.angle_deg), button.height_mm])
    out = np.array([*direction(button.leaves_deg), 0.0])
    free = np.linspace(0.0, button.mobilised_mm, POINTS)
    return SwitchButton(
        name=button.name,
        old_deg=button.angle_deg,
        old_height_mm=button.height_mm,
        new_deg=None if best is None else best.angle_deg,
        new_height_mm=None if best is None else best.height_mm,
        width_mm=button.diameter_mm + 2.0 * number("rim"),
        above_mm=root.junction_mm - button.height_mm,
        vessel_mm=button.diameter_mm + 2.0 * number("wall"),
        before=_points(start + free[:, None] * out),
        after=after,
        flap=best is not None and str(best.opening) != "punch",
    )


def _points(line: np.ndarray) -> tuple[Point, ...]:
    return tuple((round(float(x), 3), round(float(y), 3), round(float(z), 3)) for x, y, z in line)


def _arteries(plan: Plan, made: Join, gap_mm: float) -> SwitchArteries:
    size, lung = middles(plan), plan.lung
    back = plan.roots.pulmonary.short_mm
    return SwitchArteries(
        aorta_mm=size["ascending_aorta_mm"],
        trunk_mm=size["pulmonary_trunk_mm"],
        branch_mm=lung.branch_diameter_mm,
        trunk_left_mm=lung.trunk_mm,
        hilar_mm=lung.hilar_mm,
        parts_before_mm=forward_reach_mm(replace(lung, mobilisation=0.0)) - back,
        parts_after_mm=made.reach_mm - back,
        way=WAYS[str(made.way)],
        gap_mm=gap_mm,
    )


def _waist(patches: tuple[PatchTold, ...], gap_mm: float) -> float:
    """Height of the band that makes one piece of two."""
    return number("waist") + max(0.0, gap_mm) if patches[0].name == "one piece" else 0.0
