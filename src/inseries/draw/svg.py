"""A small sheet to draw on: numbers, escaping, ids and text, all with presentation attributes.

No ``style`` attribute, no style sheet and no script, so the same file goes into a strict web page,
a PDF and a PNG. Every id begins with the figure's own prefix, so figures can share a page.
"""

from __future__ import annotations

import re
from functools import cache
from math import isfinite
from typing import Literal
from xml.sax.saxutils import escape, quoteattr

from inseries.base.errors import OutputError
from inseries.draw.lettering import FAMILY, Face, drawable

Anchor = Literal["start", "middle", "end"]

INK = "#23263a"  # chosen: text
QUIET = "#5d6173"  # chosen: secondary text, contrast above 5 on white
RULE = "#c9ccd6"  # chosen: thin lines
PALE = "#f1f1f4"  # chosen: quiet areas

Attribute = str | float


class Sheet:
    """A drawing under construction.

    Parameters
    ----------
    figure_id : str, prefix of every id; letters that an id cannot hold become ``-``
    width : float, drawing units
    """

    def __init__(self, figure_id: str, width: float) -> None:
        self.width = width
        cleaned = re.sub(r"[^A-Za-z0-9_-]", "-", figure_id)
        self._prefix = cleaned if cleaned[:1].isalpha() else f"figure-{cleaned}"
        self._part = ""
        self._defs: list[str] = []
        self._body: list[str] = []

    def id(self, name: str) -> str:
        """The name with the figure's prefix."""
        return f"{self._prefix}-{self._part}{name}"

    def prefix(self, part: str) -> None:
        """Names that follow begin with this too, so that a drawing can stand twice on a sheet."""
        self._part = part

    def add(self, tag: str, **attributes: Attribute) -> None:
        """Adds one empty element; ``_`` in an attribute's name becomes ``-``."""
        self._body.append(f"<{tag}{_attributes(attributes)}/>")

    def underlay(self, tag: str, **attributes: Attribute) -> None:
        """Adds one empty element beneath all others."""
        self._body.insert(0, f"<{tag}{_attributes(attributes)}/>")

    def define(self, tag: str, name: str, inner: str, **attributes: Attribute) -> str:
        """Adds a definition and gives the paint that refers to it."""
        ident = self.id(name)
        self._defs.append(f"<{tag}{_attributes({'id': ident, **attributes})}>{inner}</{tag}>")
        return f"url(#{ident})"

    def text(
        self,
        x: float,
        y: float,
        words: str,
        *,
        size: float = 15,
        face: Face = "Regular",
        anchor: Anchor = "start",
        fill: str = INK,
        **further: Attribute,
    ) -> None:
        """Adds one line of text with its baseline at ``y``; empty words add nothing."""
        words = drawable(words)
        if not words:
            return
        looks: dict[str, Attribute] = {"x": x, "y": y, "font_size": size, "fill": fill, **further}
        if anchor != "start":
            looks["text_anchor"] = anchor
        if face == "Bold":
            looks["font_weight"] = "bold"
        if face == "Italic":
            looks["font_style"] = "italic"
        looks["font_family"] = FAMILY
        self._body.append(f"<text{_attributes(looks)}>{escape(words)}</text>")

    def open_group(self, name: str, **attributes: Attribute) -> None:
        """Begins a group with an id, so that a reader of the file finds its way."""
        self._body.append(f"<g{_attributes({'id': self.id(name), **attributes})}>")

    def close_group(self) -> None:
        """Ends the group last begun."""
        self._body.append("</g>")

    def finish(self, height: float, title: str, description: str) -> str:
        """The whole file as text, with a spoken title and description."""
        title_id, description_id = self.id("title"), self.id("description")
        size = f"{number(self.width)} {number(height)}"
        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size}"'
            f' width="{number(self.width)}" height="{number(height)}" role="img"'
            f' aria-labelledby="{title_id} {description_id}">'
        )
        words = (
            f'<title id="{title_id}">{escape(drawable(title))}</title>'
            f'<desc id="{description_id}">{escape(drawable(description))}</desc>'
        )
        defs = f"<defs>{''.join(self._defs)}</defs>" if self._defs else ""
        return "\n".join([head + words, defs, *self._body, "</svg>"]) + "\n"


def number(value: float) -> str:
    """A number as short text with at most two decimals.

    Raises
    ------
    OutputError, if the number is not finite: a picture never shows a hole as a place
    """
    if not isfinite(value):
        raise OutputError(
            "a picture cannot show a number that is not finite",
            code="not_finite",
            where="draw",
            value=str(value),
            remedy="leave the value out of the view where it could not be computed",
        )
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def path(*steps: str | float) -> str:
    """Path data from commands and numbers."""
    return " ".join(step if isinstance(step, str) else number(step) for step in steps)


def through(points: list[tuple[float, float]]) -> str:
    """Path data of a line through points."""
    steps: list[float | str] = []
    for i, point in enumerate(points):
        steps += ["L" if i else "M", *point]
    return path(*steps)


def _attributes(attributes: dict[str, Attribute]) -> str:
    return "".join(f" {_name(name)}={_quoted(value)}" for name, value in attributes.items())


@cache
def _name(keyword: str) -> str:
    return keyword.replace("_", "-")


def _quoted(value: Attribute) -> str:
    if not isinstance(value, str):
        return f'"{number(value)}"'
    return f'"{value}"' if _SPECIAL.search(value) is None else quoteattr(value)


# what an attribute cannot hold as it is
_SPECIAL = re.compile(r'[&<>"\n\r\t]')
