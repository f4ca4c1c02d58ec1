"""A reader of our SVG for tests: parsed elements, and text boxes from the outside.

The widths come from Pillow's own reading of the font, not from the package's.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from xml.etree import ElementTree

from PIL import ImageFont

from inseries.draw.lettering import font_folder

NAMESPACE = "{http://www.w3.org/2000/svg}"
POINTS_PER_MM = 72 / 25.4
BRIEF_PICTURE_MM = 122.0  # the width at which the brief prints both pictures
FACES = {"Regular": (None, None), "Bold": ("bold", None), "Italic": (None, "italic")}


@dataclass(frozen=True)
class Box:
    """The place that a text takes."""

    words: str
    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Box) -> bool:
        """Whether the two boxes share more than half a drawing unit in both directions."""
        return (
            min(self.right, other.right) - max(self.left, other.left) > 0.5
            and min(self.bottom, other.bottom) - max(self.top, other.top) > 0.5
        )


@cache
def _font(face: str) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(str(font_folder() / f"LiberationSans-{face}.ttf"), 1000)


def root_of(svg: str) -> ElementTree.Element:
    """The parsed picture."""
    return ElementTree.fromstring(svg)


def named(root: ElementTree.Element, tag: str) -> list[ElementTree.Element]:
    """All elements with this tag, in order."""
    return list(root.iter(f"{NAMESPACE}{tag}"))


def text_boxes(root: ElementTree.Element) -> list[Box]:
    """The box of every text, from ascent 0.74 em to descent 0.21 em."""
    return [_box(element) for element in named(root, "text")]


def smallest_points(svg: str, printed_mm: float) -> float:
    """Size of the smallest letters in points when the picture is printed this wide."""
    root = root_of(svg)
    wide = float(root.get("viewBox", "").split()[2])
    sizes = [float(element.get("font-size", "0")) for element in named(root, "text")]
    return min(sizes) * printed_mm / wide * POINTS_PER_MM


def _box(element: ElementTree.Element) -> Box:
    look = (element.get("font-weight"), element.get("font-style"))
    face = next(name for name, attributes in FACES.items() if attributes == look)
    size, words = float(element.get("font-size", "0")), element.text or ""
    width = _font(face).getlength(words) * size / 1000
    x, y = float(element.get("x", "0")), float(element.get("y", "0"))
    left = {"start": x, "middle": x - width / 2, "end": x - width}[
        element.get("text-anchor", "start")
    ]
    return Box(words, left, y - 0.74 * size, left + width, y + 0.21 * size)


def faults(svg: str, prefix: str) -> list[str]:
    """Everything that no picture of ours may have."""
    root = root_of(svg)
    found = [f"not finite: {word}" for word in re.findall(r"\b(nan|inf)\b", svg, re.IGNORECASE)]
    tags = {element.tag.removeprefix(NAMESPACE) for element in root.iter()}
    found += [f"element {tag}" for tag in tags & {"style", "script", "animate", "image", "use"}]
    ids = [element.get("id", "") for element in root.iter() if element.get("id")]
    found += [f"id {name} twice" for name in set(ids) if ids.count(name) > 1]
    found += [f"id {name}" for name in ids if not name.startswith(f"{prefix}-")]
    for element in root.iter():
        found += [f"attribute {k}" for k in element.attrib if k in {"style", "class"}]
        paints = (element.get("fill", ""), element.get("stroke", ""))
        refers = [paint[5:-1] for paint in paints if paint.startswith("url(#")]
        found += [f"no such paint {name}" for name in refers if name not in ids]
    families = {element.get("font-family") for element in named(root, "text")}
    found += [f"font {family}" for family in families - {"Liberation Sans, sans-serif"}]
    return found + _misplaced(root)


def _misplaced(root: ElementTree.Element) -> list[str]:
    _, _, width, height = (float(part) for part in root.get("viewBox", "").split())
    boxes = text_boxes(root)
    found = [
        f"outside: {box}"
        for box in boxes
        if box.left < 0 or box.top < 0 or box.right > width or box.bottom > height
    ]
    return found + [
        f"overlap: {a} | {b}" for i, a in enumerate(boxes) for b in boxes[:i] if a.meets(b)
    ]
