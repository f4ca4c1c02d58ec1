"""Rings to scale by age, large enough for a room: what grows, what does not, what narrows."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, pi, sin

from inseries.draw.lettering import wrapped
from inseries.draw.svg import INK, PALE, QUIET, RULE, Sheet, path, through

# chosen: size, column of names, room above; drawing units
WIDE, HIGH, NAMES, TOP = 960.0, 500.0, 190.0, 40.0
# chosen: letters, room of a ring's words, greatest radius as a share of a row, strokes
LETTER, WORDS, SHARE, WALL = 18.0, 30.0, 0.4, 6.0
# chosen: length of a box of inert wall along the ring, half its height
LINK, BOX = 11.0, 6.0
# chosen: tint of inert wall
CLOTH = "#c9ccd6"


@dataclass(frozen=True, slots=True, kw_only=True)
class LaterRing:
    """One ring: its width, the usual one where there is one, its inert share, words beside it."""

    wide: float
    usual: float | None
    inert_share: float
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LaterRow:
    """One course over the ages; ``example`` where it is not this child's."""

    name: str
    note: str
    rings: tuple[LaterRing, ...]
    example: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class LaterView:
    """Rows of rings in one scale.

    Attributes
    ----------
    title, usual_words : str, the second says what the dotted ring is
    columns : tuple of str, ages
    rows : tuple of LaterRow
    bar_mm : float or None, length of the bar; None where rings are shares and no millimetres
    figure_id : str
    """

    title: str
    usual_words: str
    columns: tuple[str, ...]
    rows: tuple[LaterRow, ...]
    bar_mm: float | None
    figure_id: str


def later_svg(view: LaterView) -> str:
    """Whole line: wall that grows. Boxes: wall that does not. Dotted: usual."""
    sheet = Sheet(view.figure_id, WIDE)
    row_high = (HIGH - TOP - 44.0) / len(view.rows)
    column = (WIDE - NAMES) / len(view.columns)
    scale = later_scale(view)
    for i, words in enumerate(view.columns):
        x = NAMES + column * (i + 0.5)
        sheet.text(x, 24.0, words, size=LETTER, face="Bold", anchor="middle")
    for place, row in enumerate(view.rows):
        top = TOP + row_high * place
        _row(sheet, row, top, row_high, scale)
    _key(sheet, view, scale)
    return sheet.finish(HIGH, view.title, spoken(view))


def later_scale(view: LaterView) -> float:
    """Drawing units per millimetre, or per share."""
    row_high = (HIGH - TOP - 44.0) / len(view.rows)
    column = (WIDE - NAMES) / len(view.columns)
    widest = max(max(r.wide, r.usual or 0.0) for row in view.rows for r in row.rings)
    words = max(len(r.words) for row in view.rows for r in row.rings)
    room = min(row_high - 21.0 * words - 2.0 * BOX - 10.0, column - 4.0 * BOX)
    return room / widest


def spoken(view: LaterView) -> str:
    """The rings in words."""
    rows = "; ".join(
        f"{row.name}: "
        + ", ".join(
            f"{age} {' '.join(r.words)}" for age, r in zip(view.columns, row.rings, strict=True)
        )
        for row in view.rows
    )
    return f"{view.title}. {rows}. {view.usual_words}."


