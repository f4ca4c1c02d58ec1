"""One sign for each thing that is done; shapes, so that no colour is needed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.draw.svg import INK, Sheet, path

if TYPE_CHECKING:
    from collections.abc import Callable


def sign(sheet: Sheet, kind: str, x: float, y: float) -> None:
    """Draws the sign of a kind of event, 18 units across, centred."""
    _DRAW[kind](sheet, x, y)


def _strokes(sheet: Sheet, shape: str, fill: str = "none") -> None:
    sheet.add("path", d=shape, fill=fill, stroke=INK, stroke_width=2, stroke_linejoin="round")


def _band(sheet: Sheet, x: float, y: float) -> None:
    """A vessel pressed from both sides."""
    for side in (-1.0, 1.0):
        outer = x + 9 * side
        _strokes(
            sheet,
            path("M", outer, y - 9, "C", x + 2 * side, y - 4, x + 2 * side, y + 4, outer, y + 9),
        )


def _switch(sheet: Sheet, x: float, y: float) -> None:
    """Two arteries that cross."""
    _strokes(sheet, path("M", x - 8, y - 8, "L", x + 8, y + 8))
    _strokes(sheet, path("M", x + 8, y - 8, "L", x - 8, y + 8))


def _atrial(sheet: Sheet, x: float, y: float) -> None:
    """A wall inside a chamber."""
    diamond = path("M", x, y - 9, "L", x + 9, y, "L", x, y + 9, "L", x - 9, y, "Z")
    _strokes(sheet, diamond, "#ffffff")
    _strokes(sheet, path("M", x - 5, y + 4, "L", x + 5, y - 4))


def _conditioning(sheet: Sheet, x: float, y: float) -> None:
    """An hourglass."""
    glass = path("M", x - 7, y - 9, "L", x + 7, y - 9, "L", x - 7, y + 9, "L", x + 7, y + 9, "Z")
    _strokes(sheet, glass, "#ffffff")


def _support(sheet: Sheet, x: float, y: float) -> None:
    """A pump."""
    sheet.add("circle", cx=x, cy=y, r=8, fill="#ffffff", stroke=INK, stroke_width=2)
    _strokes(sheet, path("M", x - 3, y - 4, "L", x + 5, y, "L", x - 3, y + 4, "Z"), INK)


_DRAW: dict[str, Callable[[Sheet, float, float], None]] = {
    "band": _band,
    "switch": _switch,
    "atrial switch": _atrial,
    "conditioning": _conditioning,
    "support": _support,
}
