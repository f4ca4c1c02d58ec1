"""A patch as a drawing for other programs: DXF, one unit is one millimetre."""

from __future__ import annotations

from contextlib import contextmanager
from importlib import import_module
from io import StringIO
from typing import TYPE_CHECKING, Protocol, cast

from inseries.draw.patch_sheet import BAR, LETTER, LINE, SPACE, SQUARE, laid_out

if TYPE_CHECKING:
    from collections.abc import Generator, Sequence

    from inseries.draw.patch_sheet import Laid, PatchSheet, Points

# layers of the drawing
CUT, SUTURE, MARKS, WORDS = "CUT", "SUTURE", "MARKS", "LETTERING"
# chosen: colour numbers of the format: white or black, cyan, green, grey
COLOURS = {CUT: 7, SUTURE: 4, MARKS: 3, WORDS: 8}
# derived: the code of millimetres in the head of a DXF file
MILLIMETRES = 4
# chosen: letters against those of the printed sheet
SMALLER = 0.7


class _Text(Protocol):
    def set_placement(self, place: tuple[float, float]) -> object: ...


class _Space(Protocol):
    """What is used of a drawing's space; its own library leaves these types open."""

    def add_lwpolyline(
        self, points: Sequence[tuple[float, float]], *, close: bool, dxfattribs: dict[str, str]
    ) -> object: ...

    def add_text(self, text: str, *, height: float, dxfattribs: dict[str, str]) -> _Text: ...


class _Layers(Protocol):
    def add(self, name: str, *, color: int) -> object: ...


class _Document(Protocol):
    @property
    def layers(self) -> _Layers: ...

    def modelspace(self) -> _Space: ...

    def write(self, stream: StringIO) -> None: ...


class _Options(Protocol):
    write_fixed_meta_data_for_testing: bool


class _Library(Protocol):
    @property
    def options(self) -> _Options: ...

    def new(self, version: str, *, units: int) -> _Document: ...


def patch_dxf(view: PatchSheet) -> bytes:
    """All pieces of a plan as DXF R2010 in millimetres.

    Parameters
    ----------
    view : PatchSheet

    Returns
    -------
    bytes; layers CUT (closed outlines, seam included), SUTURE, MARKS (ticks, check square of
    20 mm, bar of 50 mm) and LETTERING. It names no author and no date, and the same plan gives
    the same bytes

    Raises
    ------
    OutputError, code ``patch_too_large``
    """
    library = cast("_Library", import_module("ezdxf"))
    stream = StringIO()
    with _undated(library.options):
        document = library.new("R2010", units=MILLIMETRES)
        for name, colour in COLOURS.items():
            document.layers.add(name, color=colour)
        space = document.modelspace()
        _head(space, view)
        for each in laid_out(view.pieces, 0.0):
            _piece(space, each)
        document.write(stream)
    return stream.getvalue().encode("utf-8")


@contextmanager
def _undated(options: _Options) -> Generator[None]:
    """While the library writes neither dates nor ids of its own."""
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _line(space: _Space, layer: str, points: Sequence[tuple[float, float]], *, close: bool) -> None:
    space.add_lwpolyline(points, close=close, dxfattribs={"layer": layer})


def _head(space: _Space, view: PatchSheet) -> None:
    """Title, warning, check square and scale bar above the pieces."""
    foot = SPACE
    square = [(0.0, foot), (SQUARE, foot), (SQUARE, foot + SQUARE), (0.0, foot + SQUARE)]
    _line(space, MARKS, square, close=True)
    left, y = SQUARE + SPACE, foot + SQUARE / 2.0
    _line(space, MARKS, [(left, y), (left + BAR, y)], close=False)
    _words(space, "square 20 mm, bar 50 mm", left, y - LINE)
    lines = [view.title, "Planning only, trim in theatre.", *view.notes]
    for i, words in enumerate(reversed(lines)):
        _words(space, words, 0.0, foot + SQUARE + SPACE + LINE * i)


def _piece(space: _Space, each: Laid) -> None:
    xs, ys = zip(*each.piece.cut_mm, strict=True)
    right, up = each.left - min(xs), -each.top - max(ys)

    def moved(points: Points) -> list[tuple[float, float]]:
        return [(x + right, y + up) for x, y in points]

    # The first point of a closed line is not written twice.
    _line(space, CUT, moved(each.piece.cut_mm[:-1]), close=True)
    _line(space, SUTURE, moved(each.piece.stitch_mm[:-1]), close=True)
    for mark in each.piece.marks_mm:
        _line(space, MARKS, moved(mark), close=False)
    _words(space, each.piece.name, each.left, -each.low - LINE)
    _words(space, each.piece.note, each.left, -each.low - 2.0 * LINE)


def _words(space: _Space, words: str, x: float, y: float) -> None:
    text = space.add_text(words, height=LETTER * SMALLER, dxfattribs={"layer": WORDS})
    text.set_placement((x, y))