def _row(sheet: Sheet, row: LaterRow, top: float, high: float, scale: float) -> None:
    if row.example:
        sheet.add("rect", x=0.0, y=top, width=WIDE, height=high, fill=PALE)
    sheet.add("line", x1=0.0, y1=top, x2=WIDE, y2=top, stroke=RULE, stroke_width=1.0)
    lines = [(words, "Bold") for words in wrapped(row.name, LETTER, NAMES - 10.0, "Bold")]
    lines += [(words, "Regular") for words in wrapped(row.note, LETTER - 2.0, NAMES - 10.0)]
    for i, (words, face) in enumerate(lines):
        size, fill = (LETTER, INK) if face == "Bold" else (LETTER - 2.0, QUIET)
        y = top + 30.0 + 21.0 * i
        sheet.text(
            8.0, y, words, size=size, face="Bold" if face == "Bold" else "Regular", fill=fill
        )
    column = (WIDE - NAMES) / len(row.rings)
    for i, ring in enumerate(row.rings):
        middle = NAMES + column * (i + 0.5)
        below = top + high - 21.0 * len(ring.words)
        _ring(sheet, ring, (middle, (top + below) / 2.0), scale)
        for k, words in enumerate(ring.words):
            y = below + 12.0 + 21.0 * k
            face = "Bold" if k == 0 else "Regular"
            sheet.text(middle, y, words, size=LETTER, anchor="middle", face=face)


def _ring(sheet: Sheet, ring: LaterRing, middle: tuple[float, float], scale: float) -> None:
    x, y = middle
    if ring.usual is not None:
        sheet.add("circle", cx=x, cy=y, r=scale * ring.usual / 2.0, fill="none", stroke=QUIET,
                  stroke_width=2.0, stroke_dasharray="2 5")  # fmt: skip
    radius, half = scale * ring.wide / 2.0, pi * min(1.0, max(0.0, ring.inert_share))
    if half < pi - TINY:
        points = [_at(middle, radius, half + (2.0 * pi - 2.0 * half) * i / 60) for i in range(61)]
        sheet.add("path", d=through(points), fill="none", stroke=INK, stroke_width=WALL)
    count = max(round(2.0 * half * radius / LINK), 1) if half > 0.0 else 0
    for i in range(count):
        a, b = (-half + 2.0 * half * (i + edge) / count for edge in (0.08, 0.92))
        corners = [
            _at(middle, r, turn)
            for r, turn in (
                (radius - BOX, a),
                (radius - BOX, b),
                (radius + BOX, b),
                (radius + BOX, a),
            )
        ]
        sheet.add("path", d=f"{through(corners)}Z", fill=CLOTH, stroke=INK, stroke_width=1.4)


# chosen: a ring is whole when so little of it is left
TINY = 1e-6


def _at(middle: tuple[float, float], radius: float, turn: float) -> tuple[float, float]:
    return middle[0] + radius * sin(turn), middle[1] + radius * cos(turn)


def _key(sheet: Sheet, view: LaterView, scale: float) -> None:
    y = HIGH - 14.0
    sheet.add("line", x1=0.0, y1=HIGH - 44.0, x2=WIDE, y2=HIGH - 44.0, stroke=RULE)
    sheet.add(
        "path", d=path("M", 8.0, y - 6.0, "H", 44.0), fill="none", stroke=INK, stroke_width=WALL
    )
    sheet.text(52.0, y, "native wall", size=LETTER - 2.0)
    if any(r.inert_share > 0.0 for row in view.rows for r in row.rings):
        for i in range(3):
            sheet.add("rect", x=160.0 + 13.0 * i, y=y - 6.0 - BOX, width=10.0, height=2.0 * BOX,
                      fill=CLOTH, stroke=INK, stroke_width=1.4)  # fmt: skip
        sheet.text(206.0, y, "patch or scar: does not keep up", size=LETTER - 2.0)
    sheet.add("path", d=path("M", 470.0, y - 6.0, "H", 508.0), fill="none", stroke=QUIET,
              stroke_width=2.0, stroke_dasharray="2 5")  # fmt: skip
    sheet.text(516.0, y, view.usual_words, size=LETTER - 2.0)
    if view.bar_mm is not None:
        long, end = scale * view.bar_mm, WIDE - 70.0
        bar = path("M", end - long, y - 11.0, "V", y - 5.0, "H", end, "V", y - 11.0)
        sheet.add("path", id=sheet.id("bar"), d=bar, fill="none", stroke=INK, stroke_width=2.0)
        sheet.text(end + 8.0, y, f"{view.bar_mm:.0f} mm", size=LETTER - 2.0)
