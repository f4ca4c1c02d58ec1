"""A patch to be cut, in true size: one drawing unit is one millimetre."""

from __future__ import annotations

from dataclasses import dataclass

from inseries.base.errors import OutputError
from inseries.draw.svg import INK, QUIET, Sheet, through

# chosen: room that A4 leaves between its margins, mm
SHEET_WIDE, SHEET_HIGH = 180.0, 225.0
# chosen: length of the scale bar, side of the check square, space between things, mm
BAR, SQUARE, SPACE = 50.0, 20.0, 8.0
# derived: three columns
COLUMN = (SHEET_WIDE - 2.0 * SPACE) / 3.0
# chosen: height of letters and lines, mm; ten points are 3.5 mm
LETTER, LINE = 3.5, 5.2
# chosen: strokes, mm
CUT, STITCH = 0.3, 0.2

Points = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One flat piece.

    Attributes
    ----------
    name, note : str, as printed below it
    cut_mm, stitch_mm : tuple of (x, y), mm, y upward; the line to cut, the line of the suture
    marks_mm : tuple of lines, where the piece meets a mark of the wall
    """

    name: str
    note: str
    cut_mm: Points
    stitch_mm: Points
    marks_mm: tuple[Points, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PatchSheet:
    """All pieces of one plan.

    Attributes
    ----------
    title : str
    notes : tuple of str, lines beneath the title
    pieces : tuple of Piece, beside one another
    figure_id : str
    """

    title: str
    notes: tuple[str, ...] = ()
    pieces: tuple[Piece, ...]
    figure_id: str


def patch_sheet_svg(view: PatchSheet) -> str:
    """A page in true size with scale bar, check square and its warning.

    Parameters
    ----------
    view : PatchSheet

    Returns
    -------
    str, SVG whose unit is one millimetre: print it 180 mm wide

    Raises
    ------
    OutputError, code ``patch_too_large``, where the pieces do not fit on A4 in true size
    """
    sheet = Sheet(view.figure_id, SHEET_WIDE)
    sheet.text(0.0, LINE, view.title, size=LETTER * 1.2, face="Bold")
    sheet.text(0.0, 2.0 * LINE, "Planning only, trim in theatre.", size=LETTER, face="Bold")
    words = "Whole line: cut. Dashed line: suture. Tick: middle. Side up: outer side of the vessel."
    sheet.text(0.0, 3.0 * LINE, words, size=LETTER, fill=QUIET)
    top = 4.0 * LINE
    for note in view.notes:
        sheet.text(0.0, top, note, size=LETTER)
        top += LINE
    _check(sheet, top)
    low = _pieces(sheet, view.pieces, top + SQUARE + SPACE)
    names = ", ".join(f"{piece.name}: {piece.note}" for piece in view.pieces)
    return sheet.finish(low, view.title, f"Planning only, trim in theatre. True size. {names}")


def _check(sheet: Sheet, top: float) -> None:
    """Scale bar and check square."""
    sheet.open_group("check")
    sheet.add("rect", x=CUT, y=top, width=SQUARE, height=SQUARE, fill="none", stroke=INK,
              stroke_width=STITCH)  # fmt: skip
    left, y = SQUARE + SPACE, top + SQUARE / 2.0
    ticks = [left + 10.0 * i for i in range(int(BAR // 10.0) + 1)]
    bar = f"M {left} {y} H {left + BAR} " + " ".join(f"M {x} {y - 2} V {y + 2}" for x in ticks)
    sheet.add("path", d=bar, fill="none", stroke=INK, stroke_width=STITCH)
    sheet.text(left, y - LETTER, "50 mm", size=LETTER)
    words = "Measure both: square 20 mm, bar 50 mm."
    sheet.text(left, y + 2.0 * LETTER, words, size=LETTER)
    sheet.text(left, y + 2.0 * LETTER + LINE, "If not, print again at 100 %.", size=LETTER)
    sheet.close_group()


@dataclass(frozen=True, slots=True)
class Laid:
    """One piece on the sheet: its left edge, its upper and lower edge, mm from the top left."""

    piece: Piece
    left: float
    top: float
    low: float


def laid_out(pieces: tuple[Piece, ...], top: float) -> tuple[Laid, ...]:
    """The pieces side by side, in rows, as the page and the exchanged drawing both have them."""
    found: list[Laid] = []
    left, row, low = 0.0, top, top
    for piece in pieces:
        xs, ys = zip(*piece.cut_mm, strict=True)
        wide, high = max(xs) - min(xs), max(ys) - min(ys)
        if left > 0.0 and left + max(wide, COLUMN) > SHEET_WIDE:
            left, row = 0.0, low + SPACE
        low = max(low, row + high + 3.0 * LINE)
        _fits(left + wide, low, piece.name)
        found.append(Laid(piece, left, row, row + high))
        left += max(wide, COLUMN) + SPACE
    return tuple(found)


def _pieces(sheet: Sheet, pieces: tuple[Piece, ...], top: float) -> float:
    """Draws the pieces; gives where they end, mm."""
    laid = laid_out(pieces, top)
    for each in laid:
        piece = each.piece
        xs, ys = zip(*piece.cut_mm, strict=True)
        _piece(sheet, piece, each.left - min(xs) + CUT, each.top + max(ys))
        sheet.text(each.left, each.low + LINE, piece.name, size=LETTER, face="Bold")
        sheet.text(each.left, each.low + 2.0 * LINE, piece.note, size=LETTER)
    return max(each.low for each in laid) + 3.0 * LINE


def _piece(sheet: Sheet, piece: Piece, x: float, y: float) -> None:
    for name, points, dashes in (("cut", piece.cut_mm, ""), ("suture", piece.stitch_mm, "1 0.8")):
        line = through([(x + px, y - py) for px, py in points])
        sheet.open_group(f"{piece.name}-{name}".replace(" ", "-"))
        looks = {"stroke_dasharray": dashes} if dashes else {}
        width = STITCH if dashes else CUT
        sheet.add("path", d=line, fill="none", stroke=INK, stroke_width=width, **looks)
        sheet.close_group()
    for mark in piece.marks_mm:
        line = through([(x + px, y - py) for px, py in mark])
        sheet.add("path", d=line, fill="none", stroke=INK, stroke_width=STITCH)


def _fits(right: float, low: float, name: str) -> None:
    if right > SHEET_WIDE or low > SHEET_HIGH:
        raise OutputError(
            "a piece does not fit on A4 in true size",
            code="patch_too_large",
            where=name,
            remedy="smaller pieces, or the outline in millimetres.",
        )
