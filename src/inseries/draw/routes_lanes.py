"""The routes: five lanes on one axis of age, and beneath them what was published, apart.

Each lane has a ribbon of left ventricular mass, a strip of saturation with its numbers, and a sign
of its own for each thing done; a stamp says in words whether the route is possible.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from inseries.draw.axes import Axis, value_ticks
from inseries.draw.colour import ink_on, saturation_colour
from inseries.draw.grips import axis_grip, mark_grip
from inseries.draw.lettering import text_width, wrapped
from inseries.draw.routes_axis import FoldedAxis
from inseries.draw.routes_signs import sign
from inseries.draw.routes_strips import strips
from inseries.draw.routes_view import check_routes, spoken
from inseries.draw.svg import INK, PALE, QUIET, RULE, Sheet, number, path, through

if TYPE_CHECKING:
    from inseries.draw.routes_view import Lane, RoutesView

WIDTH = 1024.0  # chosen: 170 mm on paper, 1024 px on a screen
MARGIN = 24.0  # chosen: free edge
LEFT, RIGHT = 284.0, 800.0  # chosen: ends of the axis of age
BESIDE = 818.0  # chosen: where the chance is written
SMALL = 14.0  # chosen: small text, 6.6 pt at 170 mm
LINE = 18.0  # chosen: line height of small text
HEAD = 34.0  # chosen: of a lane, for its signs
FIELD = 62.0  # chosen: height of the ribbon
STRIP = 19.0  # chosen: height of the strip of saturation
LEAST_LANE = HEAD + FIELD + STRIP + 26.0  # derived: all parts and a free edge
STAMPS = {"possible": "none", "not possible": "5 3", "not shown": "1.5 3"}
SIGNS = ("band", "switch", "conditioning", "atrial switch")
MASS = "#22365c"  # chosen: ink of the ribbon
# chosen: numbers of saturation stand at least so far apart, and need so much room, drawing units
NUMBERS_APART, NUMBER = 62.0, 44.0
GREAT_CHANGE = 10.0  # chosen: points of saturation that need a number of their own


def routes_svg(view: RoutesView) -> str:
    """The routes as SVG.

    Parameters
    ----------
    view : RoutesView with lanes and published strips

    Returns
    -------
    str, one SVG file, 1024 drawing units wide, meant for 170 mm on paper

    Raises
    ------
    OutputError, if nothing published stands beside, lengths differ or a number is not finite
    """
    check_routes(view)
    sheet = Sheet(view.figure_id, WIDTH)
    ages = FoldedAxis(
        first=view.today_day, fold=view.fold_day, last=view.last_day, start=LEFT, end=RIGHT
    )
    y = _heading(sheet, view)
    y = _key(sheet, y)
    y = _ages(sheet, ages, y)
    top = y
    ticks = _mass_ticks(view)
    for lane in view.lanes:
        y = _lane(sheet, lane, ages, ticks, y)
    x = ages.at(view.today_day)
    sheet.add("line", x1=x, y1=top, x2=x, y2=y, stroke=INK, stroke_dasharray="1 4")
    near = [(ages.at(day), day) for day in (view.today_day, view.fold_day)]
    axis_grip(sheet, "age", near, (top, y), unit="d", value=view.today_day)
    y = strips(sheet, view.strips, y + 14, WIDTH, MARGIN)
    sheet.underlay("rect", x=0, y=0, width=WIDTH, height=y, fill="#ffffff")
    return sheet.finish(y, view.title, spoken(view))


def _heading(sheet: Sheet, view: RoutesView) -> float:
    sheet.text(MARGIN, 40, view.title, size=22, face="Bold")
    lines = wrapped(view.sentence, 16, WIDTH - 2 * MARGIN)
    for row, words in enumerate(lines):
        sheet.text(MARGIN, 66 + 21 * row, words, size=16, fill=QUIET)
    return 62.0 + 21 * len(lines) + 24


def _key(sheet: Sheet, y: float) -> float:
    """What the signs, the ribbon and the strip mean."""
    words = "Simulated for this baby"
    sheet.text(MARGIN, y, words, size=15, face="Bold")
    at = MARGIN + text_width(words, 15, "Bold") + 12
    rest = (
        "line and field: LV mass, g/m² on the echo scale, with 90 % interval; strip: saturation "
        "of the right hand, %"
    )
    sheet.text(at, y, rest, size=SMALL, fill=QUIET)
    x = MARGIN + 10
    for kind in SIGNS:
        sign(sheet, kind, x, y + 22)
        sheet.text(x + 16, y + 27, kind, size=SMALL)
        x += 16 + text_width(kind, SMALL) + 34
    return y + 38


def _ages(sheet: Sheet, ages: FoldedAxis, y: float) -> float:
    sheet.text(MARGIN, y + 20, "age: days, then months on a closer scale", size=SMALL, fill=QUIET)
    for day, label in ages.labels():
        sheet.text(ages.at(day), y + 20, label, size=SMALL, anchor="middle")
    return y + 28


def _mass_ticks(view: RoutesView) -> tuple[float, ...]:
    lows = [value for lane in view.lanes for value in lane.mass_low]
    highs = [value for lane in view.lanes for value in lane.mass_high]
    if not lows:
        return (0.0, 1.0)
    return value_ticks(min(lows), max(highs), about=3)


def _lane(
    sheet: Sheet, lane: Lane, ages: FoldedAxis, ticks: tuple[float, ...], top: float
) -> float:
    """One lane; gives where it ends."""
    sheet.open_group(f"lane-{lane.name.replace(' ', '-').replace(',', '')}")
    sheet.add("line", x1=MARGIN, y1=top, x2=WIDTH - MARGIN, y2=top, stroke=QUIET, stroke_width=1)
    left = _words(sheet, lane, top)
    right = _chance(sheet, lane, top)
    _events(sheet, lane, ages, top + 17)
    field = top + HEAD
    if len(lane.days) >= 2:
        masses = Axis(low=ticks[0], high=ticks[-1], start=field + FIELD, end=field)
        _grid(sheet, ages, masses, ticks)
        _ribbon(sheet, lane, ages, masses)
        _saturation(sheet, lane, ages, field + FIELD + 4)
        low = top + LEAST_LANE
    else:
        low = _note(sheet, lane, field)
    sheet.close_group()
    return max(left, right, low)


def _words(sheet: Sheet, lane: Lane, top: float) -> float:
    """Name, stamp and reason on the left."""
    sheet.text(MARGIN, top + 22, lane.name, size=16, face="Bold")
    wide = text_width(lane.standing, SMALL, "Bold") + 14
    shown = lane.standing == "possible"
    sheet.add(
        "rect",
        x=MARGIN,
        y=top + 30,
        width=wide,
        height=20,
        rx=3,
        fill=INK if shown else "#ffffff",
        stroke=INK,
        stroke_width=1.3,
        stroke_dasharray=STAMPS[lane.standing],
    )
    colour = "#ffffff" if shown else INK
    sheet.text(MARGIN + 7, top + 45, lane.standing, size=SMALL, face="Bold", fill=colour)
    lines = wrapped(lane.why, SMALL, LEFT - MARGIN - 52)
    for row, words in enumerate(lines):
        sheet.text(MARGIN, top + 69 + LINE * row, words, size=SMALL, fill=QUIET)
    return top + 69 + LINE * len(lines)


def _chance(sheet: Sheet, lane: Lane, top: float) -> float:
    """Each tier or reason: its name, then the rest beneath."""
    y = top + 22
    for line in lane.chance_lines:
        name, _, rest = line.partition(":")
        room = WIDTH - MARGIN - BESIDE
        heads = wrapped(name, SMALL, room, "Bold")
        for words in heads:
            sheet.text(BESIDE, y, words, size=SMALL, face="Bold")
            y += LINE
        for words in wrapped(rest.strip(), SMALL, room) if rest.strip() else ():
            sheet.text(BESIDE, y, words, size=SMALL)
            y += LINE
        y += 3
    return y - 2


def _events(sheet: Sheet, lane: Lane, ages: FoldedAxis, y: float) -> None:
    """Signs with their labels; a label that would meet the next sign keeps its first words."""
    places = [ages.at(event.day) for event in lane.events]
    for i, event in enumerate(lane.events):
        x = places[i]
        sign(sheet, event.sign, x, y)
        mark_grip(sheet, f"{lane.name}/{event.sign}", (x, y), event.day)
        room = places[i + 1] - 14 - (x + 15) if i + 1 < len(places) else WIDTH
        label = event.label if text_width(event.label, SMALL) <= room else event.sign
        wide = text_width(label, SMALL)
        if wide > room:
            continue
        beside = x + 15 + wide <= RIGHT + 10
        at = x + 15 if beside else x - 15
        sheet.text(at, y + 5, label, size=SMALL, anchor="start" if beside else "end")


def _grid(sheet: Sheet, ages: FoldedAxis, masses: Axis, ticks: tuple[float, ...]) -> None:
    for tick in ticks:
        y = masses.at(tick)
        sheet.add("line", x1=ages.start, y1=y, x2=ages.end, y2=y, stroke=RULE, stroke_width=0.7)
        sheet.text(ages.start - 8, y + 5, number(tick), size=SMALL, fill=QUIET, anchor="end")
    if ages.last > ages.fold:
        for x in (ages.before_end + 4, ages.after_start - 4):
            slant = path("M", x - 3, masses.start + 6, "L", x + 3, masses.end - 6)
            sheet.add("path", d=slant, fill="none", stroke=QUIET, stroke_width=1)


def _sides(lane: Lane, ages: FoldedAxis) -> list[list[tuple[float, int]]]:
    """Places and indices of a lane's days, before the fold and after it; the fold is on both."""
    near = [(ages.at(day), i) for i, day in enumerate(lane.days) if day <= ages.fold]
    far = [(ages.at(day), i) for i, day in enumerate(lane.days) if day > ages.fold]
    if near and far:
        far = [(ages.after_start, near[-1][1]), *far]
    return [near, far]


