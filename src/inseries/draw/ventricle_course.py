"""The left ventricle over age: a row of small pictures with readings, course and interval."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.base.errors import OutputError
from inseries.draw.axes import Axis, age_ticks, value_ticks
from inseries.draw.lettering import shortened, wrapped
from inseries.draw.svg import INK, PALE, QUIET, RULE, Sheet, number, through

if TYPE_CHECKING:
    from inseries.draw.views import CourseLine, VentricleView

WIDTH = 1024.0  # chosen: drawing units; 170 mm on paper, 1024 px on a screen
MARGIN = 24.0  # chosen: free edge
ACROSS = 3  # chosen: pictures in a row
FIELD = 150.0  # chosen: height of one curve's field
LABELS = 52.0  # chosen: room left of a field for its numbers
BLOCK = FIELD + 92.0  # derived: a field with its name above and its ages below
SMALL = 14.0  # chosen: small text, 6.6 pt at 170 mm


def ventricle_svg(view: VentricleView) -> str:
    """The left ventricle over age as SVG.

    Parameters
    ----------
    view : VentricleView, with at least two days

    Returns
    -------
    str, one SVG file, 1024 drawing units wide

    Raises
    ------
    OutputError, if lengths differ or a number is not finite
    """
    _same_lengths(view)
    sheet = Sheet(view.figure_id, WIDTH)
    heading = wrapped(view.sentence, 16, WIDTH - 2 * MARGIN)
    top = 84 + 21 * len(heading)
    rows = -(-len(view.lines) // ACROSS)
    height = top + rows * BLOCK + 30
    sheet.add("rect", x=0, y=0, width=WIDTH, height=height, fill="#ffffff")
    sheet.text(MARGIN, 40, view.title, size=22, face="Bold")
    for row, words in enumerate(heading):
        sheet.text(MARGIN, 66 + 21 * row, words, size=16, fill=QUIET)
    span = (WIDTH - 2 * MARGIN) / ACROSS
    for i, line in enumerate(view.lines):
        left = MARGIN + span * (i % ACROSS)
        _small(sheet, view, line, (left, left + span - 22), top + BLOCK * (i // ACROSS))
    key = "dots: readings; line: simulated course; grey field: 90 % interval; age in days"
    sheet.text(MARGIN, height - 14, key, size=SMALL, fill=QUIET)
    return sheet.finish(height, view.title, spoken(view))


def spoken(view: VentricleView) -> str:
    """The picture in words, for readers who do not see it."""
    courses = "; ".join(
        f"{line.name} {line.value[0]:.3g} {line.unit} on day {view.days[0]:.0f}, "
        f"{line.value[-1]:.3g} on day {view.days[-1]:.0f}"
        for line in view.lines
    )
    return f"{view.sentence} {courses}."


def _same_lengths(view: VentricleView) -> None:
    rows = [row for line in view.lines for row in (line.value, line.low, line.high)]
    if len(view.days) < 2 or any(len(row) != len(view.days) for row in rows):
        raise OutputError(
            "the course needs two days or more, and one value for each",
            code="lengths_differ",
            where="draw course",
            remedy="give every line as many values as there are days",
        )


def _small(
    sheet: Sheet, view: VentricleView, line: CourseLine, sides: tuple[float, float], top: float
) -> None:
    """One quantity: name, axis, interval, course and readings."""
    seen = [m.value for m in line.measured]
    ticks = value_ticks(min(*line.low, *seen, *line.value), max(*line.high, *seen, *line.value))
    field = top + 36
    values = Axis(low=ticks[0], high=ticks[-1], start=field + FIELD, end=field)
    last = max(view.days[-1], view.today_day, *(m.day for m in line.measured), 1.0)
    ages = Axis(low=0, high=last, start=sides[0] + LABELS, end=sides[1])
    words = shortened(
        f"{line.name}, {line.unit}" if line.unit else line.name, 15, sides[1] - sides[0], "Bold"
    )
    sheet.text(sides[0], top + 18, words, size=15, face="Bold")
    _frame(sheet, ages, values, ticks)
    upper = [(ages.at(d), values.at(v)) for d, v in zip(view.days, line.high, strict=True)]
    lower = [(ages.at(d), values.at(v)) for d, v in zip(view.days, line.low, strict=True)]
    sheet.add("path", d=through([*upper, *reversed(lower)]) + " Z", fill=PALE, stroke=RULE)
    course = [(ages.at(d), values.at(v)) for d, v in zip(view.days, line.value, strict=True)]
    sheet.add("path", d=through(course), fill="none", stroke=INK, stroke_width=2.4)
    for m in line.measured:
        x, y = ages.at(m.day), values.at(m.value)
        sheet.add("circle", cx=x, cy=y, r=4.4, fill=INK, stroke="#ffffff", stroke_width=1.4)
    today = ages.at(view.today_day)
    dotted = {"stroke": QUIET, "stroke_dasharray": "1 4"}
    sheet.add("line", x1=today, y1=field, x2=today, y2=field + FIELD, **dotted)


def _frame(sheet: Sheet, ages: Axis, values: Axis, ticks: tuple[float, ...]) -> None:
    for tick in ticks:
        y = values.at(tick)
        sheet.add("line", x1=ages.start, y1=y, x2=ages.end, y2=y, stroke=RULE, stroke_width=0.7)
        sheet.text(ages.start - 8, y + 5, number(tick), size=SMALL, fill=QUIET, anchor="end")
    every = age_ticks(ages.high)
    for day in every[:: 2 if len(every) > 5 else 1]:
        x = ages.at(day)
        y = values.start
        sheet.add("line", x1=x, y1=y, x2=x, y2=y + 5, stroke=INK, stroke_width=1)
        sheet.text(x, y + 20, f"{day}", size=SMALL, anchor="middle")
    sheet.add("line", x1=ages.start, y1=values.start, x2=ages.end, y2=values.start, stroke=INK)
