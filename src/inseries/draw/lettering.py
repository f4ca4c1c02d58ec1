"""How wide letters are, read from the font files that travel with the package.

Every label is placed by its true width, so nothing overlaps and nothing is cut, whoever renders
the picture. Liberation Sans carries the Open Font License; its text lies beside the files.
"""

from __future__ import annotations

import struct
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Literal

Face = Literal["Regular", "Bold", "Italic"]

FAMILY = "Liberation Sans, sans-serif"

ASCENT = 0.76  # chosen: height above the baseline that figures and capitals need, in em
DESCENT = 0.22  # chosen: depth below the baseline that "g" and "p" need, in em


def font_folder() -> Path:
    """The folder with Liberation Sans in regular, bold and italic, and its licence.

    Returns
    -------
    Path, one folder for every exporter: SVG to PNG, PDF and web page alike
    """
    return Path(str(files("inseries.draw"))) / "fonts"


def text_width(text: str, size: float, face: Face = "Regular") -> float:
    """Width of one line of text.

    Parameters
    ----------
    text : str
    size : float, font size in drawing units
    face : str, ``"Regular"``, ``"Bold"`` or ``"Italic"``

    Returns
    -------
    float, drawing units; the sum of advance widths, no kerning
    """
    advances = _advances(face)
    return size * sum(advances.get(ord(letter), advances[ord("?")]) for letter in text)


def drawable(text: str) -> str:
    """The text with each letter that the font lacks replaced by a question mark.

    One missing letter would move a whole line to another font with other widths.
    """
    known, line = _letters(), " ".join(text.split())
    if known.issuperset(line):
        return line
    return "".join(letter if letter in known else "?" for letter in line)


def wrapped(text: str, size: float, width: float, face: Face = "Regular") -> tuple[str, ...]:
    """The text in lines no wider than ``width``; a word that is too long is broken."""
    lines: list[str] = []
    line = ""
    for word in drawable(text).split(" "):
        for piece in _pieces(word, size, width, face):
            longer = f"{line} {piece}" if line else piece
            if line and text_width(longer, size, face) > width:
                lines.append(line)
                line = piece
            else:
                line = longer
    return (*lines, line) if line else tuple(lines)


def shortened(text: str, size: float, width: float, face: Face = "Regular") -> str:
    """The text cut to ``width`` with an ellipsis where it does not fit."""
    text = drawable(text)
    if text_width(text, size, face) <= width:
        return text
    while text and text_width(f"{text}…", size, face) > width:
        text = text[:-1]
    return f"{text.rstrip()}…" if text else ""


def _pieces(word: str, size: float, width: float, face: Face) -> list[str]:
    pieces = [""]
    for letter in word:
        if pieces[-1] and text_width(pieces[-1] + letter, size, face) > width:
            pieces.append("")
        pieces[-1] += letter
    return pieces


@cache
def _letters() -> frozenset[str]:
    """What every face has."""
    others: tuple[Face, ...] = ("Bold", "Italic")
    regular = frozenset(map(chr, _advances("Regular")))
    return regular.intersection(*(map(chr, _advances(face)) for face in others))


@cache
def _advances(face: Face) -> dict[int, float]:
    """Advance width in em of every letter that the face has."""
    data = (font_folder() / f"LiberationSans-{face}.ttf").read_bytes()
    tables = _tables(data)
    per_em: int = struct.unpack_from(">H", data, tables["head"] + 18)[0]
    counted: int = struct.unpack_from(">H", data, tables["hhea"] + 34)[0]
    metrics = struct.unpack_from(f">{2 * counted}H", data, tables["hmtx"])[::2]
    return {
        letter: metrics[min(glyph, counted - 1)] / per_em
        for letter, glyph in _glyphs(data, tables["cmap"])
        if glyph
    }


def _tables(data: bytes) -> dict[str, int]:
    """Offset of each table of a TrueType file, by its four-letter name."""
    count: int = struct.unpack_from(">H", data, 4)[0]
    rows = (struct.unpack_from(">4sIII", data, 12 + 16 * row) for row in range(count))
    return {name.decode("ascii"): offset for name, _, offset, _ in rows}


def _glyphs(data: bytes, cmap: int) -> list[tuple[int, int]]:
    """Pairs of letter and glyph number from the segmented map (format 4) of a TrueType file."""
    start = cmap + _windows_map(data, cmap)
    n = struct.unpack_from(">H", data, start + 6)[0] // 2
    ends = struct.unpack_from(f">{n}H", data, start + 14)
    firsts = struct.unpack_from(f">{n}H", data, start + 16 + 2 * n)
    deltas = struct.unpack_from(f">{n}H", data, start + 16 + 4 * n)
    at = start + 16 + 6 * n
    ranges = struct.unpack_from(f">{n}H", data, at)
    pairs: list[tuple[int, int]] = []
    for i in range(n):
        for letter in range(firsts[i], ends[i] + 1):
            glyph = letter
            if ranges[i]:
                place = at + 2 * i + ranges[i] + 2 * (letter - firsts[i])
                glyph = struct.unpack_from(">H", data, place)[0] if place < len(data) - 1 else 0
            pairs.append((letter, (glyph + deltas[i]) % 65536 if glyph or not ranges[i] else 0))
    return pairs


def _windows_map(data: bytes, cmap: int) -> int:
    """Offset, within the map table, of the map for Windows with letters of 16 bits."""
    count: int = struct.unpack_from(">H", data, cmap + 2)[0]
    rows = [struct.unpack_from(">HHI", data, cmap + 4 + 8 * row) for row in range(count)]
    return next(offset for platform, encoding, offset in rows if (platform, encoding) == (3, 1))
