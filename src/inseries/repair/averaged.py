"""The buttons of a baby whose pattern and sizes are not surely known."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from inseries.base.findings import Estimate
from inseries.repair.buttons import buttons_of, kink_curvature_per_mm
from inseries.repair.frames import direction
from inseries.repair.landing import Search, search, tether_direction
from inseries.repair.leiden import Pattern, code_on, plausible_readings
from inseries.repair.numbers import number, spread
from inseries.repair.rod import solve_rods

if TYPE_CHECKING:
    from inseries.repair.roots import TwoRoots

# chosen: bounds of the interval that every estimate here gives, per cent of draws
LOW, HIGH = 5.0, 95.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One plausible pattern, its weight, the searches of its buttons, and the code afterwards."""

    pattern: Pattern
    weight: float
    searches: tuple[Search, ...]
    code_after: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """What a measured spread makes of one landing: estimates with their 90 % interval."""

    path_mm: Estimate
    stretch_pct: Estimate
    rotation_deg: Estimate
    kink_index: Estimate
    kinks: float


def readings(
    code: str, certainty: str | None, roots: TwoRoots, *, intramural: bool = False
) -> tuple[Reading, ...]:
    """Every plausible reading of a coronary pattern with the best places of its buttons.

    Parameters
    ----------
    code : str, Leiden code as stated
    certainty : str or None, as in the case file
    roots : TwoRoots
    intramural : bool

    Returns
    -------
    tuple of Reading, the stated one first. Readings less likely than one in fifty are left out;
    the weights of the others sum to what they are, not to one
    """
    return tuple(
        _reading(pattern, weight, roots, intramural=intramural)
        for pattern, weight in plausible_readings(code, certainty)
        if weight >= number("least_weight")
    )


def _reading(pattern: Pattern, weight: float, roots: TwoRoots, *, intramural: bool) -> Reading:
    found = tuple(
        search(button, roots) for button in buttons_of(pattern, roots, intramural=intramural)
    )
    places = {name: each.best.angle_deg for each in found for name in each.button.arteries}
    after = code_on(roots.pulmonary, roots.aortic.centre_mm, places)
    return Reading(pattern=pattern, weight=weight, searches=found, code_after=after)


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


def spread_of(found: Search, roots: TwoRoots, *, draws: int, seed: int) -> Spread:
    """A landing kept where it is, while angle, height, calibre and freed length are as uncertain as measured.

    Parameters
    ----------
    found : Search
    roots : TwoRoots
    draws : int, at least 2
    seed : int, of the Philox generator
    """  # noqa: E501
    button, best = found.button, found.best
    noise = np.random.Generator(np.random.Philox(seed)).standard_normal((5, draws))
    angle = button.angle_deg + number("angle_error") * noise[0]
    size = 1.0 + number("size_error") * noise[1]
    ratio = "left_ostium_share" if "L" in button.arteries else "right_ostium_share"
    radius = button.radius_mm * np.maximum(0.5, 1.0 + spread(ratio) / number(ratio) * noise[2])
    free = np.maximum(
        0.5 * button.mobilised_mm, button.mobilised_mm + spread("mobilised") * noise[3]
    )
    leaves = button.leaves_deg + number("angle_error") * noise[4]
    tether = roots.aortic.point_mm(angle) + free[:, None] * direction(leaves)
    start = roots.pulmonary.point_mm(best.angle_deg)
    span = np.stack([*(size[:, None] * (tether - start)).T,
                     np.full(draws, button.height_mm - best.height_mm)], axis=1)  # fmt: skip
    off = best.path_mm[1, :2] - best.path_mm[0, :2]
    rods = solve_rods(
        span_mm=span,
        first=np.tile([*off, 0.0], (draws, 1)),
        last=np.pad(tether_direction(leaves, span), ((0, 0), (0, 1))),
        free_mm=free,
        radius_mm=radius,
        both_sides=False,
    )
    kink = rods.curvature_per_mm / kink_curvature_per_mm(radius)
    return Spread(
        path_mm=_estimate(rods.length_mm, "mm"),
        stretch_pct=_estimate(100.0 * (rods.length_mm / free - 1.0), "%"),
        rotation_deg=_estimate(rods.turn_deg, "deg"),
        kink_index=_estimate(kink, "1"),
        kinks=float((kink > 1.0).mean()),
    )


def _estimate(values: np.ndarray[tuple[int], np.dtype[np.float64]], unit: str) -> Estimate:
    low, middle, high = np.percentile(values, [LOW, 50.0, HIGH])
    return Estimate(value=float(middle), unit=unit, low=float(low), high=float(high))
