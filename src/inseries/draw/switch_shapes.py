"""Round vessels and pieces of their wall in millimetres, seen from one side without perspective.

A tube's outline is exact where it is straight: the circles of its ends and the two lines that
touch them. Lengths across the page keep one scale; those in depth are shortened alike everywhere.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import cos, dist, hypot, pi, radians, sin
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from inseries.draw.switch_view import Point, SwitchRoot

Page = tuple[float, float]
# chosen: points of half a rim
HALF = 14
# chosen: shares of a root's height: full width begins, ends
WIDE_FROM, WIDE_TO = 0.3, 0.8


@dataclass(frozen=True, slots=True)
class Camera:
    """From where it is seen, and where that lies on the sheet.

    Parameters
    ----------
    above_deg : float, above the front of the chest; 90 is straight from the head
    scale : float, drawing units per millimetre across the page
    left, top : float, where the middle of the new aorta's hinge lies on the sheet
    """

    above_deg: float
    scale: float
    left: float
    top: float

    @property
    def toward(self) -> Point:
        """Unit vector toward whoever looks."""
        up = radians(self.above_deg)
        return 0.0, cos(up), sin(up)

    def at(self, point: Point) -> Page:
        """Where a point lies on the sheet."""
        _, y, z = self.toward
        across, high = point[0], point[2] * y - point[1] * z
        return self.left + self.scale * across, self.top - self.scale * high

    def near(self, point: Point) -> float:
        """How near a point is, mm; what is nearer covers what is further."""
        return dot(point, self.toward)


def dot(a: Point, b: Point) -> float:
    """Inner product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Point, b: Point) -> Point:
    """Outer product."""
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def along(a: Point, b: Point, share: float) -> Point:
    """A point on the line from one to another, or beyond."""
    return (
        a[0] + share * (b[0] - a[0]),
        a[1] + share * (b[1] - a[1]),
        a[2] + share * (b[2] - a[2]),
    )


def moved(a: Point, b: Point, factor: float = 1.0) -> Point:
    """The first shifted by so much of the second."""
    return a[0] + factor * b[0], a[1] + factor * b[1], a[2] + factor * b[2]


def unit(a: Point) -> Point:
    """The direction alone."""
    far = hypot(*a)
    return a[0] / far, a[1] / far, a[2] / far


def facing(angle_deg: float) -> Point:
    """Direction of an angle from the front, level."""
    turn = radians(angle_deg)
    return sin(turn), cos(turn), 0.0


# --- tubes --------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Ring:
    """One cross-section: centre, radius, direction of the vessel, rightmost and nearest side."""

    centre: Point
    radius: float
    tangent: Point
    right: Point
    near: Point

    def at(self, turn: float) -> Point:
        """A point of the rim: 0 at its right side, a quarter turn at its near one."""
        level = moved(self.centre, self.right, self.radius * cos(turn))
        return moved(level, self.near, self.radius * sin(turn))


@dataclass(frozen=True, slots=True)
class Tube:
    """A vessel as cross-sections from one end to the other."""

    rings: tuple[Ring, ...]
    toward: Point

    def opens(self, end: int) -> bool:
        """Whether one looks into the first (0) or the last (-1) end."""
        lean = dot(self.rings[end].tangent, self.toward)
        return lean < 0.0 if end == 0 else lean > 0.0

    def outline(self) -> list[Point]:
        """The whole of what it covers: both sides, and the outer half of either rim."""
        right = [ring.at(0.0) for ring in self.rings]
        left = [ring.at(pi) for ring in reversed(self.rings)]
        return [*right, *self._cap(-1), *left, *self._cap(0)]

    def _cap(self, end: int) -> list[Point]:
        """The half of a rim that bulges away from the tube, from right to left; first end back."""
        side = -1.0 if self.opens(end) else 1.0
        half = [self.rings[end].at(side * pi * i / HALF) for i in range(1, HALF)]
        return half if end else half[::-1]

    def rim(self, end: int) -> list[Point]:
        """The whole rim of an end."""
        ring = self.rings[end]
        return [ring.at(2.0 * pi * i / (2 * HALF)) for i in range(2 * HALF + 1)]

    def half_ring(self, place: float, side: float = 1.0) -> list[Point]:
        """The nearer half of a cross-section, at a place counted in rings; -1: the further one."""
        i = min(int(place), len(self.rings) - 2)
        share = place - i
        one, other = self.rings[i], self.rings[i + 1]
        turns = [side * pi * k / HALF for k in range(HALF + 1)]
        return [along(one.at(t), other.at(t), share) for t in turns]

    def length_mm(self) -> float:
        """Along its middle."""
        return sum(dist(a.centre, b.centre) for a, b in pairwise(self.rings))


