"""Thin lines in the window picture: the survivable chance under each growth law by itself."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import hypot
from typing import TYPE_CHECKING

from inseries.draw.lettering import text_width
from inseries.draw.svg import Sheet, through
from inseries.draw.window_frame import SMALL

if TYPE_CHECKING:
    from inseries.draw.axes import Axis
    from inseries.draw.views import LawLine, WindowView

    Points = list[tuple[float, float]]

# chosen: dark of the survivable tier; dots and dashes tell the laws apart
COLOUR = "#22365c"
DASHES = ("1.5 4", "7 3 1.5 3")
# chosen: thinner than the mean of all
THIN = 1.5
# chosen: distances of a name from its line that are tried, and of names from the ends of the field
AWAY, EDGE = (6.0, 12.0, 20.0), 6.0
# chosen: a point of a line under a name counts so many units of distance from the widest place
UNDER = 60.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Box:
    """The field of one name."""

    left: float
    top: float
    width: float
    height: float

    def holds(self, x: float, y: float) -> bool:
        return self.left <= x <= self.left + self.width and self.top <= y <= self.top + self.height

    def distance(self, line: Points) -> float:
        """How near a line comes, to its points."""
        beside = (
            (max(self.left - x, 0.0, x - self.left - self.width),
             max(self.top - y, 0.0, y - self.top - self.height))
            for x, y in line
        )  # fmt: skip
        return min(hypot(dx, dy) for dx, dy in beside)

    def meets(self, other: _Box) -> bool:
        beside = self.left + self.width < other.left or other.left + other.width < self.left
        apart = self.top + self.height < other.top or other.top + other.height < self.top
        return not (beside or apart)


def law_lines(sheet: Sheet, view: WindowView, ages: Axis, chances: Axis) -> None:
    """Draws every law's line and writes its name beside it, over no line where that can be.

    Parameters
    ----------
    sheet : Sheet
    view : WindowView, whose laws may be none
    ages, chances : the axes of the curve
    """
    lines = [_points(view, law.chance, ages, chances) for law in view.laws]
    others = [_points(view, tier.chance, ages, chances) for tier in view.tiers]
    for dashes, law, line in zip(DASHES, view.laws, lines, strict=False):
        sheet.add(
            "path",
            id=sheet.id(f"law-{law.name.replace(' ', '-')}"),
            d=through(line),
            fill="none",
            stroke=COLOUR,
            stroke_width=THIN,
            stroke_dasharray=dashes,
            stroke_linecap="round",
        )
    placed: list[_Box] = []
    for law, line in zip(view.laws, lines, strict=True):
        box = _best(law, line, [*lines, *others], placed, ages, chances)
        placed.append(box)
        _name(sheet, law, box, line)


def _points(view: WindowView, values: tuple[float, ...], ages: Axis, chances: Axis) -> Points:
    return [(ages.at(d), chances.at(c)) for d, c in zip(view.days, values, strict=True)]


def _best(
    law: LawLine, own: Points, all_lines: list[Points], placed: list[_Box], ages: Axis,
    chances: Axis,
) -> _Box:  # fmt: skip
    """The field near a law's own line that covers no line and lies nearest to its own."""
    fields = _fields(law, own, ages, chances)
    free = [box for box in fields if not any(box.meets(other) for other in placed)]
    fine = [_finer(line) for line in all_lines]
    mine = _finer(own)
    middle = 0.5 * (own[0][0] + own[-1][0])

    def cost(box: _Box) -> float:
        covered = sum(box.holds(x, y) for line in fine for x, y in line)
        near = box.distance(mine)
        strange = sum(box.distance(line) < near for line in fine)
        aside = 0.2 * abs(box.left + 0.5 * box.width - middle)
        return UNDER * (covered + strange) + 2.0 * near + aside

    return min(free or fields, key=cost)


def _fields(law: LawLine, own: Points, ages: Axis, chances: Axis) -> list[_Box]:
    """Fields above and below a line and to either side, all along it, inside the axes."""
    wide, high = text_width(law.name, SMALL, "Italic") + 6, SMALL + 4
    low, far = max(ages.start, own[0][0]) + EDGE, ages.end - EDGE - wide
    found = [
        _Box(left=left, top=top, width=wide, height=high)
        for x, y in own
        for left in (x, x - 0.5 * wide, x - wide)
        for away in AWAY
        for top in (y - away - high, y + away)
        if low <= left <= far and chances.end < top < chances.start - high
    ]
    return found or [_Box(left=low, top=chances.end + 1, width=wide, height=high)]


def _finer(line: Points) -> Points:
    """A line's points and the middles between them."""
    middles = [(0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1])) for a, b in pairwise(line)]
    return [*line, *middles]


def _name(sheet: Sheet, law: LawLine, box: _Box, line: Points) -> None:
    """The name on white, and a hair from it to the nearest place of its line."""
    x, y = min(_finer(line), key=lambda point: box.distance([point]))
    at = (
        min(max(x, box.left), box.left + box.width),
        min(max(y, box.top), box.top + box.height),
    )
    sheet.add("line", x1=at[0], y1=at[1], x2=x, y2=y, stroke=COLOUR, stroke_width=0.9)
    sheet.add("circle", cx=x, cy=y, r=2.4, fill=COLOUR)
    sheet.add(
        "rect",
        x=box.left,
        y=box.top,
        width=box.width,
        height=box.height,
        fill="#ffffff",
        fill_opacity=0.85,
        rx=2,
    )
    sheet.text(
        box.left + 3, box.top + SMALL - 0.5, law.name, size=SMALL, face="Italic", fill=COLOUR
    )
