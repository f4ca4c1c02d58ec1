"""The lung artery: how far it comes forward, what gap is left, what a direct join pulls."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import hypot
from typing import TYPE_CHECKING

import numpy as np

from inseries.base.errors import RouteNotPossible
from inseries.repair.numbers import number

if TYPE_CHECKING:
    from inseries.repair.roots import TwoRoots

    Point = tuple[float, float]


class Way(StrEnum):
    """How the lung artery is led to its new root."""

    LECOMPTE = "Lecompte"
    SPIRAL = "spiral"
    SHIFTED = "side by side, join shifted toward the right branch"


@dataclass(frozen=True, slots=True, kw_only=True)
class LungArtery:
    """The freed branches of the lung artery, millimetres.

    Parameters
    ----------
    branch_mm : float, length freed from bifurcation to hilum
    hilar_mm : float, from hilum to hilum
    mobilisation : float, share by which freeing lengthens the branches
    resected_mm : float, wall lost with buttons and cut ends
    trunk_mm : float, lung trunk left on the bifurcation
    branch_diameter_mm : float, inner
    """

    branch_mm: float
    hilar_mm: float
    mobilisation: float
    resected_mm: float
    trunk_mm: float
    branch_diameter_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Join:
    """A direct join of the lung artery.

    Parameters
    ----------
    way : Way
    reach_mm : float, how far the bifurcation can come forward
    gap_mm : float, what is left between the cut ends; negative means slack
    tension : float, gap over the freed length of both branches, 1
    pull_g : float, force of that stretch along one branch, grams-force
    width_share : float, height of the branch where it is bent over the aorta, over its diameter
    area_share : float, its area there over the round one
    bronchus_mm : float, between the left branch's outside and the left main bronchus; negative
        where they would press
    """

    way: Way
    reach_mm: float
    gap_mm: float
    tension: float
    pull_g: float
    width_share: float
    area_share: float
    bronchus_mm: float


def usual_lung_artery(branch_diameter_mm: float) -> LungArtery:
    """A lung artery of chosen usual lengths; nothing of it is measured on the baby."""
    return LungArtery(
        branch_mm=number("branch_length"),
        hilar_mm=number("hilar_width"),
        mobilisation=number("mobilisation"),
        resected_mm=number("resected"),
        trunk_mm=number("trunk_left"),
        branch_diameter_mm=branch_diameter_mm,
    )


def forward_reach_mm(lung: LungArtery) -> float:
    """How far in front of the line of the hila the bifurcation can stand, mm, by Pythagoras.

    Raises
    ------
    RouteNotPossible, code ``branches_short``, where the branches do not span the hila
    """
    length = lung.branch_mm * (1.0 + lung.mobilisation)
    if length < lung.hilar_mm / 2.0:
        raise RouteNotPossible(
            "the branches are shorter than half the way between the hila",
            code="branches_short",
            where="lung artery branches",
            value=length,
            unit="mm",
            remedy="longer branches or a narrower chest.",
        )
    return float(np.sqrt(length**2 - (lung.hilar_mm / 2.0) ** 2))


def join(
    lung: LungArtery, roots: TwoRoots, way: Way, *, measured_gap_mm: float | None = None
) -> Join:
    """A direct join by one way: reach, gap, tension, flattening, room for the bronchus.

    The hila lie behind the new aorta, in line with its back wall. By the Lecompte manoeuvre the
    bifurcation passes in front of the new aorta; by the spiral it stays beside it, so that the
    branches keep their bed; shifted, the opening is moved toward the right branch, so that the
    bifurcation need not leave the middle.

    Parameters
    ----------
    lung : LungArtery
    roots : TwoRoots
    way : Way
    measured_gap_mm : float, between the cut ends as measured at the table, in place of the computed

    Raises
    ------
    RouteNotPossible, code ``gap_negative`` or ``branches_short``
    """
    if measured_gap_mm is not None and not measured_gap_mm >= 0.0:
        raise RouteNotPossible(
            "a gap between cut ends is not negative",
            code="gap_negative",
            where="gap of the lung artery",
            value=measured_gap_mm,
            unit="mm",
            remedy="0 mm where the ends meet or overlap.",
        )
    reach, new = forward_reach_mm(lung), roots.pulmonary
    needed = _needed_mm(roots, way) + lung.resected_mm
    gap = needed - reach - lung.trunk_mm - lung.branch_diameter_mm / 2.0
    gap = gap if measured_gap_mm is None else measured_gap_mm
    tension = max(0.0, gap) / (2.0 * lung.branch_mm)
    pull = _pull(lung, tension)
    bent = new.long_mm + lung.branch_diameter_mm / 2.0
    width, area = (
        flattened(lung.branch_diameter_mm, pull / bent) if way is Way.LECOMPTE else (1.0, 1.0)
    )
    return Join(
        way=way,
        reach_mm=reach,
        gap_mm=gap,
        tension=tension,
        pull_g=pull * GRAMS,
        width_share=width,
        area_share=area,
        bronchus_mm=_bronchus_mm(lung, roots, way),
    )


# derived: 1 mmHg over 1 mm2 is 133.322e-6 N, 0.013595 grams-force
GRAMS = 0.013595


def _needed_mm(roots: TwoRoots, way: Way) -> float:
    """From the line of the hila to where the lung artery's new root opens, mm."""
    back = roots.pulmonary.short_mm
    ahead = roots.aortic.centre_mm - roots.pulmonary.centre_mm
    if way is Way.SHIFTED:
        return back + max(0.0, float(ahead[1]))
    if way is Way.SPIRAL:
        beside = np.array([abs(ahead[0]) - roots.aortic.long_mm, ahead[1]])
        return back + float(np.hypot(max(0.0, beside[0]), max(0.0, beside[1])))
    passing = 2.0 * roots.pulmonary.short_mm
    return max(passing, back + float(np.hypot(ahead[0] / 2.0, max(0.0, ahead[1]))))


