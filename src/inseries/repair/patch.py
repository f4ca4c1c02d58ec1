"""Patches of the lung artery's root: outlines that can be cut from a flat sheet, and their areas.

A wall with two holes where the buttons were is closed by two pieces, or by one shaped like a pair
of trousers: a waist round the wall above, two legs down into the holes. Walls are cylinders or
cones, which unroll without stretch, so outlines and areas have closed forms.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from inseries.base.errors import RouteNotPossible
from inseries.repair.numbers import number

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

# chosen: points along each straight or round part of an outline; on a cone a straight part bends
PARTS = 61
# chosen: cones closer to a cylinder than this are unrolled as one
NEARLY_FLAT = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    """A cylinder, or a cone that widens or narrows upward, mm.

    Parameters
    ----------
    lower_mm, upper_mm : float, diameters at the foot of the waist and at its top
    height_mm : float, between them, along the wall
    """

    lower_mm: float
    upper_mm: float
    height_mm: float

    @property
    def slope(self) -> float:
        """Change of radius per length along the wall, 1."""
        return (self.upper_mm - self.lower_mm) / (2.0 * self.height_mm)

    def unrolled(self, arc_mm: Array, along_mm: Array) -> Array:
        """Points of the wall on a flat sheet, shape (n, 2), mm.

        Parameters
        ----------
        arc_mm : array, along the girth, measured at the foot
        along_mm : array, upward along the wall from the foot
        """
        if abs(self.slope) < NEARLY_FLAT:
            return np.stack([arc_mm, along_mm], axis=-1)
        apex = self.lower_mm / (2.0 * self.slope)
        angle = arc_mm / apex
        far = apex + along_mm
        return np.stack([far * np.sin(angle), far * np.cos(angle) - apex], axis=-1)

    def area_mm2(self, arc_mm: float, low_mm: float, high_mm: float) -> float:
        """Area of a strip of the wall between two heights, closed form, mm²."""
        apex_free = (high_mm**2 - low_mm**2) * self.slope / self.lower_mm
        return arc_mm * (high_mm - low_mm + apex_free)


@dataclass(frozen=True, slots=True, kw_only=True)
class Patch:
    """A flat piece to be cut.

    Parameters
    ----------
    name : str
    outline_mm : array, shape (n, 2), closed, the seam allowance included
    stitch_mm : array, shape (n, 2), closed, the line of the suture
    area_mm2, cut_mm2 : float, within the suture line, and of the whole piece
    girth_mm : float, arc of wall that the patch makes up where it is widest
    inner_seam_mm : float or None, allowance between the legs of one piece, where there is less room
    """

    name: str
    outline_mm: Array
    stitch_mm: Array
    area_mm2: float
    cut_mm2: float
    girth_mm: float
    inner_seam_mm: float | None = None


def missing_share(diameter_mm: float, widths_mm: tuple[float, ...]) -> float:
    """Share of a root's girth that was cut away with buttons, 1.

    Raises
    ------
    RouteNotPossible, code ``buttons_too_wide``
    """
    share = sum(widths_mm) / (np.pi * diameter_mm)
    if not 0.0 <= share < 1.0:
        raise RouteNotPossible(
            "the buttons are wider than the root's girth",
            code="buttons_too_wide",
            where="buttons",
            value=sum(widths_mm),
            unit="mm",
            remedy="narrower buttons or a larger root.",
        )
    return float(share)


def legs(wall: Wall, widths_mm: tuple[float, ...], depth_mm: float) -> tuple[Patch, ...]:
    """Separate pieces, one for each hole: straight sides and a round end, as cut from a flat sheet.

    Parameters
    ----------
    wall : Wall, of which the holes are taken to be flat: they are narrow
    widths_mm : tuple of float, width of each hole
    depth_mm : float, from the cut edge down to the round end, at least half of each width

    Raises
    ------
    RouteNotPossible, code ``buttons_too_wide`` or ``hole_shallow``
    """
    missing_share(wall.lower_mm, widths_mm)
    _deep_enough(widths_mm, depth_mm)
    return tuple(_leg(f"piece {i}", width, depth_mm) for i, width in enumerate(widths_mm, 1))


def _deep_enough(widths_mm: tuple[float, ...], depth_mm: float) -> None:
    if depth_mm < max(widths_mm) / 2.0 or min(widths_mm) <= 0.0:
        raise RouteNotPossible(
            "a hole with a round end is at least half as deep as it is wide",
            code="hole_shallow",
            where="depth of the holes",
            value=depth_mm,
            unit="mm",
            remedy="the depth from the cut edge to the round end, and widths above 0.",
        )


def _leg(name: str, width: float, depth: float) -> Patch:
    seam = number("seam")
    return Patch(
        name=name,
        outline_mm=_closed(_u_shape(0.0, width + 2.0 * seam, depth + seam, seam)),
        stitch_mm=_closed(_u_shape(0.0, width, depth, 0.0)),
        area_mm2=u_area_mm2(width, depth),
        cut_mm2=u_area_mm2(width + 2.0 * seam, depth + 2.0 * seam),
        girth_mm=width,
    )


def u_area_mm2(width_mm: float, depth_mm: float) -> float:
    """Area of a rectangle that ends in a half circle, closed form, mm²."""
    return width_mm * (depth_mm - width_mm / 2.0) + np.pi * width_mm**2 / 8.0


def _u_shape(middle: float, width: float, depth: float, top: float) -> Array:
    """Down one side, round the end, up the other; shape (n, 2), from the left top."""
    radius = width / 2.0
    turn = np.linspace(np.pi, 2.0 * np.pi, PARTS)
    foot = np.stack([middle + radius * np.cos(turn), radius - depth + radius * np.sin(turn)], 1)
    left = _line((middle - radius, top), (middle - radius, radius - depth))
    right = _line((middle + radius, radius - depth), (middle + radius, top))
    return np.concatenate([left, foot[1:-1], right])


def _line(start: tuple[float, float], end: tuple[float, float]) -> Array:
    share = np.linspace(0.0, 1.0, PARTS)[:, None]
    return np.array(start) * (1.0 - share) + np.array(end) * share


def _closed(points: Array) -> Array:
    return np.concatenate([points, points[:1]])


def trousers(
    wall: Wall, widths_mm: tuple[float, float], depth_mm: float, bridge_mm: float
) -> Patch:
    """One piece: a waist as high as the wall and two legs, unrolled from cylinder or cone.

    Parameters
    ----------
    wall : Wall, the waist; the legs hang from its foot and are part of the same cone
    widths_mm : two floats, widths of the holes
    depth_mm : float, of the holes
    bridge_mm : float, wall left between the holes; where it has no room for two seams, the
        allowance between the legs is what it leaves beside a cut

    Raises
    ------
    RouteNotPossible, code ``buttons_too_wide``, ``hole_shallow``, ``bridge_narrow``
    """
    girth = sum(widths_mm) + bridge_mm
    missing_share(wall.lower_mm, (*widths_mm, bridge_mm))
    _deep_enough(widths_mm, depth_mm)
    seam = number("seam")
    inner = min(seam, (bridge_mm - number("slit")) / 2.0)
    if inner < number("least_seam"):
        raise RouteNotPossible(
            "legs and their seams would overlap",
            code="bridge_narrow",
            where="wall between the holes",
            value=bridge_mm,
            unit="mm",
            remedy=f"{2.0 * number('least_seam') + number('slit'):g} mm or more, or two pieces.",
        )
    stitch = _trousers(wall, widths_mm, depth_mm, bridge_mm, 0.0, 0.0)
    outline = _trousers(wall, widths_mm, depth_mm, bridge_mm, seam, inner)
    return Patch(
        name="one piece",
        outline_mm=outline,
        stitch_mm=stitch,
        area_mm2=trousers_mm2(wall, widths_mm, depth_mm, bridge_mm),
        cut_mm2=polygon_mm2(outline),
        girth_mm=girth,
        inner_seam_mm=inner,
    )


def trousers_mm2(
    wall: Wall, widths_mm: tuple[float, float], depth_mm: float, bridge_mm: float
) -> float:
    """Area of one piece within its suture, closed form, mm²; arguments as of ``trousers``."""
    waist = wall.area_mm2(sum(widths_mm) + bridge_mm, 0.0, wall.height_mm)
    return waist + sum(_leg_area(wall, width, depth_mm) for width in widths_mm)


def _leg_area(wall: Wall, width: float, depth: float) -> float:
    """Area of a leg below the foot on the cone, closed form: a strip and a half disc's moment."""
    radius = width / 2.0
    straight = wall.area_mm2(width, radius - depth, 0.0)
    middle = radius - depth - 4.0 * radius / (3.0 * np.pi)
    per_arc = 1.0 + 2.0 * wall.slope * middle / wall.lower_mm
    return float(straight + np.pi * radius**2 / 2.0 * per_arc)


