"""Where a button lands on the new aorta: every allowed place, the best, and how flat it is."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import combinations_with_replacement
from typing import TYPE_CHECKING

import numpy as np

from inseries.base.errors import RouteNotPossible
from inseries.repair.buttons import FirstCourse
from inseries.repair.frames import TURN, direction, turned
from inseries.repair.numbers import number
from inseries.repair.rod import Rods, solve_rods

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from inseries.repair.buttons import Button
    from inseries.repair.roots import Root, TwoRoots

    Array = NDArray[np.float64]

# chosen: a hundred thousand places: 500 angles by 100 heights by two openings
ANGLES, HEIGHTS = 500, 100
# chosen: places of the rough search that are computed as rods
REFINED = 24
# chosen: a runner-up stands at least this far off
APART_DEG = 12.0
# chosen: points at which the rough curve's bend is looked at
LOOKED_AT = (0.0, 0.25, 0.5, 0.75, 1.0)


class Opening(StrEnum):
    """How the new aorta is opened for a button."""

    PUNCH = "punch"
    FLAP = "hinged flap"


@dataclass(frozen=True, slots=True, kw_only=True)
class Landing:
    """One place for a button on the new aorta, with the course the vessel then takes.

    Parameters
    ----------
    angle_deg, height_mm : float, place on the new aorta, from the front and above the hinge
    opening : Opening
    path_mm : array, shape (points, 3), from the new opening to the tether
    length_mm : float, along the path
    stretch_pct : float, length over the freed length; negative where pressed together
    rotation_deg : float, of the button's upper edge about the vessel's axis
    swing_deg : float, how far the button's face is turned in the section, against the old aorta
    take_off_deg : float, between vessel and wall, 90 at right angles
    kink_index : float, greatest curvature over Brazier's limit
    to_hinge_mm, to_commissure_mm, to_lung_artery_mm : float, distances kept; the last from the
        path to the wall of the lung artery's new root, negative where they would meet
    concerns : tuple of str
    cost : float, what the search makes least
    """

    angle_deg: float
    height_mm: float
    opening: Opening
    path_mm: Array
    length_mm: float
    stretch_pct: float
    rotation_deg: float
    swing_deg: float
    take_off_deg: float
    kink_index: float
    to_hinge_mm: float
    to_commissure_mm: float
    to_lung_artery_mm: float
    concerns: tuple[str, ...]
    cost: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Search:
    """The best place, the next best one elsewhere, and how far one can stray."""

    button: Button
    best: Landing
    runner_up: Landing | None
    flat_deg: float
    flat_mm: float
    tried: int


@dataclass(frozen=True, slots=True)
class Places:
    """Places on the new aorta abreast: angles, heights, openings; each of shape (n,)."""

    angle_deg: Array
    height_mm: Array
    flap: NDArray[np.bool_]


def in_region_of_concern(button: Button, angle_deg: Array) -> NDArray[np.bool_]:
    """Whether a left button would lie between 12 and 1 o'clock on the new aorta.

    The clock is taken as seen from the feet with 12 at the front, as CT shows it: the study was
    one of CT, but its frame was read in an abstract only. Source: ou2013
    """
    turn = turned(angle_deg)
    inside = (turn >= number("concern_left_from")) & (turn <= number("concern_left_to"))
    return inside & ("L" in button.arteries)


def nearness_to_concern(button: Button, angle_deg: Array) -> Array:
    """1 within the region of concern, falling to 0 one error of reading an angle outside it."""
    low, high = number("concern_left_from"), number("concern_left_to")
    off = np.abs(turned(angle_deg - (low + high) / 2.0)) - (high - low) / 2.0
    near = np.clip(1.0 - off / number("angle_error"), 0.0, 1.0)
    return near * float("L" in button.arteries)


def allowed(button: Button, roots: TwoRoots, places: Places) -> NDArray[np.bool_]:
    """Which places are clear of hinge, commissures and the lung artery in front."""
    new, half = roots.pulmonary, button.diameter_mm / 2.0
    below = places.height_mm <= new.junction_mm
    near_commissure = new.to_commissure_mm(places.angle_deg) < number("keep_from_commissure") + half
    clear = _clear_of(roots.aortic, new.point_mm(places.angle_deg))
    return (
        (places.height_mm >= number("keep_from_hinge") + half)
        & (places.height_mm <= new.junction_mm + number("above_junction"))
        & ~(below & near_commissure)
        & (clear >= button.diameter_mm + 2.0 * number("wall"))
    )


def _clear_of(root: Root, points: Array) -> Array:
    """Distance of points, shape (..., 2), from the outside of a root along the line to its centre."""  # noqa: E501
    line = points - root.centre_mm
    angle = np.rad2deg(np.arctan2(line[..., 0], line[..., 1]))
    return np.linalg.norm(line, axis=-1) - root.reach_mm(angle)


def search(button: Button, roots: TwoRoots) -> Search:
    """The best receiving place for a button, over the whole allowed wall.

    Parameters
    ----------
    button : Button
    roots : TwoRoots

    Raises
    ------
    RouteNotPossible, code ``intramural`` where a simple button cannot be cut; ``no_place`` where
    no wall is allowed
    """
    if button.course is FirstCourse.INTRAMURAL:
        raise RouteNotPossible(
            "a coronary that runs in the wall cannot be moved as a simple button",
            code="intramural",
            where=button.name,
            remedy="unroofing or another technique, which is not computed here.",
        )
    angles, heights, rough = _field(button, roots)
    if not np.isfinite(rough).any():
        raise RouteNotPossible(
            "no place on the new aorta is clear of hinge, commissures and lung artery",
            code="no_place",
            where=button.name,
            remedy="larger roots or a smaller opening.",
        )
    found = _refined(button, roots, angles, heights, rough)
    best = found[0]
    rest = [
        other
        for other in found
        if abs(float(turned(other.angle_deg - best.angle_deg))) >= APART_DEG
    ]
    margin = rough.min() + number("flat_margin")
    near = (rough <= margin).any(axis=2)
    return Search(
        button=button,
        best=best,
        runner_up=rest[0] if rest else None,
        flat_deg=float(near.any(axis=1).sum() * TURN / ANGLES),
        flat_mm=float(near.any(axis=0).sum() * (heights[1] - heights[0])),
        tried=rough.size,
    )


def _field(button: Button, roots: TwoRoots) -> tuple[Array, Array, Array]:
    """Rough costs over angles, heights and openings; infinite where a place is not allowed."""
    angles = np.linspace(0.0, TURN, ANGLES, endpoint=False) + roots.pulmonary.commissure_deg
    top = roots.pulmonary.junction_mm + number("above_junction")
    heights = np.linspace(0.0, top, HEIGHTS)
    wall = Places(angles[:, None], heights[None, :], np.zeros((1, 1), dtype=bool))
    fits = allowed(button, roots, wall)
    cost = np.full((ANGLES, HEIGHTS, 2), np.inf)
    at = np.nonzero(fits)
    for flap in (False, True):
        places = Places(angles[at[0]], heights[at[1]], np.full(len(at[0]), flap))
        cost[at[0], at[1], int(flap)] = _rough(button, roots, places)
    return angles, heights, cost


def _ends(button: Button, roots: TwoRoots, places: Places) -> tuple[Array, Array, Array]:
    """From new opening to tether, direction off the wall, and the turn of the opening."""
    new = roots.pulmonary
    start = new.point_mm(places.angle_deg)
    tether = button.tether_mm(roots)
    span = np.concatenate(
        [tether[:2] - start, (tether[2] - places.height_mm)[:, None]], axis=1
    )  # fmt: skip
    normal = new.normal(places.angle_deg)
    most = np.where(places.flap, number("flap_turn"), number("punch_turn"))
    cross = normal[:, 1] * span[:, 0] - normal[:, 0] * span[:, 1]
    along = (normal * span[:, :2]).sum(axis=1)
    turn = np.clip(np.rad2deg(np.arctan2(cross, along)), -most, most)
    base = np.rad2deg(np.arctan2(normal[:, 0], normal[:, 1]))
    return span, direction(base + turn), turn


def tether_direction(leaves_deg: Array, span_mm: Array) -> Array:
    """Direction of the vessel at its tether, shape (n, 2), turned toward its course as it gives.

    Parameters
    ----------
    leaves_deg : array, shape (n,), direction before the move, from the front
    span_mm : array, shape (n, 3), from new opening to tether
    """
    course = np.rad2deg(np.arctan2(span_mm[:, 0], span_mm[:, 1]))
    gives = number("tether_gives")
    return direction(leaves_deg + np.clip(turned(course - leaves_deg), -gives, gives))


def _rough(button: Button, roots: TwoRoots, places: Places) -> Array:
    """Costs by a cubic curve between the ends, a stand-in for the rod."""
    span, off, turn = _ends(button, roots, places)
    chord = np.linalg.norm(span, axis=1)
    reach = np.maximum(chord, button.mobilised_mm)[:, None]
    first = reach * np.pad(off, ((0, 0), (0, 1)))
    last = reach * np.pad(tether_direction(np.array(button.leaves_deg), span), ((0, 0), (0, 1)))
    bend = _greatest_bend(span, first, last)
    stretch = np.maximum(chord / button.mobilised_mm - 1.0, 0.0)
    return _cost(button, places, bend / button.kink_per_mm, stretch, np.zeros_like(turn), turn)


def _greatest_bend(span: Array, first: Array, last: Array) -> Array:
    """Greatest curvature of cubic curves at some of their points, shape (n,), by dot products."""
    pairs = tuple(combinations_with_replacement(range(3), 2))
    ends = (span.T.copy(), first.T.copy(), last.T.copy())
    dots = [(ends[i] * ends[j]).sum(axis=0) for i, j in pairs]

    def dot(one: tuple[float, ...], other: tuple[float, ...]) -> Array:
        total = np.zeros(len(span))
        for (i, j), value in zip(pairs, dots, strict=True):
            both = one[i] * other[j] + (one[j] * other[i] if i != j else 0.0)
            total += both * value
        return total

    bend = np.zeros(len(span))
    for u in LOOKED_AT:
        slope = (6.0 * u * (1.0 - u), (1.0 - u) * (1.0 - 3.0 * u), u * (3.0 * u - 2.0))
        second = (6.0 * (1.0 - 2.0 * u), 6.0 * u - 4.0, 6.0 * u - 2.0)
        square = dot(slope, slope)
        across = square * dot(second, second) - dot(slope, second) ** 2
        bend = np.maximum(bend, np.sqrt(np.maximum(across, 0.0)) / np.maximum(square, 1e-6) ** 1.5)
    return bend


def _cost(
    button: Button, places: Places, kink: Array, stretch: Array, rotation: Array, turn: Array
) -> Array:
    return (
        number("cost_kink") * kink
        + number("cost_stretch") * np.abs(stretch)
        + number("cost_rotation") * np.abs(rotation)
        + number("cost_takeoff") * np.abs(turn)
        + number("cost_flap") * places.flap
        + number("cost_height") * np.abs(places.height_mm - button.height_mm)
        + number("cost_concern") * nearness_to_concern(button, places.angle_deg)
    )


def _refined(
    button: Button, roots: TwoRoots, angles: Array, heights: Array, rough: Array
) -> list[Landing]:
    """The best height and opening of each of the best angles, as rods, the least cost first."""
    flat = rough.reshape(ANGLES, -1)
    pick = flat.argmin(axis=1)
    by_angle = flat.min(axis=1)
    order = _spaced(by_angle)
    height_at, flap_at = np.divmod(pick[order], 2)
    places = Places(angles[order], heights[height_at], flap_at == 1)
    return sorted(landings(button, roots, places), key=lambda landing: landing.cost)


def _spaced(by_angle: Array) -> NDArray[np.int_]:
    """Indices of good angles, the best close together and the rest further apart."""
    good = np.argsort(by_angle, kind="stable")
    good = good[np.isfinite(by_angle[good])]
    close = good[: REFINED * 2 : 2]
    wide = good[:: max(1, len(good) // REFINED)]
    return np.unique(np.concatenate([close, wide]))


def landings(
    button: Button, roots: TwoRoots, places: Places, *, both_sides: bool = True
) -> list[Landing]:
    """Places on the new aorta with the vessel's course as a rod; those that cannot be reached left out."""  # noqa: E501
    span, off, turn = _ends(button, roots, places)
    count = len(places.angle_deg)
    rods = solve_rods(
        span_mm=span,
        first=np.pad(off, ((0, 0), (0, 1))),
        last=np.pad(tether_direction(np.array(button.leaves_deg), span), ((0, 0), (0, 1))),
        free_mm=np.full(count, button.mobilised_mm),
        radius_mm=np.full(count, button.radius_mm),
        both_sides=both_sides,
    )
    kink = rods.curvature_per_mm / button.kink_per_mm
    stretch = rods.length_mm / button.mobilised_mm - 1.0
    cost = _cost(button, places, kink, stretch, rods.turn_deg, turn)
    return [
        _landing(button, roots, places, rods, turn, cost=float(cost[i]), i=i)
        for i in range(count)
        if rods.met[i]
    ]