def tube(camera: Camera, spine: Sequence[Point], diameters_mm: Sequence[float]) -> Tube:
    """A vessel along a line through its middle."""
    rings: list[Ring] = []
    last = len(spine) - 1
    for i, centre in enumerate(spine):
        before, after = spine[max(0, i - 1)], spine[min(last, i + 1)]
        tangent = unit(moved(after, before, -1.0))
        across = cross(camera.toward, tangent)
        right = unit(across) if hypot(*across) > FLAT else (1.0, 0.0, 0.0)
        near = cross(tangent, right)
        rings.append(Ring(centre, diameters_mm[i] / 2.0, tangent, right, near))
    return Tube(tuple(rings), camera.toward)


# chosen: a vessel that points so exactly at the eye has no right side of its own
FLAT = 1e-6


def curve(a: Point, b: Point, c: Point, d: Point, points: int) -> list[Point]:
    """A smooth line from the first to the last point, led by the two between (Bézier)."""
    found: list[Point] = []
    for i in range(points):
        t = i / (points - 1)
        ab, bc, cd = along(a, b, t), along(b, c, t), along(c, d, t)
        found.append(along(along(ab, bc, t), along(bc, cd, t), t))
    return found


def hull(places: Sequence[Page]) -> list[Page]:
    """The places that a band round all of them would touch, in order."""
    ordered = sorted(set(places))
    return [*_side(ordered), *_side(ordered[::-1])]


def _side(ordered: Sequence[Page]) -> list[Page]:
    kept: list[Page] = []
    for x, y in ordered:
        while len(kept) > 1 and _turn(kept[-2], kept[-1], (x, y)) <= 0.0:
            kept.pop()
        kept.append((x, y))
    return kept[:-1]


def _turn(a: Page, b: Page, c: Page) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


# --- roots and pieces of their wall -------------------------------------------------------------


def root_radius_mm(root: SwitchRoot, height_mm: float) -> float:
    """Radius of a root's wall at a height: hinge, sinuses, junction."""
    share = height_mm / root.height_mm
    hinge, wide, end = root.hinge_mm / 2.0, root.sinus_mm / 2.0, root.end_mm / 2.0
    if share < WIDE_FROM:
        return hinge + (wide - hinge) * eased(share / WIDE_FROM)
    return wide + (end - wide) * eased((share - WIDE_TO) / (1.0 - WIDE_TO))


def eased(share: float) -> float:
    """From 0 to 1 without a jerk at either end; held beyond."""
    t = min(1.0, max(0.0, share))
    return t * t * (3.0 - 2.0 * t)


def root_tube(camera: Camera, root: SwitchRoot) -> Tube:
    """A root from its hinge to its junction."""
    heights = [root.height_mm * i / (ROOT_RINGS - 1) for i in range(ROOT_RINGS)]
    spine: list[Point] = [(root.x_mm, root.y_mm, z) for z in heights]
    return tube(camera, spine, [2.0 * root_radius_mm(root, z) for z in heights])


# chosen: cross-sections of a root
ROOT_RINGS = 15


def on_wall(root: SwitchRoot, angle_deg: float, height_mm: float) -> Point:
    """A point of a root's wall."""
    far = root_radius_mm(root, height_mm)
    x, y, _ = facing(angle_deg)
    return root.x_mm + far * x, root.y_mm + far * y, height_mm


def u_shape(width_mm: float, above_mm: float, below_mm: float) -> list[Page]:
    """Outline of a piece cut from an edge: straight sides, a round end below; about its opening."""
    half = width_mm / 2.0
    straight = half - below_mm
    bend = [
        (half * cos(pi * i / HALF), straight - half * sin(pi * i / HALF)) for i in range(HALF + 1)
    ]
    side = [(half, above_mm + (straight - above_mm) * i / SIDES) for i in range(SIDES)]
    edge = [(half * (2.0 * i / SIDES - 1.0), above_mm) for i in range(SIDES)]
    return [*side, *bend, *((-x, h) for x, h in reversed(side)), *edge[1:], side[0]]


# chosen: parts of a straight side
SIDES = 6
