"""Letters are as wide as the font says, and text never holds a letter the font lacks."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import ImageFont

from inseries.draw.lettering import drawable, font_folder, shortened, text_width, wrapped


@pytest.mark.parametrize("face", ["Regular", "Bold", "Italic"])
@pytest.mark.parametrize("text", ["right atrium", "68/44 (53) mmHg", "100 %", "Ö → ≈ é…"])
def test_width_against_freetype(face: str, text: str) -> None:
    """Our widths are those of FreeType, which reads the same font, without kerning."""
    font = ImageFont.truetype(
        str(font_folder() / f"LiberationSans-{face}.ttf"),
        2048,
        layout_engine=ImageFont.Layout.BASIC,
    )
    theirs = sum(font.getlength(letter) for letter in text)
    assert text_width(text, 2048, face) == pytest.approx(theirs, rel=2e-3)


def test_licence_lies_beside_the_fonts() -> None:
    """The fonts travel with the text of their licence."""
    assert "SIL OPEN FONT LICENSE Version 1.1" in (font_folder() / "OFL.txt").read_text()


@given(st.text(max_size=80), st.floats(60, 300))
def test_lines_fit(text: str, width: float) -> None:
    """Wrapped lines fit and keep every letter; shortened text fits."""
    lines = wrapped(text, 14, width)
    assert all(text_width(line, 14) <= width for line in lines)
    assert "".join(lines).replace(" ", "") == drawable(text).replace(" ", "")
    assert text_width(shortened(text, 14, width), 14) <= width


def test_missing_letters_are_replaced() -> None:
    """A letter that the font lacks becomes a question mark instead of another font."""
    assert drawable("漢a\u202fb") == "?a b"