def _landing(
    button: Button, roots: TwoRoots, places: Places, rods: Rods, turn: Array, *, cost: float, i: int
) -> Landing:
    new, angle = roots.pulmonary, float(turned(places.angle_deg[i]))
    height = float(places.height_mm[i])
    path = rods.path_mm[i] + np.append(new.point_mm(angle), height)
    landing = Landing(
        angle_deg=angle,
        height_mm=height,
        opening=Opening.FLAP if places.flap[i] else Opening.PUNCH,
        path_mm=path,
        length_mm=float(rods.length_mm[i]),
        stretch_pct=100.0 * float(rods.length_mm[i] / button.mobilised_mm - 1.0),
        rotation_deg=float(rods.turn_deg[i]),
        swing_deg=float(turned(angle - button.angle_deg)),
        take_off_deg=TURN / 4.0 - abs(float(turn[i])),
        kink_index=float(rods.curvature_per_mm[i]) / button.kink_per_mm,
        to_hinge_mm=height - button.diameter_mm / 2.0,
        to_commissure_mm=float(new.to_commissure_mm(angle)) - button.diameter_mm / 2.0,
        to_lung_artery_mm=float(_clear_of(roots.aortic, path[:, :2]).min())
        - button.diameter_mm / 2.0,
        concerns=(),
        cost=cost,
    )
    return replace(landing, concerns=_concerns(button, landing))


def _concerns(button: Button, landing: Landing) -> tuple[str, ...]:
    found = {
        "left button in or near 12 to 1 o'clock on the new aorta": bool(
            nearness_to_concern(button, np.array(landing.angle_deg)) > 0.0
        ),
        "bent beyond the limit at which a thin tube kinks": landing.kink_index > 1.0,
        "stretched by more than a tenth": landing.stretch_pct > 10.0,
        "under the lung artery": landing.to_lung_artery_mm < 0.0,
        "all arteries by one button": button.course is FirstCourse.SINGLE,
        "looping first course": button.course is FirstCourse.LOOPING,
    }
    return tuple(words for words, holds in found.items() if holds)
