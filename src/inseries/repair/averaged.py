"""The buttons of a baby whose pattern and sizes are not surely known."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from inseries.base.findings import Estimate
from inseries.repair.buttons import FirstCourse, buttons_of, kink_curvature_per_mm
from inseries.repair.frames import direction
from inseries.repair.landing import Search, in_region_of_concern, search, tether_direction
from inseries.repair.leiden import Pattern, code_on, plausible_readings
from inseries.repair.numbers import number, spread
from inseries.repair.rod import solve_rods

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from inseries.repair.buttons import Button
    from inseries.repair.roots import TwoRoots

    Array = NDArray[np.float64]

# chosen: bounds of the interval that every estimate here gives, per cent of draws
LOW, HIGH = 5.0, 95.0
# chosen: no root is drawn smaller than this share of its size, nor a vessel than half of it
LEAST_SHARE = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One plausible pattern, its weight, the searches of its buttons, and the code afterwards.

    ``fixed`` holds the buttons that cannot be cut simply: those that run in the wall.
    """

    pattern: Pattern
    weight: float
    roots: TwoRoots
    searches: tuple[Search, ...]
    fixed: tuple[Button, ...]
    code_after: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubt:
    """How surely the roots are known: shares of their diameters, and degrees; standard deviations.

    Parameters
    ----------
    new_share, old_share : float, of the new and the old aortic root's diameter
    angle_deg : float, of a position on a root
    relation_deg : float, of where the aorta lies
    """

    new_share: float
    old_share: float
    angle_deg: float
    relation_deg: float


