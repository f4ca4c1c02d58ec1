"""A band from its hour on: small pictures of pressure, function, wall, oxygen and readiness.

Time runs as its square root, so that the first hours and the fourth week are both seen.
"""

from __future__ import annotations

from math import sqrt
from typing import TYPE_CHECKING

from inseries.base.errors import OutputError
from inseries.draw.axes import Axis, value_ticks
from inseries.draw.grips import along, axis_grip
from inseries.draw.lettering import shortened, text_width, wrapped
from inseries.draw.svg import INK, PALE, QUIET, RULE, Sheet, number, through
from inseries.draw.window_curve import in_fives

if TYPE_CHECKING:
    from inseries.draw.band_view import BandLine, BandView

WIDTH = 1024.0  # chosen: drawing units; 170 mm on paper, 1024 px on a screen
MARGIN = 24.0  # chosen: free edge
ACROSS = 3  # chosen: pictures in a row
FIELD = 150.0  # chosen: height of one curve's field
LABELS = 52.0  # chosen: room left of a field for its numbers
BEFORE = 26.0  # chosen: room for the value before the band
BLOCK = FIELD + 92.0  # derived: a field with its name above and its times below
SMALL = 14.0  # chosen: small text, 6.6 pt at 170 mm
# chosen: times that are named below a field, days after the band
TICKS = ((0.5, "12 h"), (3.5, "3½ d"), (7.0, "7 d"), (14.0, "14 d"), (28.0, "28 d"))
BAR = "#22365c"  # chosen: share of the draws that is ready; its height says it too