def _trousers(
    wall: Wall,
    widths: tuple[float, float],
    depth: float,
    bridge: float,
    seam: float,
    inner_seam: float,
) -> Array:
    half = (sum(widths) + bridge) / 2.0
    off = (seam - inner_seam) / 2.0
    left, right = -half + widths[0] / 2.0 - off, half - widths[1] / 2.0 + off
    wide = [width + seam + inner_seam for width in widths]
    crotch, top = -inner_seam, wall.height_mm + seam
    first = _u_shape(left, wide[0], depth + seam, crotch)
    second = _u_shape(right, wide[1], depth + seam, crotch)
    inner = _line((left + wide[0] / 2.0, crotch), (right - wide[1] / 2.0, crotch))
    up = _line((half + seam, crotch), (half + seam, top))
    over = _line((half + seam, top), (-half - seam, top))
    down = _line((-half - seam, top), (-half - seam, crotch))
    flat = np.concatenate([first, inner[1:-1], second, up[1:], over[1:], down[1:]])
    return _closed(wall.unrolled(flat[:, 0], flat[:, 1]))


def polygon_mm2(outline_mm: Array) -> float:
    """Area within a closed outline, mm², by the shoelace rule."""
    x, y = outline_mm[:-1].T
    return float(abs(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2.0)
