"""The frame of every millimetre here, and the pages it can be seen on.

A horizontal section: x toward the patient's left, y toward the front, z toward the head. An angle
counts from the front, positive toward the patient's left. Seen from the feet, as a CT section is
shown, the front is at the top and the patient's left on the reader's right, so that an angle of
30 degrees is one o'clock. Seen from the head, with the front still at the top, the patient's left
is on the reader's left: the same angle is eleven o'clock.
"""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

# derived: a clock has twelve hours
DEGREES_PER_HOUR = 30.0
# derived: the whole turn
TURN = 360.0


class SeenFrom(StrEnum):
    """From where a section is looked at; the front of the chest is always at the top."""

    FEET = "feet"
    HEAD = "head"

    @property
    def words(self) -> str:
        """The viewpoint as a sentence for a page."""
        side = "right" if self is SeenFrom.FEET else "left"
        as_ct = ", as a CT section is shown" if self is SeenFrom.FEET else ""
        return (
            f"Seen from the {self.value}{as_ct}: front of the chest at the top, "
            f"the patient's left on the reader's {side}."
        )


def direction(angle_deg: ArrayLike) -> NDArray[np.float64]:
    """Unit vectors of angles from the front, shape (..., 2): to the left, to the front."""
    angle = np.deg2rad(np.asarray(angle_deg, dtype=np.float64))
    return np.stack([np.sin(angle), np.cos(angle)], axis=-1)


def angle_of(vector: ArrayLike) -> NDArray[np.float64]:
    """Angle from the front of vectors of shape (..., 2), degrees in [-180, 180)."""
    array = np.asarray(vector, dtype=np.float64)
    return turned(np.rad2deg(np.arctan2(array[..., 0], array[..., 1])))


def turned(angle_deg: ArrayLike) -> NDArray[np.float64]:
    """The same angle in [-180, 180)."""
    half = TURN / 2.0
    return (np.asarray(angle_deg, dtype=np.float64) + half) % TURN - half


def on_page(points_mm: ArrayLike, seen_from: SeenFrom) -> NDArray[np.float64]:
    """Points of the section on a page, shape (..., 2), mm: to the reader's right, upward."""
    points = np.array(points_mm, dtype=np.float64)
    if seen_from is SeenFrom.HEAD:
        points[..., 0] = -points[..., 0]
    return points


def clock_hour(angle_deg: float, seen_from: SeenFrom) -> float:
    """Hour on a clock face whose twelve is the front, in [0, 12)."""
    sign = 1.0 if seen_from is SeenFrom.FEET else -1.0
    return float(sign * angle_deg % TURN) / DEGREES_PER_HOUR
