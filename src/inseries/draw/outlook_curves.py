"""Courses by age over all draws, and published series in a frame of their own."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.draw.axes import Axis, apart, value_ticks
from inseries.draw.lettering import shortened, wrapped
from inseries.draw.svg import INK, PALE, QUIET, RULE, Sheet, number, through

if TYPE_CHECKING:
    from inseries.draw.outlook_view import AgeLine, OutlookView

SMALL = 13.0  # chosen: small text
FIELD = 78.0  # chosen: height of a small field
TALL = 138.0  # chosen: height of the lower fields
ROW = 32.0  # chosen: height of a published series
LABELS = 34.0  # chosen: room left of a field for its numbers
LIMITS = (36.0, 50.0, 64.0)  # common practice: 3, 3.5 and 4 m/s
MOST_MMHG = 80.0  # chosen: top of the fields of gradient
YEARS = (0.0, 10.0, 20.0, 30.0, 40.0)  # chosen: ages that are named
DASHES = ("", "8 4", "2 3")  # chosen: three courses of the root
FRAME = "#7a4b00"  # chosen: frame of what was published


def gradient_fields(
    sheet: Sheet, view: OutlookView, left: float, right: float, top: float
) -> float:
    """Gradient of each repair by age, side by side on one scale; gives the height below."""
    sheet.text(left, top + 16, "Peak gradient above the valve by age, mmHg: 90 % of the draws",
               size=15, face="Bold")  # fmt: skip
    span = (right - left) / len(view.gradients)
    for i, line in enumerate(view.gradients):
        start = left + span * i
        sheet.text(start + LABELS, top + 38, line.name, size=SMALL + 1)
        ages = Axis(low=0.0, high=YEARS[-1], start=start + LABELS, end=start + span - 14)
        values = Axis(low=0.0, high=MOST_MMHG, start=top + 46 + FIELD, end=top + 46)
        _axes(sheet, ages, values, (0.0, *LIMITS))
        _band(sheet, view.years, line, ages, values)
    return top + 46 + FIELD + 34


def root_field(sheet: Sheet, view: OutlookView, left: float, right: float, top: float) -> None:
    """The new aortic root by published courses, each its own line, with both tables' usual."""
    sheet.text(left, top + 16, "New aortic root by age, mm", size=15, face="Bold")
    every = [v for line in (*view.roots, *view.usual_root) for v in line.value]
    ticks = value_ticks(0.0, max(every) * 1.05)
    ages = Axis(low=0.0, high=YEARS[-1], start=left + LABELS, end=right - 150)
    values = Axis(low=ticks[0], high=ticks[-1], start=top + 30 + TALL, end=top + 30)
    _axes(sheet, ages, values, ticks)
    for years, line in zip(view.usual_years, view.usual_root, strict=True):
        points = [(ages.at(y), values.at(v)) for y, v in zip(years, line.value, strict=True)]
        sheet.add("path", d=through(points), fill="none", stroke=RULE, stroke_width=5)
    names: list[tuple[float, str]] = []
    for dash, line in zip(DASHES, view.roots, strict=True):
        points = [(ages.at(y), values.at(v)) for y, v in zip(view.years, line.value, strict=True)]
        more = {"stroke_dasharray": dash} if dash else {}
        sheet.add("path", d=through(points), fill="none", stroke=INK, stroke_width=2, **more)
        names.append((points[-1][1], line.name))
    names.append((values.at(view.usual_root[-1].value[-1]), "grey: usual aortic root"))
    names.sort()
    heights = apart([y + 4 for y, _ in names], 31.0, values.end + 8, values.start + 4)
    for y, (_, words) in zip(heights, names, strict=True):
        for i, part in enumerate(wrapped(words, SMALL, 140)):
            sheet.text(ages.end + 8, y + 14 * i, part, size=SMALL)


def published_field(sheet: Sheet, view: OutlookView, left: float, right: float, top: float) -> None:
    """Published series: each with its printed years and shares, in a frame of its own."""
    height = TALL + 92
    sheet.add("rect", x=left, y=top - 4, width=right - left, height=height, fill="#ffffff",
              stroke=FRAME, stroke_width=1.6, stroke_dasharray="6 3")  # fmt: skip
    words = "PUBLISHED, in other children, by years"
    sheet.text(left + 10, top + 16, words, size=15, face="Bold", fill=FRAME)
    for i, series in enumerate(view.published):
        y = top + 42 + ROW * i
        sheet.text(
            left + 10, y, shortened(series.name, SMALL + 1, right - left - 20), size=SMALL + 1
        )
        told = " · ".join(
            f"{year:g} y {pct:g} %" for year, pct in zip(series.years, series.pct, strict=True)
        )
        sheet.text(left + 24, y + 15, told, size=SMALL + 1, face="Bold", fill=FRAME)


def _axes(
    sheet: Sheet,
    ages: Axis,
    values: Axis,
    ticks: tuple[float, ...],
    years: tuple[float, ...] = YEARS,
) -> None:
    for tick in ticks:
        y = values.at(tick)
        sheet.add("line", x1=ages.start, y1=y, x2=ages.end, y2=y, stroke=RULE, stroke_width=0.7)
        sheet.text(ages.start - 6, y + 4, number(tick), size=SMALL, fill=QUIET, anchor="end")
    for year in years:
        x = ages.at(year)
        sheet.add("line", x1=x, y1=values.start, x2=x, y2=values.start + 4, stroke=INK)
        words = f"{year:.0f} y" if year == years[-1] else f"{year:.0f}"
        sheet.text(x, values.start + 18, words, size=SMALL, anchor="middle")
    sheet.add("line", x1=ages.start, y1=values.start, x2=ages.end, y2=values.start, stroke=INK)


def _band(sheet: Sheet, years: tuple[float, ...], line: AgeLine, ages: Axis, values: Axis) -> None:
    at = [ages.at(year) for year in years]
    upper = [(x, values.at(v)) for x, v in zip(at, line.high, strict=True)]
    lower = [(x, values.at(v)) for x, v in zip(at, line.low, strict=True)]
    sheet.add("path", d=through([*upper, *reversed(lower)]) + " Z", fill=PALE, stroke=QUIET,
              stroke_width=0.8)  # fmt: skip
    middle = [(x, values.at(v)) for x, v in zip(at, line.value, strict=True)]
    sheet.add("path", d=through(middle), fill="none", stroke=INK, stroke_width=2.2)
    words = shortened(f"{line.value[-1]:.0f}", SMALL, 30)
    sheet.text(at[-1] - 2, middle[-1][1] - 6, words, size=SMALL, anchor="end")
