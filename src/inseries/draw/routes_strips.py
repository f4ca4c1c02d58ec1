"""Published long-term series beneath the lanes: one strip for each, so that no two are laid over.

Years after the operation run along each strip; the per cent that was printed stands at its year.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.draw.axes import Axis
from inseries.draw.lettering import text_width, wrapped
from inseries.draw.svg import INK, PALE, QUIET, RULE, Sheet

if TYPE_CHECKING:
    from inseries.draw.routes_view import Strip

LEFT, RIGHT = 330.0, 700.0  # chosen: ends of the axis of years
YEARS = (0, 10, 20, 30, 40)  # chosen: years that are labelled
SMALL = 14.0  # chosen: small text, 6.6 pt at 170 mm
LINE = 17.0  # chosen: line height of small text
PILL = 36.0  # chosen: width of a number's frame
DASHES = {"all operated": "none", "survivors only": "5 3", "mixed": "1.5 3"}


def strips(sheet: Sheet, rows: tuple[Strip, ...], top: float, width: float, margin: float) -> float:
    """The published part; gives where it ends."""
    years = Axis(low=0, high=YEARS[-1], start=LEFT, end=RIGHT)
    texts = [_texts(row, width, margin) for row in rows]
    heights = [max(34.0, 8 + LINE * max(len(left), len(right))) for left, right in texts]
    height = 84 + sum(heights) + 8
    sheet.add("rect", x=0, y=top, width=width, height=height, fill=PALE)
    words = "Published, other babies, other eras"
    sheet.text(margin, top + 26, words, size=15, face="Bold")
    at = margin + text_width(words, 15, "Bold") + 8
    rest = "not this baby, not the simulation; each series counts children of its own"
    sheet.text(at, top + 26, rest, size=SMALL, fill=QUIET)
    y = top + 48
    _frames(sheet, margin, y)
    for year in YEARS:
        sheet.text(years.at(year), top + 78, f"{year}", size=SMALL, anchor="middle")
    sheet.text(RIGHT + 18, top + 78, "years after", size=SMALL, fill=QUIET)
    y = top + 84
    for row, text, high in zip(rows, texts, heights, strict=True):
        sheet.add("line", x1=margin, y1=y, x2=width - margin, y2=y, stroke=RULE)
        middle = y + high / 2
        _beside(sheet, text[0], margin, middle)
        _beside(sheet, text[1], RIGHT + 26, middle, quiet=True)
        _points(sheet, row, years, middle)
        y += high
    return top + height


def _texts(row: Strip, width: float, margin: float) -> tuple[tuple[str, ...], tuple[str, ...]]:
    left = wrapped(f"{row.label}: {row.of}", SMALL, LEFT - margin - 30)
    return left, wrapped(row.note, SMALL, width - margin - RIGHT - 26)


def _frames(sheet: Sheet, margin: float, y: float) -> None:
    """What the frames mean."""
    x = margin
    meanings = {
        "all operated": "all operated are counted",
        "survivors only": "early deaths are not counted",
        "mixed": "other or mixed denominators",
    }
    for counted, words in meanings.items():
        _pill(sheet, x + PILL / 2, y - 5, "%", counted)
        sheet.text(x + PILL + 8, y, words, size=SMALL, fill=QUIET)
        x += PILL + 30 + text_width(words, SMALL)


def _beside(
    sheet: Sheet, lines: tuple[str, ...], x: float, middle: float, *, quiet: bool = False
) -> None:
    """Lines about a middle; the first of a label is bold."""
    for i, words in enumerate(lines):
        y = middle + 5 + LINE * (i - (len(lines) - 1) / 2)
        face = "Bold" if i == 0 and not quiet else "Regular"
        sheet.text(x, y, words, size=SMALL, face=face, fill=QUIET if quiet else INK)


def _points(sheet: Sheet, row: Strip, years: Axis, middle: float) -> None:
    """The printed numbers at their years."""
    line = {"stroke": QUIET, "stroke_width": 1.0, "stroke_dasharray": "1 4"}
    last = years.at(row.ages_y[-1])
    sheet.add("line", x1=years.start, y1=middle, x2=last, y2=middle, **line)
    for year, pct in zip(row.ages_y, row.pct, strict=True):
        _pill(sheet, years.at(year), middle, f"{pct:.0f}", row.counted)


def _pill(sheet: Sheet, x: float, y: float, words: str, counted: str) -> None:
    """A number in a frame that says who is counted."""
    sheet.add(
        "rect",
        x=x - PILL / 2,
        y=y - 10,
        width=PILL,
        height=20,
        rx=9,
        fill="#ffffff",
        stroke=INK,
        stroke_width=1.3,
        stroke_dasharray=DASHES[counted],
    )
    sheet.text(x, y + 5, words, size=SMALL, face="Bold", anchor="middle")