def _pull(lung: LungArtery, tension: float) -> float:
    """Force along one branch, mmHg mm²: modulus, wall area, stretch."""
    wall = np.pi * lung.branch_diameter_mm * number("branch_wall")
    return float(number("branch_modulus") * wall * tension)


def flattened(diameter_mm: float, push_mmhg_mm: float) -> tuple[float, float]:
    """Height and area of an inextensible, pressurised tube pressed against a flat wall, as shares.

    Pressed by a force per length q, the thin wall lies flat over q over the pressure within, on
    both sides, and is round beside: a stadium whose girth is kept. Its height is then
    1 - q/(π r p) of the diameter and its area 1 - (q/(π r p))² of the round one.

    Parameters
    ----------
    diameter_mm : float
    push_mmhg_mm : float, force per length, mmHg mm
    """
    share = push_mmhg_mm / (np.pi * diameter_mm / 2.0 * number("lung_pressure"))
    lost = float(min(1.0, share))
    return 1.0 - lost, 1.0 - lost**2


def _bronchus_mm(lung: LungArtery, roots: TwoRoots, way: Way) -> float:
    """Room between the left branch and the left main bronchus in the section, mm."""
    new = roots.pulmonary
    back = new.centre_mm - np.array([0.0, new.short_mm])
    start = back + np.array([0.0, _needed_mm(roots, way)])
    if way is not Way.LECOMPTE:
        start = back + np.array([0.0, 0.0])
    hilum = back + np.array([lung.hilar_mm / 2.0, 0.0])
    middle = back - np.array([0.0, number("bronchus_behind")])
    end = middle + np.array([lung.hilar_mm / 2.0, -number("bronchus_radius")])
    ends = tuple((float(x), float(y)) for x, y in (start, hilum, middle, end))
    apart = min(
        _off_line(ends[0], ends[2], ends[3]),
        _off_line(ends[1], ends[2], ends[3]),
        _off_line(ends[2], ends[0], ends[1]),
        _off_line(ends[3], ends[0], ends[1]),
    )
    return apart - lung.branch_diameter_mm / 2.0 - number("bronchus_radius")


def _off_line(point: Point, one: Point, other: Point) -> float:
    """Distance of a point from a straight piece; two pieces that do not cross are nearest so."""
    x, y = other[0] - one[0], other[1] - one[1]
    px, py = point[0] - one[0], point[1] - one[1]
    share = min(1.0, max(0.0, (px * x + py * y) / (x * x + y * y)))
    return hypot(px - share * x, py - share * y)
