"""The two roots as circles or ellipses: where they lie, their sinuses and commissures."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from inseries.base.errors import RouteNotPossible
from inseries.repair.frames import TURN, angle_of, direction, turned
from inseries.repair.numbers import number

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

# derived: three cusps
SINUS_DEG = TURN / 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Root:
    """One arterial root in the section at the level of its sinuses.

    Parameters
    ----------
    x_mm, y_mm : float, centre, toward the patient's left and the front
    long_mm, short_mm : float, half axes of the ellipse; equal on a circle
    tilt_deg : float, angle of the long axis from the front
    commissure_deg : float, angle of the commissure that faces the other root; the others stand
        a third of a turn away
    junction_mm : float, height of the sinotubular junction above the hinge
    """

    x_mm: float
    y_mm: float
    long_mm: float
    short_mm: float
    tilt_deg: float = 0.0
    commissure_deg: float
    junction_mm: float

    @property
    def centre_mm(self) -> NDArray[np.float64]:
        """Centre, shape (2,), mm."""
        return np.array([self.x_mm, self.y_mm])

    @property
    def commissures_deg(self) -> tuple[float, float, float]:
        """Angles of the three commissures, the facing one first, degrees."""
        first = self.commissure_deg
        both = turned([first + SINUS_DEG, first - SINUS_DEG])
        return first, float(both[0]), float(both[1])

    def reach_mm(self, angle_deg: ArrayLike) -> NDArray[np.float64]:
        """Distance from the centre to the wall at angles, mm."""
        delta = np.deg2rad(np.asarray(angle_deg, dtype=np.float64) - self.tilt_deg)
        a, b = self.long_mm, self.short_mm
        return a * b / np.hypot(b * np.cos(delta), a * np.sin(delta))

    def point_mm(self, angle_deg: ArrayLike) -> NDArray[np.float64]:
        """Points of the wall at angles, shape (..., 2), mm."""
        return self.centre_mm + self.reach_mm(angle_deg)[..., None] * direction(angle_deg)

    def normal(self, angle_deg: ArrayLike) -> NDArray[np.float64]:
        """Outward unit normals of the wall at angles, shape (..., 2)."""
        delta = np.deg2rad(np.asarray(angle_deg, dtype=np.float64) - self.tilt_deg)
        slope = np.arctan2(np.sin(delta) / self.short_mm**2, np.cos(delta) / self.long_mm**2)
        return direction(np.rad2deg(slope) + self.tilt_deg)

    def to_commissure_mm(self, angle_deg: ArrayLike) -> NDArray[np.float64]:
        """Arc along the wall to the nearest commissure, mm, by the reach at the angle."""
        angle = np.asarray(angle_deg, dtype=np.float64)
        away = np.abs(turned(angle[..., None] - np.array(self.commissures_deg))).min(axis=-1)
        return self.reach_mm(angle) * np.deg2rad(away)


@dataclass(frozen=True, slots=True, kw_only=True)
class TwoRoots:
    """The aortic root and the pulmonary root, which is to become the aorta's."""

    aortic: Root
    pulmonary: Root

    @property
    def relation_deg(self) -> float:
        """Where the aorta lies: 0 in front, positive toward the patient's right, degrees."""
        return -float(angle_of(self.aortic.centre_mm - self.pulmonary.centre_mm))

    @property
    def gap_mm(self) -> float:
        """Least distance between the walls, by circles of the reach along the line of centres."""
        line = self.aortic.centre_mm - self.pulmonary.centre_mm
        angle = float(angle_of(line))
        taken = self.pulmonary.reach_mm(angle) + self.aortic.reach_mm(angle + TURN / 2.0)
        return float(np.hypot(*line) - taken)


def two_roots(
    *,
    aortic_mm: float,
    pulmonary_mm: float,
    relation_deg: float,
    gap_mm: float | None = None,
    misaligned_deg: float = 0.0,
) -> TwoRoots:
    """Two round roots beside one another, the pulmonary one at the origin.

    Parameters
    ----------
    aortic_mm, pulmonary_mm : float, inner diameters at the sinuses, mm
    relation_deg : float, where the aorta lies: 0 in front, positive to the right, 90 side by side
    gap_mm : float, between the walls, mm; a usual one where None
    misaligned_deg : float, how far the aorta's facing commissure is turned from the other's

    Raises
    ------
    RouteNotPossible, code ``root_size`` or ``roots_overlap``
    """
    for name, size in (("aortic root", aortic_mm), ("pulmonary root", pulmonary_mm)):
        if not size > 0.0:
            raise RouteNotPossible(
                "a root has a diameter",
                code="root_size",
                where=name,
                value=size,
                unit="mm",
                remedy="its inner diameter at the sinuses.",
            )
    gap = number("gap_between_roots") if gap_mm is None else gap_mm
    if not gap >= 0.0:
        raise RouteNotPossible(
            "the two roots overlap",
            code="roots_overlap",
            where="gap between the roots",
            value=gap,
            unit="mm",
            remedy="a gap of 0 mm or more, or smaller roots.",
        )
    distance = aortic_mm / 2.0 + pulmonary_mm / 2.0 + gap
    centre = distance * direction(-relation_deg)
    pulmonary = _round_root(np.zeros(2), pulmonary_mm, -relation_deg)
    aortic = _round_root(centre, aortic_mm, TURN / 2.0 - relation_deg + misaligned_deg)
    return TwoRoots(aortic=aortic, pulmonary=pulmonary)


def _round_root(centre: NDArray[np.float64], diameter_mm: float, facing_deg: float) -> Root:
    return Root(
        x_mm=float(centre[0]),
        y_mm=float(centre[1]),
        long_mm=diameter_mm / 2.0,
        short_mm=diameter_mm / 2.0,
        commissure_deg=float(turned(facing_deg)),
        junction_mm=number("sinus_height_share") * diameter_mm,
    )
