"""What is measured on printed pages."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from pypdf.generic import ContentStream

if TYPE_CHECKING:
    from pypdf import PageObject


def letters_in_pictures(page: PageObject) -> list[float]:
    """Printed sizes in points of a page's letters that are scaled, as only pictures are."""
    found: list[float] = []

    def note(text: str, place: list[float], own: list[float], _: object, size: float) -> None:
        if text.strip() and abs(abs(place[3]) - 1) > 1e-3:
            found.append(abs(size * place[3] * own[3]))

    page.extract_text(visitor_text=note)
    return found


def stroked_boxes_mm(page: PageObject) -> list[tuple[float, float]]:
    """Width and height in printed millimetres of every line that a page strokes."""
    content = ContentStream(page.get_contents(), page.pdf)
    place, kept = np.eye(3), [np.eye(3)]
    points: list[np.ndarray] = []
    found: list[tuple[float, float]] = []
    for operands, operator in content.operations:
        if operator == b"q":
            kept.append(place)
        elif operator == b"Q":
            place = kept.pop()
        elif operator == b"cm":
            a, b, c, d, e, f = (float(each) for each in operands)
            place = np.array([[a, b, 0.0], [c, d, 0.0], [e, f, 1.0]]) @ place
        elif operator in {b"m", b"l", b"c"}:
            pairs = np.array([float(each) for each in operands]).reshape(-1, 2)
            points += [np.array([x, y, 1.0]) @ place for x, y in pairs]
        elif operator in {b"S", b"s"} and points:
            wide, high, _ = np.ptp(np.array(points), axis=0) / POINTS_PER_MM
            found.append((float(wide), float(high)))
            points = []
        elif operator in {b"n", b"f", b"f*"}:
            points = []
    return found


# derived: a point is 1/72 of an inch of 25.4 mm
POINTS_PER_MM = 72.0 / 25.4
