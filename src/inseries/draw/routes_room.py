"""The routes large enough for a room: what is done when, and the chance; published series apart.

Two lines are two loops, one thick line is one ring; a sign of its own stands for each thing done.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.draw.lettering import shortened, text_width, wrapped
from inseries.draw.routes_axis import FoldedAxis
from inseries.draw.routes_signs import sign
from inseries.draw.routes_strips import strips
from inseries.draw.routes_view import check_routes, spoken
from inseries.draw.svg import INK, QUIET, RULE, Sheet

if TYPE_CHECKING:
    from inseries.draw.routes_view import Lane, RoutesView

WIDE, HIGH = 960.0, 500.0  # chosen: drawing units, as every picture of the story
EDGE = 10.0  # chosen: free edge
TRACK, CHANCE = (204.0, 650.0), 672.0  # chosen: ends of the track, where the chance is written
TOP, FOOT = 34.0, 34.0  # chosen: room for ages above and for the key beneath
NAME, SMALL, LINE = 19.0, 16.0, 19.0  # chosen: letters and line height
LINES = 4  # chosen: lines of a chance or a reason, at most
APART, RING = 2.5, 7.0  # chosen: half the distance of two loops, how thick one ring is
JOINS = ("switch", "atrial switch", "conditioning")


def routes_room_svg(view: RoutesView) -> str:
    """The simulated part: five rows.

    Parameters
    ----------
    view : RoutesView

    Returns
    -------
    str, one SVG file

    Raises
    ------
    OutputError, as ``routes_svg``
    """
    check_routes(view)
    sheet = Sheet("ways", WIDE)
    sheet.add("rect", x=0, y=0, width=WIDE, height=HIGH, fill="#ffffff")
    ages = FoldedAxis(
        first=view.today_day, fold=view.fold_day, last=view.last_day, start=TRACK[0], end=TRACK[1]
    )
    sheet.text(EDGE, 22.0, "age in days, then months", size=SMALL, fill=QUIET)
    for day, label in _labels(ages):
        sheet.text(ages.at(day), 22.0, label, size=SMALL, anchor="middle")
    high = (HIGH - TOP - FOOT) / len(view.lanes)
    for place, lane in enumerate(view.lanes):
        _row(sheet, lane, ages, (TOP + high * place, high))
    _key(sheet)
    return sheet.finish(HIGH, view.title, spoken(view))


def published_room_svg(view: RoutesView) -> str:
    """The published part alone, on a sheet of its own.

    Parameters
    ----------
    view : RoutesView

    Returns
    -------
    str, one SVG file
    """
    check_routes(view)
    sheet = Sheet("ways-published", PAPER)
    high = strips(sheet, view.strips, 0.0, PAPER, EDGE)
    return sheet.finish(high, "Published, other babies", spoken(view))


# derived: the width for which the strips are laid out
PAPER = 1024.0


def _labels(ages: FoldedAxis) -> list[tuple[float, str]]:
    """Ages whose words do not meet those before."""
    kept: list[tuple[float, str]] = []
    free = 0.0
    for day, words in ages.labels():
        half = text_width(words, SMALL) / 2.0
        if ages.at(day) - half >= free:
            kept.append((day, words))
            free = ages.at(day) + half + 6.0
    return kept


def _row(sheet: Sheet, lane: Lane, ages: FoldedAxis, place: tuple[float, float]) -> None:
    top, high = place
    sheet.add("line", x1=0, y1=top, x2=WIDE, y2=top, stroke=RULE)
    names = wrapped(lane.name, NAME, TRACK[0] - 24.0 - EDGE, "Bold")
    for i, words in enumerate(names):
        sheet.text(EDGE, top + 24.0 + 22.0 * i, words, size=NAME, face="Bold")
    y = top + 24.0 + 22.0 * len(names)
    sheet.text(EDGE, y, lane.standing, size=SMALL, fill=QUIET)
    _track(sheet, lane, ages, top + high / 2.0)
    if lane.standing != "possible":
        reason = shortened(lane.why, SMALL, TRACK[1] - TRACK[0])
        sheet.text(TRACK[0], top + high - 8.0, reason, size=SMALL)
    _chance(sheet, lane, top)


def _chance(sheet: Sheet, lane: Lane, top: float) -> None:
    """The chance of each tier, or why there is none; shortened where there are too many lines."""
    room = WIDE - EDGE - CHANCE
    lines = [words for line in lane.chance_lines for words in wrapped(line, SMALL, room)]
    if len(lines) > LINES:
        lines[LINES - 1] = shortened(" ".join(lines[LINES - 1 :]), SMALL, room)
    for i, words in enumerate(lines[:LINES]):
        sheet.text(CHANCE, top + 21.0 + LINE * i, words, size=SMALL)


def _track(sheet: Sheet, lane: Lane, ages: FoldedAxis, y: float) -> None:
    """Two loops until they are joined, one ring from then on; what is done stands on it."""
    done = [event.day for event in lane.events if event.sign in JOINS]
    joined = ages.at(done[-1]) if done else ages.end
    looks: dict[str, str] = {"stroke": INK}
    if lane.standing != "possible":
        looks = {"stroke": QUIET, "stroke_dasharray": "7 5"}
    _loops(sheet, (ages.start, joined), y, looks)
    if done:
        sheet.add("line", x1=joined, y1=y, x2=ages.end, y2=y, stroke_width=RING, **looks)
    for i, event in enumerate(lane.events):
        x = ages.at(event.day)
        sheet.add("circle", cx=x, cy=y, r=15, fill="#ffffff", stroke=INK, stroke_width=1.5)
        sign(sheet, event.sign, x, y)
        start = min(max(x - 14.0, TRACK[0]), TRACK[1] - text_width(event.label, SMALL))
        sheet.text(start, y + (31.0 if i % 2 else -20.0), event.label, size=SMALL)


def _loops(sheet: Sheet, sides: tuple[float, float], y: float, looks: dict[str, str]) -> None:
    for up in (-APART, APART):
        sheet.add("line", x1=sides[0], y1=y + up, x2=sides[1], y2=y + up, stroke_width=2, **looks)


def _key(sheet: Sheet) -> None:
    y = HIGH - 10.0
    sheet.add("line", x1=0, y1=HIGH - FOOT, x2=WIDE, y2=HIGH - FOOT, stroke=RULE)
    _loops(sheet, (EDGE, 44.0), y - 6.0, {"stroke": INK})
    sheet.text(52.0, y, "two loops", size=SMALL)
    sheet.add("line", x1=150, y1=y - 6, x2=184, y2=y - 6, stroke=INK, stroke_width=RING)
    sheet.text(192.0, y, "one ring", size=SMALL)
    words = "Simulated for this baby to one year; no route is recommended."
    sheet.text(WIDE - EDGE, y, words, size=SMALL, fill=QUIET, anchor="end")
