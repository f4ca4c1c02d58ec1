"""Coronary buttons: where they sit, how their first course runs, where it is tethered."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

import numpy as np

from inseries.base.errors import RouteNotPossible
from inseries.repair.frames import TURN, direction, turned
from inseries.repair.numbers import number
from inseries.repair.roots import SINUS_DEG

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from inseries.repair.leiden import Pattern
    from inseries.repair.roots import TwoRoots

OWN_SIDE = {"L": "own_side_left", "Cx": "own_side_circumflex", "R": "own_side_right"}


def kink_curvature_per_mm(radius_mm: NDArray[np.float64]) -> NDArray[np.float64]:
    """Curvature at which a bent thin tube under inner pressure flattens and gives way, 1/mm.

    Without pressure Brazier's (√2/3)·h/(r²√(1-ν²)). Flattening also drives fluid out: pressure
    adds p* = 4(1-ν²)·p·r³/(E·h³) of the ring's stiffness, and the limit rises by √(1 + p*).

    Parameters
    ----------
    radius_mm : array, middle radius of the tube

    Source: brazier1927; the part of pressure is derived in ``docs/physics/repair.md``
    """
    wall, round_off = number("wall"), 1.0 - number("poisson") ** 2
    pressure = number("coronary_pressure") / number("coronary_modulus")
    held = 4.0 * round_off * pressure * (radius_mm / wall) ** 3
    return np.sqrt(2.0) / 3.0 * wall / (radius_mm**2 * np.sqrt(round_off)) * np.sqrt(1.0 + held)


class FirstCourse(StrEnum):
    """How the first millimetres of a coronary run."""

    USUAL = "usual"
    LOOPING = "looping"
    INTRAMURAL = "intramural"
    SINGLE = "single"


@dataclass(frozen=True, slots=True, kw_only=True)
class Button:
    """A coronary opening with its rim, to be moved from the old aorta to the new.

    Parameters
    ----------
    arteries : tuple of str, those that leave by it, the one that leads the course first
    angle_deg, height_mm : float, of the opening on the aortic root: from the front, positive to
        the patient's left; above the hinge
    diameter_mm : float, inner
    course : FirstCourse
    leaves_deg : float, direction of the vessel where it is tethered
    mobilised_mm : float, length freed from the opening to the tether
    """

    arteries: tuple[str, ...]
    angle_deg: float
    height_mm: float
    diameter_mm: float
    course: FirstCourse
    leaves_deg: float
    mobilised_mm: float

    @property
    def name(self) -> str:
        """The arteries together, such as ``LCx``."""
        return "".join(artery for artery in ("R", "L", "Cx") if artery in self.arteries)

    @property
    def radius_mm(self) -> float:
        """Middle radius of the tube: inner radius and half the wall, mm."""
        return (self.diameter_mm + number("wall")) / 2.0

    @property
    def kink_per_mm(self) -> float:
        """Brazier's curvature at which a thin tube under pressure gives way, 1/mm."""
        return float(kink_curvature_per_mm(np.array(self.radius_mm)))

    def tether_mm(self, roots: TwoRoots) -> NDArray[np.float64]:
        """Where the vessel stops being free, shape (3,), mm."""
        start = roots.aortic.point_mm(self.angle_deg)
        end = start + self.mobilised_mm * direction(self.leaves_deg)
        return np.array([end[0], end[1], self.height_mm])


def buttons_of(
    pattern: Pattern,
    roots: TwoRoots,
    *,
    intramural: bool = False,
    mobilised_mm: float | None = None,
    height_mm: float | None = None,
) -> tuple[Button, ...]:
    """The buttons of a pattern in the middle of their sinuses, with usual sizes.

    Parameters
    ----------
    pattern : Pattern
    roots : TwoRoots
    intramural : bool, whether the left artery's first course runs in the wall
    mobilised_mm, height_mm : float, freed length, height above the hinge; usual where None

    Returns
    -------
    tuple of Button, one per sinus that bears an artery; sizes are chosen or a healthy child's
    (coronary_annulus2003), not measured on this baby
    """
    facing = roots.aortic.commissure_deg
    held = ((pattern.sinus_1, -SINUS_DEG / 2.0), (pattern.sinus_2, SINUS_DEG / 2.0))
    return tuple(
        button(
            tuple(name for name in ("L", "R", "Cx") if name in arteries),
            roots,
            angle_deg=float(turned(facing + away)),
            intramural=intramural and "L" in arteries,
            mobilised_mm=mobilised_mm,
            height_mm=height_mm,
        )
        for arteries, away in held
        if arteries
    )


def button(
    arteries: tuple[str, ...],
    roots: TwoRoots,
    *,
    angle_deg: float,
    diameter_mm: float | None = None,
    intramural: bool = False,
    mobilised_mm: float | None = None,
    height_mm: float | None = None,
) -> Button:
    """One button at an angle; what is not given is usual.

    Raises
    ------
    RouteNotPossible, code ``outside_sinus``, where the opening lies in no facing sinus or not
    between the hinge and the highest opening that is known
    """
    root = roots.aortic
    junction = root.junction_mm
    height = number("ostium_height_share") * junction if height_mm is None else height_mm
    away = abs(float(turned(angle_deg - root.commissure_deg)))
    if away > SINUS_DEG or not 0.0 < height <= junction + number("above_junction"):
        raise RouteNotPossible(
            "this coronary opening lies in no facing sinus of the aorta",
            code="outside_sinus",
            where="coronary opening",
            value=f"{angle_deg:.0f} deg, {height:.1f} mm above the hinge",
            remedy="an angle within the two sinuses that face the other root, above the hinge.",
        )
    lead = _lead(arteries, angle_deg)
    share = number("left_ostium_share" if "L" in arteries else "right_ostium_share")
    course, leaves = _course(lead, angle_deg, intramural=intramural, single=len(arteries) == 3)
    usual = share * 2.0 * root.short_mm * ANNULUS_SHARE
    return Button(
        arteries=(lead, *(name for name in arteries if name != lead)),
        angle_deg=angle_deg,
        height_mm=height,
        diameter_mm=usual if diameter_mm is None else diameter_mm,
        course=course,
        leaves_deg=leaves,
        mobilised_mm=number("mobilised") if mobilised_mm is None else mobilised_mm,
    )


# published: lopez2017
ANNULUS_SHARE = 14.8 / 20.6


def _lead(arteries: tuple[str, ...], angle_deg: float) -> str:
    """The artery whose own side lies nearest to the opening: the stem runs there first."""
    return min(arteries, key=lambda name: _off(name, angle_deg))


def _off(name: str, angle_deg: float) -> float:
    return abs(float(turned(number(OWN_SIDE[name]) - angle_deg)))


def _course(
    lead: str, angle_deg: float, *, intramural: bool, single: bool
) -> tuple[FirstCourse, float]:
    wanted = float(turned(number(OWN_SIDE[lead]) - angle_deg))
    looping = abs(wanted) > number("looping_from")
    most = number("looping_turn" if looping else "usual_turn")
    if intramural:
        most = TURN / 4.0
    leaves = float(turned(angle_deg + np.clip(wanted, -most, most)))
    if intramural:
        return FirstCourse.INTRAMURAL, leaves
    if single:
        return FirstCourse.SINGLE, leaves
    return (FirstCourse.LOOPING if looping else FirstCourse.USUAL), leaves