def usual_doubt() -> Doubt:
    """What echo leaves open where nothing is said."""
    return Doubt(
        new_share=number("size_error"),
        old_share=number("size_error"),
        angle_deg=number("angle_error"),
        relation_deg=0.0,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Courses:
    """One landing in every draw; arrays of shape (n,)."""

    path_mm: Array
    stretch_pct: Array
    rotation_deg: Array
    kink_index: Array
    in_region: NDArray[np.bool_]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """What a measured spread makes of one landing: estimates with their 90 % interval."""

    path_mm: Estimate
    stretch_pct: Estimate
    rotation_deg: Estimate
    kink_index: Estimate
    kinks: float
    in_region: float


def readings(
    code: str,
    certainty: str | None,
    roots: TwoRoots,
    *,
    intramural: bool = False,
    height_mm: float | None = None,
) -> tuple[Reading, ...]:
    """Every plausible reading of a coronary pattern with the best places of its buttons.

    Parameters
    ----------
    code : str, Leiden code as stated
    certainty : str or None, as in the case file
    roots : TwoRoots
    intramural : bool, whether the left artery's first course runs in the wall
    height_mm : float, of the openings above the hinge; usual where None

    Returns
    -------
    tuple of Reading, the stated one first. Readings less likely than one in fifty are left out;
    the weights of the others sum to what they are, not to one
    """
    return tuple(
        reading_of(
            weight,
            buttons_of(pattern, roots, intramural=intramural, height_mm=height_mm),
            roots,
            pattern,
        )
        for pattern, weight in plausible_readings(code, certainty)
        if weight >= number("least_weight")
    )


def reading_of(
    weight: float, buttons: tuple[Button, ...], roots: TwoRoots, pattern: Pattern
) -> Reading:
    """The best places of given buttons, and the code that follows from them."""
    fixed = tuple(each for each in buttons if each.course is FirstCourse.INTRAMURAL)
    found = tuple(search(each, roots) for each in buttons if each not in fixed)
    places = {name: each.best.angle_deg for each in found for name in each.button.arteries}
    after = None if fixed else code_on(roots.pulmonary, roots.aortic.centre_mm, places)
    return Reading(
        pattern=pattern, weight=weight, roots=roots, searches=found, fixed=fixed, code_after=after
    )


def concern_weight(found: tuple[Reading, ...], artery: str) -> float:
    """Share of the plausible readings, by weight, in which an artery's best place is of concern."""
    total = sum(reading.weight for reading in found)
    concerned = sum(
        reading.weight
        for reading in found
        for each in reading.searches
        if artery in each.button.arteries and each.best.concerns
    )
    return concerned / total


def courses(
    found: Search, roots: TwoRoots, *, draws: int, seed: int, doubt: Doubt | None = None
) -> Courses:
    """A landing kept where it is, while sizes, angles, calibre and freed length are drawn.

    The landing goes with the new root, which a surgeon has in view; the relation of the roots
    only moves it against the front of the chest, from which the region of concern is counted.

    Parameters
    ----------
    found : Search
    roots : TwoRoots, round
    draws : int
    seed : int, of the Philox generator
    doubt : Doubt, what echo usually leaves open where None
    """
    button, best, doubt = found.button, found.best, doubt or usual_doubt()
    noise = np.random.Generator(np.random.Philox(seed)).standard_normal((7, draws))
    angle = button.angle_deg + doubt.angle_deg * noise[0]
    leaves = button.leaves_deg + doubt.angle_deg * noise[4]
    new, old = (
        np.maximum(LEAST_SHARE, 1.0 + share * noise[i])
        for share, i in ((doubt.new_share, 1), (doubt.old_share, 5))
    )
    radius, free = _vessel(button, noise[2], noise[3])
    line = roots.aortic.centre_mm - roots.pulmonary.centre_mm
    length = float(np.hypot(*line))
    taken = roots.pulmonary.long_mm * (new - 1.0) + roots.aortic.long_mm * (old - 1.0)
    centre = line / length * (length + taken)[:, None]
    opening = centre + old[:, None] * (roots.aortic.point_mm(angle) - roots.aortic.centre_mm)
    start = new[:, None] * (roots.pulmonary.point_mm(best.angle_deg) - roots.pulmonary.centre_mm)
    flat = opening + free[:, None] * direction(leaves) - start
    up = new * best.height_mm
    span = np.column_stack([flat, old * button.height_mm - up])
    off = best.path_mm[1, :2] - best.path_mm[0, :2]
    rods = solve_rods(
        span_mm=span,
        first=np.tile([*off, 0.0], (draws, 1)),
        last=np.pad(tether_direction(leaves, span), ((0, 0), (0, 1))),
        free_mm=free,
        radius_mm=radius,
        both_sides=False,
    )
    landed = best.angle_deg + doubt.relation_deg * noise[6]
    return Courses(
        path_mm=rods.length_mm,
        stretch_pct=100.0 * (rods.length_mm / free - 1.0),
        rotation_deg=rods.turn_deg,
        kink_index=rods.curvature_per_mm / kink_curvature_per_mm(radius),
        in_region=in_region_of_concern(button, landed),
    )


def _vessel(button: Button, calibre: Array, length: Array) -> tuple[Array, Array]:
    """Middle radius and freed length of the vessel in every draw, mm."""
    ratio = "left_ostium_share" if "L" in button.arteries else "right_ostium_share"
    wide = np.maximum(LEAST_SHARE, 1.0 + spread(ratio) / number(ratio) * calibre)
    free = button.mobilised_mm + spread("mobilised") * length
    return button.radius_mm * wide, np.maximum(LEAST_SHARE * button.mobilised_mm, free)


def pooled(parts: tuple[Courses, ...]) -> Spread:
    """Estimates over the draws of several readings, each with as many draws as it weighs."""

    def every(name: str) -> Array:
        return np.concatenate([getattr(part, name) for part in parts])

    kink = every("kink_index")
    return Spread(
        path_mm=estimate(every("path_mm"), "mm"),
        stretch_pct=estimate(every("stretch_pct"), "%"),
        rotation_deg=estimate(every("rotation_deg"), "deg"),
        kink_index=estimate(kink, "1"),
        kinks=float((kink > 1.0).mean()),
        in_region=float(every("in_region").mean()),
    )


def spread_of(
    found: Search, roots: TwoRoots, *, draws: int, seed: int, doubt: Doubt | None = None
) -> Spread:
    """One landing as estimates over its draws; arguments as of ``courses``."""
    return pooled((courses(found, roots, draws=draws, seed=seed, doubt=doubt),))


def estimate(values: Array, unit: str) -> Estimate:
    """The middle of draws and the interval that holds nine tenths of them."""
    low, middle, high = np.percentile(values, [LOW, 50.0, HIGH])
    return Estimate(value=float(middle), unit=unit, low=float(low), high=float(high))
