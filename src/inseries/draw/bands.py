"""Outlines of ribbon pieces: straight, tapering, bent, swerving, and arrows."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise
from math import cos, hypot, radians, sin

from inseries.draw.colour import saturation_colour
from inseries.draw.svg import INK, Sheet, path, through

THINNEST = 1.6  # chosen: drawn width of a flow too small to see, drawing units
LAP = 1.0  # chosen: pieces overlap their neighbours by this much, so that no seam shows
STOPS = 8  # chosen: colour stops of a gradient, so that it follows the curved scale
ROUNDED = {"stroke_linejoin": "round"}
SAMPLES = 40  # chosen: points along a swerve


@dataclass(slots=True)
class Ribbon:
    """Pieces that belong together: one outline around all, then each filled."""

    pieces: list[tuple[str, str]] = field(default_factory=list[tuple[str, str]])

    def lay(self, outline: str, paint: str) -> None:
        """Adds one piece."""
        self.pieces.append((outline, paint))

    def draw(self, sheet: Sheet) -> None:
        """Draws the outline of the union, then the fills."""
        for outline, _ in self.pieces:
            sheet.add("path", d=outline, fill=INK, stroke=INK, stroke_width=1.4, **ROUNDED)
        for outline, paint in self.pieces:
            sheet.add("path", d=outline, fill=paint)


def thick(width: float) -> float:
    """The width as drawn: never thinner than can be seen."""
    return max(THINNEST, width)


def blend(
    sheet: Sheet, name: str, start: tuple[float, float], end: tuple[float, float], *, pct: Pcts
) -> str:
    """Paint that runs from one saturation to another between two points."""
    if abs(pct[0] - pct[1]) < 0.05:
        return saturation_colour(pct[0])
    stops = "".join(
        f'<stop offset="{i / STOPS:g}" '
        f'stop-color="{saturation_colour(pct[0] + (pct[1] - pct[0]) * i / STOPS)}"/>'
        for i in range(STOPS + 1)
    )
    return sheet.define(
        "linearGradient",
        name,
        stops,
        gradientUnits="userSpaceOnUse",
        x1=start[0],
        y1=start[1],
        x2=end[0],
        y2=end[1],
    )


Pcts = tuple[float, float]
Edges = tuple[float, float]


def edges(centre: float, width: float) -> Edges:
    """Left and right (or upper and lower) edge of a ribbon about its centre."""
    half = thick(width) / 2
    return centre - half, centre + half


def box(left: float, top: float, right: float, bottom: float) -> str:
    """A straight piece."""
    return path("M", left, top, "H", right, "V", bottom, "H", left, "Z")


def taper(top: float, bottom: float, above: Edges, below: Edges) -> str:
    """A vertical piece whose edges glide from one pair of places to another."""
    top, bottom = top - LAP, bottom + LAP
    mid = (top + bottom) / 2
    return path(
        *("M", above[0], top, "L", above[1], top),
        *("C", above[1], mid, below[1], mid, below[1], bottom),
        *("L", below[0], bottom),
        *("C", below[0], mid, above[0], mid, above[0], top, "Z"),
    )


def bend(centre: tuple[float, float], inner: float, outer: float, quarter: int) -> str:
    """A quarter of a ring; quarter 0 lies south-east, 1 south-west, 2 north-west, 3 north-east."""
    x, y = centre
    inner = max(0.0, inner)
    start, end = radians(90 * quarter), radians(90 * quarter + 90)
    return path(
        *("M", x + outer * cos(start), y + outer * sin(start)),
        *("A", outer, outer, 0, 0, 1, x + outer * cos(end), y + outer * sin(end)),
        *("L", x + inner * cos(end), y + inner * sin(end)),
        *("A", inner, inner, 0, 0, 0, x + inner * cos(start), y + inner * sin(start), "Z"),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Swerve:
    """A ribbon that leaves downward, crosses over and arrives downward."""

    outline: str
    sides: tuple[str, str]
    casing: str

    def draw(self, sheet: Sheet, paint: str) -> None:
        """Draws it above what lies below, with a white gap beside it and open ends."""
        sheet.add("path", d=self.casing, fill="#ffffff", stroke="#ffffff", stroke_width=11)
        for side in self.sides:
            sheet.add("path", d=side, fill="none", stroke=INK, stroke_width=1.4)
        sheet.add("path", d=self.outline, fill=paint)


def swerve(
    start: tuple[float, float], end: tuple[float, float], widths: tuple[float, float]
) -> Swerve:
    """A swerve from one point to another, with its width at both ends."""
    left: list[tuple[float, float]] = []
    right: list[tuple[float, float]] = []
    for i in range(SAMPLES + 1):
        x, y, nx, ny = _on_swerve(start, end, i / SAMPLES)
        half = thick(widths[0] + (widths[1] - widths[0]) * i / SAMPLES) / 2
        left.append((x + nx * half, y + ny * half))
        right.append((x - nx * half, y - ny * half))
    cut = slice(SAMPLES // 8, SAMPLES - SAMPLES // 8 + 1)
    return Swerve(
        outline=through([*left, *reversed(right)]) + " Z",
        sides=(through(left), through(right)),
        casing=through([*left[cut], *reversed(right[cut])]) + " Z",
    )


def _on_swerve(
    start: tuple[float, float], end: tuple[float, float], t: float
) -> tuple[float, float, float, float]:
    """Point and unit normal on a cubic with vertical ends."""
    reach = (end[1] - start[1]) * 0.55
    xs = (start[0], start[0], end[0], end[0])
    ys = (start[1], start[1] + reach, end[1] - reach, end[1])
    weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t**2 * (1 - t), t**3)
    slopes = (3 * (1 - t) ** 2, 6 * t * (1 - t), 3 * t**2)
    x = sum(w * v for w, v in zip(weights, xs, strict=True))
    y = sum(w * v for w, v in zip(weights, ys, strict=True))
    dx = sum(s * (b - a) for s, (a, b) in zip(slopes, pairwise(xs), strict=True))
    dy = sum(s * (b - a) for s, (a, b) in zip(slopes, pairwise(ys), strict=True))
    length = hypot(dx, dy)
    return x, y, dy / length, -dx / length


def arrow(tail: float, tip: float, y: float, width: float) -> str:
    """A horizontal arrow whose shaft is as wide as its flow; the head stands out a little."""
    half = thick(width) / 2
    sign = 1 if tip > tail else -1
    wing = half + 6
    neck = tip - sign * (wing * 0.9 + 3)
    return path(
        *("M", tail, y - half, "L", neck, y - half, "L", neck, y - wing, "L", tip, y),
        *("L", neck, y + wing, "L", neck, y + half, "L", tail, y + half, "Z"),
    )