def band_svg(view: BandView) -> str:
    """The course after a band as SVG.

    Parameters
    ----------
    view : BandView, with at least two days

    Returns
    -------
    str, one SVG file, 1024 drawing units wide

    Raises
    ------
    OutputError, if lengths differ or a number is not finite
    """
    check_band(view)
    sheet = Sheet(view.figure_id, WIDTH)
    heading = wrapped(view.sentence, 16, WIDTH - 2 * MARGIN)
    top = 84 + 21 * len(heading)
    rows = -(-(len(view.lines) + 1) // ACROSS)
    height = top + rows * BLOCK + 40
    sheet.add("rect", x=0, y=0, width=WIDTH, height=height, fill="#ffffff")
    sheet.text(MARGIN, 40, view.title, size=22, face="Bold")
    for row, words in enumerate(heading):
        sheet.text(MARGIN, 66 + 21 * row, words, size=16, fill=QUIET)
    span = (WIDTH - 2 * MARGIN) / ACROSS
    for i in range(len(view.lines) + 1):
        left = MARGIN + span * (i % ACROSS)
        place = ((left, left + span - 26), top + BLOCK * (i // ACROSS))
        if i < len(view.lines):
            _small(sheet, view, view.lines[i], *place)
        else:
            _readiness(sheet, view, *place)
    _key(sheet, view, height - 16)
    return sheet.finish(height, view.title, spoken(view))


def spoken(view: BandView) -> str:
    """The picture in words, for readers who do not see it."""
    courses = "; ".join(
        f"{line.name} {line.before:.3g} before, {line.value[0]:.3g} just after, "
        f"{line.value[-1]:.3g} {line.unit} after {view.days[-1]:.0f} days"
        for line in view.lines
    )
    return f"{view.sentence} {courses}. {view.ready_text}"


def check_band(view: BandView) -> None:
    """Refuses a course whose lines and days do not fit."""
    rows = [row for line in view.lines for row in (line.value, line.low, line.high)]
    if len(view.days) < 2 or any(len(row) != len(view.days) for row in rows):
        raise OutputError(
            "the course needs two days or more, and one value for each",
            code="lengths_differ",
            where="draw band",
            remedy="give every line as many values as there are days",
        )


def _times(view: BandView, sides: tuple[float, float]) -> Axis:
    start = sides[0] + LABELS + BEFORE
    return Axis(low=0.0, high=sqrt(view.days[-1]), start=start, end=sides[1])


def _small(
    sheet: Sheet, view: BandView, line: BandLine, sides: tuple[float, float], top: float
) -> None:
    """One quantity: name, value before, interval, course, and what is aimed at."""
    aim = () if line.aim is None else (line.aim,)
    seen = (line.before, *line.value, *aim)
    ticks = value_ticks(min(*line.low, *seen), max(*line.high, *seen))
    field = top + 36
    values = Axis(low=ticks[0], high=ticks[-1], start=field + FIELD, end=field)
    times = _times(view, sides)
    _name(sheet, f"{line.name}, {line.unit}" if line.unit else line.name, sides, top)
    _frame(sheet, times, values, ticks, [number(tick) for tick in ticks])
    at = [times.at(sqrt(day)) for day in view.days]
    upper = [(x, values.at(v)) for x, v in zip(at, line.high, strict=True)]
    lower = [(x, values.at(v)) for x, v in zip(at, line.low, strict=True)]
    sheet.add("path", d=through([*upper, *reversed(lower)]) + " Z", fill=PALE, stroke=RULE)
    if line.aim is not None:
        _aim(sheet, line, times, values)
    course = [(x, values.at(v)) for x, v in zip(at, line.value, strict=True)]
    x, y = times.start - BEFORE / 2, values.at(line.before)
    sheet.add("line", x1=x, y1=y, x2=at[0], y2=course[0][1], stroke=INK, stroke_dasharray="2 3")
    sheet.add("path", d=through(course), fill="none", stroke=INK, stroke_width=2.4)
    box = {"width": 9, "height": 9, "fill": "#ffffff", "stroke": INK, "stroke_width": 1.8}
    sheet.add("rect", x=x - 4.5, y=y - 4.5, **box)
    _marks(sheet, view, times, field)
    if not line.unit and line is view.lines[0]:
        ratio, field = along(values, ticks[0], ticks[-1]), (times.start - BEFORE, times.end)
        axis_grip(sheet, "ratio", ratio, field, unit="", value=line.value[0], runs="up")


def _aim(sheet: Sheet, line: BandLine, times: Axis, values: Axis) -> None:
    """What is asked, named where the course is further away and on the other side of the line."""
    assert line.aim is not None
    y = values.at(line.aim)
    sheet.add(
        "line", x1=times.start, y1=y, x2=times.end, y2=y, stroke=QUIET, stroke_dasharray="7 4"
    )
    words = shortened(line.aim_text, SMALL, times.end - times.start - 4)
    left = abs(line.value[0] - line.aim) > abs(line.value[-1] - line.aim)
    course_over = line.value[0 if left else -1] > line.aim
    under = y + 20 < values.start if course_over else y - 20 <= values.end
    foot = y + 15 if under else y - 5
    width = text_width(words, SMALL)
    x = times.start + 5 if left else times.end - width - 1
    back = {"fill": "#ffffff", "fill_opacity": 0.75}
    sheet.add("rect", x=x - 2, y=foot - 12, width=width + 4, height=15, **back)
    sheet.text(x, foot, words, size=SMALL, fill=QUIET)


def _readiness(sheet: Sheet, view: BandView, sides: tuple[float, float], top: float) -> None:
    """Share of the draws that is ready, by days after the band."""
    field = top + 36
    shares = Axis(low=0.0, high=1.0, start=field + FIELD, end=field)
    times = _times(view, sides)
    _name(sheet, "Ready for stage two, share of draws", sides, top)
    labels = [f"{tick} %" for tick in (0, 50, 100)]
    _frame(sheet, times, shares, (0.0, 0.5, 1.0), labels)
    for day, share in view.ready:
        x, y = times.at(sqrt(day)), shares.at(share)
        sheet.add("rect", x=x - 11, y=y, width=22, height=max(shares.start - y, 0.8), fill=BAR)
        words = in_fives(share).removeprefix("about ").removesuffix(" %")
        words = words.replace("below ", "<").replace("above ", ">")
        sheet.text(x, y - 6, words, size=SMALL, anchor="middle")
    _marks(sheet, view, times, field)


def _name(sheet: Sheet, words: str, sides: tuple[float, float], top: float) -> None:
    sheet.text(sides[0], top + 18, shortened(words, 15, sides[1] - sides[0], "Bold"), size=15,
               face="Bold")  # fmt: skip


def _marks(sheet: Sheet, view: BandView, times: Axis, field: float) -> None:
    """The hour of the band, and of what is done to it later."""
    for day, _ in view.marks:
        x = times.at(sqrt(day))
        sheet.add(
            "line", x1=x, y1=field, x2=x, y2=field + FIELD, stroke=QUIET, stroke_dasharray="1 4"
        )


def _frame(
    sheet: Sheet, times: Axis, values: Axis, ticks: tuple[float, ...], labels: list[str]
) -> None:
    left = times.start - BEFORE
    for tick, words in zip(ticks, labels, strict=True):
        y = values.at(tick)
        sheet.add("line", x1=left, y1=y, x2=times.end, y2=y, stroke=RULE, stroke_width=0.7)
        sheet.text(left - 8, y + 5, words, size=SMALL, fill=QUIET, anchor="end")
    for day, words in TICKS:
        if sqrt(day) <= times.high + 1e-9:
            x, y = times.at(sqrt(day)), values.start
            sheet.add("line", x1=x, y1=y, x2=x, y2=y + 5, stroke=INK, stroke_width=1)
            sheet.text(x, y + 20, words, size=SMALL, anchor="middle")
    sheet.add("line", x1=left, y1=values.start, x2=times.end, y2=values.start, stroke=INK)


def _key(sheet: Sheet, view: BandView, y: float) -> None:
    words = (
        "box: before the band; line: simulated course; grey field: 90 % interval; time runs as "
        "its square root"
    )
    sheet.text(MARGIN, y - 18, words, size=SMALL, fill=QUIET)
    asked = "dashed: asked before stage two; " * any(line.aim is not None for line in view.lines)
    done = "; ".join(f"{what}, day {number(day)}" for day, what in view.marks)
    sheet.text(MARGIN, y, f"{asked}dotted: {done}" if done else asked, size=SMALL, fill=QUIET)
