"""The patch in true size, as picture and on paper."""

from __future__ import annotations

import re
from dataclasses import replace
from io import BytesIO

import pytest
from pypdf import PdfReader

from inseries.base.errors import OutputError
from inseries.brief.patch_page import patch_page_pdf
from inseries.draw.patch_sheet import PatchSheet, Piece, patch_sheet_svg
from inseries.repair import Wall, legs, trousers

WALL = Wall(lower_mm=9.6, upper_mm=9.0, height_mm=5.0)
SHEET = PatchSheet(
    title="Patch of the lung artery, invented sizes",
    figure_id="patch",
    pieces=tuple(
        Piece(
            name=piece.name,
            note=f"{piece.area_mm2:.0f} mm² within the suture",
            cut_mm=tuple((float(x), float(y)) for x, y in piece.outline_mm),
            stitch_mm=tuple((float(x), float(y)) for x, y in piece.stitch_mm),
        )
        for piece in (trousers(WALL, (6.0, 6.0), 7.0, 8.0), *legs(WALL, (6.0, 6.0), 7.0))
    ),
)


def test_one_unit_is_one_millimetre() -> None:
    """The drawn cut line is as wide and high as the outline, to a hundredth of a millimetre."""
    svg = patch_sheet_svg(SHEET)
    drawn = re.search(r'<g id="patch-one-piece-cut">\s*<path d="([^"]+)"', svg)
    assert drawn is not None
    numbers = [float(each) for each in re.findall(r"-?[\d.]+", drawn[1])]
    for axis, values in ((0, numbers[::2]), (1, numbers[1::2])):
        told = [point[axis] for point in SHEET.pieces[0].cut_mm]
        assert max(values) - min(values) == pytest.approx(max(told) - min(told), abs=0.02)


def test_the_page_is_a4_and_says_what_it_is_for() -> None:
    """One page of A4 says planning only, and how to check its scale."""
    page = patch_page_pdf(patch_sheet_svg(SHEET), title=SHEET.title, alt="the pieces")
    pages = PdfReader(BytesIO(page)).pages
    assert len(pages) == 1
    assert float(pages[0].mediabox.width) == pytest.approx(210.0 / 25.4 * 72.0, abs=0.1)
    assert "Planning only, trim in theatre" in pages[0].extract_text()


def test_a_piece_wider_than_the_page_is_refused() -> None:
    """A piece is never shrunk to fit."""
    wide = tuple((10.0 * x, y) for x, y in SHEET.pieces[0].cut_mm)
    with pytest.raises(OutputError) as refusal:
        patch_sheet_svg(replace(SHEET, pieces=(replace(SHEET.pieces[0], cut_mm=wide),)))
    assert refusal.value.code == "patch_too_large"