def _ribbon(sheet: Sheet, lane: Lane, ages: FoldedAxis, masses: Axis) -> None:
    """The interval and the line, in one piece before the fold and one after it."""
    for side in _sides(lane, ages):
        if len(side) < 2:
            continue
        upper = [(x, masses.at(lane.mass_high[i])) for x, i in side]
        lower = [(x, masses.at(lane.mass_low[i])) for x, i in side]
        outline = through([*upper, *reversed(lower)]) + " Z"
        sheet.add("path", d=outline, fill=MASS, fill_opacity=0.16)
        course = through([(x, masses.at(lane.mass[i])) for x, i in side])
        sheet.add("path", d=course, fill="none", stroke=MASS, stroke_width=2.4)


def _saturation(sheet: Sheet, lane: Lane, ages: FoldedAxis, y: float) -> None:
    """The strip: each piece in the colour of its saturation, numbers where there is room."""
    for side in _sides(lane, ages):
        free = side[0][0] if side else 0.0
        for (x, i), (end, _) in pairwise(side):
            pct = lane.saturation_pct[i]
            colour = saturation_colour(pct)
            sheet.add("rect", x=x, y=y, width=end - x + 0.3, height=STRIP, fill=colour)
        for place, (x, i) in enumerate(side[:-1]):
            fresh = place > 0 and _jump(lane, side[place - 1][1], i)
            if (x >= free or fresh) and _room(lane, side, place) >= NUMBER:
                _number(sheet, lane.saturation_pct[i], x + 5, y)
                free = x + NUMBERS_APART


def _room(lane: Lane, side: list[tuple[float, int]], place: int) -> float:
    """How far a colour goes on with little change from one place of a strip."""
    x, first = side[place]
    ends = [end for end, i in side[place + 1 :] if _jump(lane, first, i)]
    return (ends[0] if ends else side[-1][0]) - x


def _jump(lane: Lane, one: int, other: int) -> bool:
    return abs(lane.saturation_pct[one] - lane.saturation_pct[other]) > GREAT_CHANGE


def _number(sheet: Sheet, pct: float, x: float, y: float) -> None:
    sheet.text(x, y + 14, f"{pct:.0f} %", size=SMALL, face="Bold", fill=ink_on(pct))


def _note(sheet: Sheet, lane: Lane, y: float) -> float:
    lines = wrapped(lane.note or "Not computed.", SMALL, RIGHT - LEFT - 24)
    height = LINE * len(lines) + 16
    sheet.add("rect", x=LEFT, y=y, width=RIGHT - LEFT, height=height, fill=PALE, rx=3)
    for row, words in enumerate(lines):
        sheet.text(LEFT + 12, y + 21 + LINE * row, words, size=SMALL)
    return y + height + 12
