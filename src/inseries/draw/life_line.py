"""One line from birth to grown age: readings, events, the window, what comes later, on one axis.

The axis stretches the first days: a year takes no more room than a week did.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import log1p
from typing import Literal

from inseries.draw.grips import axis_grip
from inseries.draw.lettering import text_width
from inseries.draw.svg import INK, QUIET, RULE, Sheet

WIDTH = 1024.0  # chosen: drawing units, as the other pictures
HEIGHT = 128.0  # chosen: a low strip under the page
LEFT, RIGHT = 28.0, 996.0  # chosen: ends of the axis
LAST_DAYS = 14_610.0  # derived: forty years
BEND_DAYS = 1.0  # chosen: the first day has as much room as every doubling of age after it
LINE_Y = 72.0  # chosen: the axis
BAR = 14.0  # chosen: height of a span
# derived: days at which a handle is placed exactly; between them the scale is as good as straight
BENDS = (0, 0.5, 1, *range(2, 61, 2), *range(65, 201, 5), 365, 730, 1826, 3652, 7305, 14610)
# chosen: what a span is filled with; its words say it too
FILLS = {"window": "#22365c", "later": "#f4b56b"}
TICKS = (
    (0.0, "birth"), (1.0, "1 d"), (3.0, "3 d"), (7.0, "1 week"), (14.0, "2"), (28.0, "4 weeks"),
    (91.0, "3 months"), (365.0, "1 year"), (1826.0, "5"), (3652.0, "10"), (7305.0, "20"),
    (14610.0, "40 years"),
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class LifeMark:
    """Something that was read or done at an age."""

    day: float
    label: str
    kind: Literal["reading", "event", "today"]


@dataclass(frozen=True, slots=True, kw_only=True)
class LifeSpan:
    """A stretch of ages; ``share`` is how strongly it is filled, 0 to 1."""

    first_day: float
    last_day: float
    label: str
    kind: Literal["window", "later"]
    share: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class LifeView:
    """Everything on the line."""

    marks: tuple[LifeMark, ...]
    spans: tuple[LifeSpan, ...]
    figure_id: str = "life"


def life_svg(view: LifeView) -> str:
    """The line of life as SVG, 1024 drawing units wide."""
    sheet = Sheet(view.figure_id, WIDTH)
    sheet.add("rect", x=0, y=0, width=WIDTH, height=HEIGHT, fill="#ffffff")
    for span in view.spans:
        _span(sheet, span)
    sheet.add("line", x1=LEFT, y1=LINE_Y, x2=RIGHT, y2=LINE_Y, stroke=INK, stroke_width=1.5)
    _ticks(sheet)
    _marks(sheet, view)
    today = next((mark.day for mark in view.marks if mark.kind == "today"), 0.0)
    bends = [(place(day), float(day)) for day in BENDS]
    axis_grip(sheet, "age", bends, (LINE_Y - 34, LINE_Y), unit="d", value=today)
    return sheet.finish(HEIGHT, "From birth to forty years", spoken(view))


def spoken(view: LifeView) -> str:
    """The line in words."""
    events = [f"{m.label} on day {m.day:.3g}" for m in view.marks if m.kind != "reading"]
    count = sum(m.kind == "reading" for m in view.marks)
    spans = [s.label for s in view.spans if s.label]
    told = f"{count} readings. " + "; ".join([*events, *spans])
    return f"Time line from birth to forty years. {told}."


def place(day: float) -> float:
    """Where an age lies on the line, drawing units."""
    share = log1p(max(day, 0.0) / BEND_DAYS) / log1p(LAST_DAYS / BEND_DAYS)
    return LEFT + (RIGHT - LEFT) * min(share, 1.0)


def _span(sheet: Sheet, span: LifeSpan) -> None:
    start, end = place(span.first_day), place(span.last_day)
    sheet.add(
        "rect", x=start, y=LINE_Y - BAR, width=max(end - start, 0.5), height=BAR,
        fill=FILLS[span.kind], fill_opacity=round(0.08 + 0.92 * span.share, 3),
    )  # fmt: skip
    if span.label:
        sheet.text(start + 4, LINE_Y - BAR - 5, span.label, size=14, fill=QUIET)


def _ticks(sheet: Sheet) -> None:
    for day, label in TICKS:
        x = place(day)
        sheet.add("line", x1=x, y1=LINE_Y, x2=x, y2=LINE_Y + 6, stroke=INK)
        anchor = "start" if day == 0 else "end" if day == LAST_DAYS else "middle"
        sheet.text(x, LINE_Y + 22, label, size=14, anchor=anchor, fill=QUIET)


def _marks(sheet: Sheet, view: LifeView) -> None:
    ends = [0.0, 0.0]
    for mark in sorted(view.marks, key=lambda m: m.day):
        x = place(mark.day)
        if mark.kind == "reading":
            sheet.add("circle", cx=x, cy=LINE_Y, r=4, fill="#ffffff", stroke=INK, stroke_width=1.5)
            continue
        row = next((r for r in (0, 1) if ends[r] <= x - 4), None)
        sheet.add("path", d=f"M {x:.1f} {LINE_Y - 6} l 6 6 l -6 6 l -6 -6 z", fill=INK)
        if row is None:
            continue
        y = (20.0, 120.0)[row]
        joins = (y + 4, LINE_Y - 6) if row == 0 else (LINE_Y + 27, y - 14)
        sheet.add("line", x1=x, y1=joins[0], x2=x, y2=joins[1], stroke=RULE)
        start = min(x, RIGHT - text_width(mark.label, 14))
        sheet.text(start, y, mark.label, size=14)
        ends[row] = start + text_width(mark.label, 14) + 10
