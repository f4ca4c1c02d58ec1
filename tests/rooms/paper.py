"""What is measured on printed pages."""

from __future__ import annotations

from typing import TYPE_CHECKING

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
