"""Two ends of different size, and how the difference can be taken up."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from inseries.base.errors import RouteNotPossible
from inseries.repair.numbers import number


@dataclass(frozen=True, slots=True, kw_only=True)
class Mismatch:
    """The surplus of the larger end and the ways to take it up.

    Parameters
    ----------
    ratio : float, larger end over smaller, 1
    surplus_mm : float, circumference by which the larger exceeds the smaller
    oblique_deg : float, cut of the smaller end that takes up all, 90 or less; what is sensible is
        at most ``sensible_deg``
    gather : float, spacing of stitches on the larger over the smaller end where all is gathered
    inset_mm : float, circumference that buttons let into the smaller end would add
    left_mm : float, surplus left after a sensible oblique cut and sensible gathering: a dart
    dart_deg : float, opening angle of one dart as deep as the larger end's radius that takes it
    """

    ratio: float
    surplus_mm: float
    oblique_deg: float
    sensible_deg: float
    gather: float
    inset_mm: float
    left_mm: float
    dart_deg: float


def mismatch(upper_mm: float, lower_mm: float, *, buttons: int = 0) -> Mismatch:
    """Size mismatch of two round ends, diameters in mm.

    Parameters
    ----------
    upper_mm, lower_mm : float, inner diameters of the ends to be joined
    buttons : int, buttons let into the smaller end that widen it

    Raises
    ------
    RouteNotPossible, code ``end_size``
    """
    small, large = sorted((upper_mm, lower_mm))
    if not small > 0.0 or not np.isfinite(large):
        raise RouteNotPossible(
            "an end to be joined has a diameter",
            code="end_size",
            where="ends to be joined",
            value=small,
            unit="mm",
            remedy="inner diameters in mm.",
        )
    sensible = number("greatest_oblique")
    inset = buttons * number("button_inset_share") * 2.0 * number("rim")
    wide = (ellipse_mm(small, sensible) + inset) * number("greatest_gather")
    left = max(0.0, np.pi * large - wide)
    return Mismatch(
        ratio=large / small,
        surplus_mm=np.pi * (large - small),
        oblique_deg=_oblique(small, large),
        sensible_deg=sensible,
        gather=large / small,
        inset_mm=inset,
        left_mm=left,
        dart_deg=float(np.rad2deg(2.0 * np.arctan2(left / 2.0, large / 2.0))),
    )


def ellipse_mm(diameter_mm: float, oblique_deg: float) -> float:
    """Circumference of a tube's end cut obliquely, mm, by the trapezium rule on a closed curve."""
    angle = np.linspace(0.0, 2.0 * np.pi, EDGES, endpoint=False)
    slope = np.tan(np.deg2rad(oblique_deg)) * np.sin(angle)
    return float(np.pi * diameter_mm * np.sqrt(1.0 + slope**2).mean())


# chosen: points round an end; the rule gains digits with each on a closed curve
EDGES = 720
# chosen: halvings of the search for an angle
HALVINGS = 50


def _oblique(small: float, large: float) -> float:
    low, high = 0.0, 89.9
    for _ in range(HALVINGS):
        middle = (low + high) / 2.0
        if ellipse_mm(small, middle) < np.pi * large:
            low = middle
        else:
            high = middle
    return low
