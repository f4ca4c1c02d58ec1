"""A few numbers before and after one thing that was done, each on its own scale."""

from __future__ import annotations

from dataclasses import dataclass

from inseries.draw.axes import Axis
from inseries.draw.svg import INK, QUIET, RULE, Sheet, number, path

# chosen: size, rows, letters, where names end and scales begin and end; drawing units
WIDE, ROW, TOP = 960.0, 92.0, 60.0
LETTER, BIG = 20.0, 24.0
NAMES, START, END = 300.0, 350.0, 880.0
# chosen: radius of a dot; tint of the one after
DOT, AFTER = 11.0, "#f4b56b"


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """One number before and after, and the ends of its scale."""

    words: str
    unit: str
    before: float
    after: float
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PairsView:
    """Several numbers before and after."""

    title: str
    pairs: tuple[Pair, ...]
    figure_id: str


def pairs_svg(view: PairsView) -> str:
    """Open dot: before. Filled dot: after. An arrow leads from one to the other."""
    sheet = Sheet(view.figure_id, WIDE)
    sheet.add("circle", cx=START, cy=26.0, r=DOT, fill="#ffffff", stroke=INK, stroke_width=2.5)
    sheet.text(START + 20.0, 33.0, "before", size=LETTER)
    sheet.add("circle", cx=START + 130.0, cy=26.0, r=DOT, fill=AFTER, stroke=INK, stroke_width=2.5)
    sheet.text(START + 150.0, 33.0, "after", size=LETTER)
    for i, pair in enumerate(view.pairs):
        _row(sheet, pair, TOP + ROW * (i + 0.5))
    return sheet.finish(TOP + ROW * len(view.pairs), view.title, spoken(view))


def spoken(view: PairsView) -> str:
    """The numbers in words."""
    told = (f"{p.words} {p.before:g} before, {p.after:g} after, {p.unit}" for p in view.pairs)
    return f"{view.title}: {'; '.join(told)}."


def _row(sheet: Sheet, pair: Pair, y: float) -> None:
    axis = Axis(low=pair.low, high=pair.high, start=START, end=END)
    sheet.text(NAMES, y, pair.words, size=LETTER, anchor="end")
    sheet.text(NAMES, y + 22.0, pair.unit, size=LETTER - 3.0, anchor="end", fill=QUIET)
    sheet.add("line", x1=START, y1=y, x2=END, y2=y, stroke=RULE, stroke_width=2.0)
    for value in (pair.low, pair.high):
        x = axis.at(value)
        sheet.text(x, y + 32.0, number(value), size=LETTER - 4.0, anchor="middle", fill=QUIET)
    one, other = axis.at(pair.before), axis.at(pair.after)
    _arrow(sheet, one, other, y)
    near = abs(one - other) < NEAR
    ahead = -1.0 if one <= other else 1.0
    for x, value, tint, side in (
        (one, pair.before, "#ffffff", ahead),
        (other, pair.after, AFTER, -ahead),
    ):
        sheet.add("circle", cx=x, cy=y, r=DOT, fill=tint, stroke=INK, stroke_width=2.5)
        aside = side * NEAR / 2.0 if near else 0.0
        sheet.text(x + aside, y - 18.0, number(value), size=BIG, face="Bold", anchor="middle")


# chosen: numbers closer than this are moved apart, drawing units
NEAR = 60.0


def _arrow(sheet: Sheet, one: float, other: float, y: float) -> None:
    if abs(other - one) < 2.0 * DOT:
        return
    way = 1.0 if other > one else -1.0
    tip = other - way * (DOT + 2.0)
    head = path("M", tip - way * 9.0, y - 6.0, "L", tip, y, "L", tip - way * 9.0, y + 6.0)
    line = path("M", one + way * DOT, y, "H", tip)
    sheet.add("path", d=f"{line} {head}", fill="none", stroke=INK, stroke_width=2.5)
