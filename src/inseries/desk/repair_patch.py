"""Patches of a repair: pieces with their areas, the sheet in true size, the exchanged drawing."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from inseries.base.errors import RouteNotPossible
from inseries.desk.repair_records import PatchTold
from inseries.desk.repair_told import button_widths_mm, middles
from inseries.draw.patch_sheet import PatchSheet, Piece
from inseries.prior.traits import normals
from inseries.repair import (
    Patch,
    Wall,
    estimate,
    legs,
    missing_share,
    number,
    trousers,
    trousers_mm2,
    u_area_mm2,
)
from inseries.repair.frames import turned

if TYPE_CHECKING:
    from inseries.base.findings import Estimate
    from inseries.desk.repair_plan import Plan
    from inseries.desk.repair_told import Drawn
    from inseries.prior.traits import Floats

# chosen: a hole is at least this much deeper than half its width
DEEPER = 1.05
# chosen: length of the tick in the middle of an edge, mm
TICK = 1.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """What the patches close: holes in the root's wall and the gap above it, mm.

    Parameters
    ----------
    widths_mm : of the holes
    depth_mm : from the cut edge to the round end
    bridge_mm : wall between the holes at the cut edge; None with one hole
    wall : from the cut edge to the lung artery's end
    """

    widths_mm: tuple[float, ...]
    depth_mm: float
    bridge_mm: float | None
    wall: Wall


def cut_of(plan: Plan, gap_mm: float) -> Cut:
    """Holes and wall by the middle of every size.

    Parameters
    ----------
    plan : Plan
    gap_mm : between the cut ends, which the waist of a patch makes up where it is positive
    """
    size = middles(plan)
    widths = button_widths_mm(plan, plan.pattern)
    buttons = plan.buttons(plan.pattern, plan.roots)
    junction = plan.roots.aortic.junction_mm
    deep = max(junction - each.height_mm + w / 2.0 for each, w in zip(buttons, widths, strict=True))
    foot = size["sinotubular_junction_mm"]
    bridge = None
    if len(buttons) == 2:
        apart = abs(float(turned(buttons[0].angle_deg - buttons[1].angle_deg)))
        bridge = np.pi * foot * apart / 360.0 - sum(widths) / 2.0
    return Cut(
        widths_mm=widths,
        depth_mm=max(deep, DEEPER * max(widths) / 2.0),
        bridge_mm=bridge,
        wall=Wall(
            lower_mm=foot,
            upper_mm=size["pulmonary_trunk_mm"],
            height_mm=number("waist") + max(0.0, gap_mm),
        ),
    )


def patches_told(
    plan: Plan, cut: Cut, sizes: Drawn, *, seed: int, digest: str
) -> tuple[tuple[PatchTold, ...], str]:
    """Every piece, the one-piece patch first where there is room, and why there is none."""
    noise = normals((sizes.draws, 2), seed, digest, "patch") * number("patch_width_error")
    separate = tuple(
        _told(piece, _leg_areas(width, cut.depth_mm, noise), missing_share(at, (width,)))
        for piece, width in zip(
            legs(cut.wall, cut.widths_mm, cut.depth_mm), cut.widths_mm, strict=True
        )
        for at in (middles(plan)["aortic_root_mm"],)
    )
    if cut.bridge_mm is None or len(cut.widths_mm) != 2:
        return separate, "one button leaves one hole: a single piece closes it"
    both = (cut.widths_mm[0], cut.widths_mm[1])
    try:
        one = trousers(cut.wall, both, cut.depth_mm, cut.bridge_mm)
    except RouteNotPossible as error:
        return separate, f"no patch in one piece: {error.what}; {error.remedy}"
    share = missing_share(cut.wall.lower_mm, (one.girth_mm,))
    return (_told(one, _one_areas(cut, both, sizes, noise), share), *separate), ""


def _told(piece: Patch, area: Estimate, share: float) -> PatchTold:
    return PatchTold(
        name=piece.name,
        outline_mm=_points(piece.outline_mm),
        stitch_mm=_points(piece.stitch_mm),
        area_mm2=area,
        cut_mm2=round(piece.cut_mm2, 2),
        girth_mm=round(piece.girth_mm, 3),
        inert_share=round(share, 4),
        seam_mm=number("seam"),
        inner_seam_mm=None if piece.inner_seam_mm is None else round(piece.inner_seam_mm, 3),
    )


def _points(line: Floats) -> tuple[tuple[float, float], ...]:
    return tuple((round(float(x), 3), round(float(y), 3)) for x, y in line)


def _leg_areas(width: float, depth: float, noise: Floats) -> Estimate:
    """Area of a separate piece while the button's width is cut as closely as one can."""
    wide = np.maximum(0.3 * width, width + noise[:, 0])
    return estimate(
        np.array([u_area_mm2(float(w), max(depth, float(w) / 2.0)) for w in wide]), "mm2"
    )


def _one_areas(cut: Cut, widths: tuple[float, float], sizes: Drawn, noise: Floats) -> Estimate:
    assert cut.bridge_mm is not None
    areas: list[float] = []
    for i in range(sizes.draws):
        wall = Wall(
            lower_mm=float(sizes.mm["sinotubular_junction_mm"][i]),
            upper_mm=float(sizes.mm["pulmonary_trunk_mm"][i]),
            height_mm=cut.wall.height_mm,
        )
        first, second = (max(0.3 * w, w + float(noise[i, k])) for k, w in enumerate(widths))
        areas.append(trousers_mm2(wall, (first, second), cut.depth_mm, cut.bridge_mm))
    return estimate(np.array(areas), "mm2")


def sheet_of(case_id: str, patches: tuple[PatchTold, ...], notes: tuple[str, ...]) -> PatchSheet:
    """The pieces as they are printed in true size."""
    return PatchSheet(
        title=f"Patch of the lung artery's root, case {case_id}",
        notes=notes,
        figure_id="patch",
        pieces=tuple(
            Piece(
                name=piece.name,
                note=f"{piece.area_mm2.value:.0f} mm² within the suture",
                cut_mm=piece.outline_mm,
                stitch_mm=piece.stitch_mm,
                marks_mm=_marks(piece),
            )
            for piece in patches
        ),
    )


def _marks(piece: PatchTold) -> tuple[tuple[tuple[float, float], ...], ...]:
    """A tick across the middle of the upper edge: the facing commissure, or the hole's middle."""
    middle = sum(x for x, _ in (min(piece.stitch_mm), max(piece.stitch_mm))) / 2.0
    sides = pairwise(piece.outline_mm)
    top = max(
        y0 + (y1 - y0) * (middle - x0) / (x1 - x0)
        for (x0, y0), (x1, y1) in sides
        if x0 != x1 and min(x0, x1) <= middle <= max(x0, x1)
    )
    return (((middle, top), (middle, top - TICK)),)
