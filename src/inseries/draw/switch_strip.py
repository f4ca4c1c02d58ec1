"""All steps of a switch on one sheet, for paper and for a page that does not move."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.draw.svg import QUIET, Sheet, number
from inseries.draw.switch_frame import draw_pieces
from inseries.draw.switch_labels import draw_tags
from inseries.draw.switch_steps import ABOVE_DEG, SEEN, bar, fitted
from inseries.draw.switch_view import STEPS

if TYPE_CHECKING:
    from inseries.draw.switch_view import SwitchView

# chosen: steps in a row, size of one, drawing units
COLUMNS, WIDE, HIGH = 4, 250.0, 300.0
# chosen: room for words above a step and beneath the sheet, letters
HEAD, FOOT, LETTER = 40.0, 40.0, 15.0
# chosen: room at the edges of a step, drawing units
EDGES = 10.0


def switch_strip_svg(view: SwitchView) -> str:
    """Every step side by side, in one scale.

    Parameters
    ----------
    view : SwitchView

    Returns
    -------
    str, SVG
    """
    sheet = Sheet(f"{view.figure_id}-strip", COLUMNS * WIDE)
    camera = fitted(view, ABOVE_DEG, (EDGES, WIDE - EDGES), (HEAD, HEAD + HIGH - EDGES))
    for step in range(STEPS):
        row, column = divmod(step, COLUMNS)
        place = f"translate({number(column * WIDE)} {number(row * (HIGH + HEAD))})"
        sheet.open_group(f"step-{step}", transform=place)
        sheet.prefix(f"{step}-")
        for i, words in enumerate(f"{step + 1}. {view.titles[step]}".split("\n")):
            sheet.text(EDGES, 18.0 + 17.0 * i, words, size=LETTER, face="Bold")
        draw_pieces(sheet, view, camera, step, moving=False)
        draw_tags(sheet, view, camera, step, moving=False)
        sheet.prefix("")
        sheet.close_group()
    low = 2.0 * (HIGH + HEAD)
    bar(sheet, camera.scale, (3.0 * WIDE + EDGES, low - FOOT))
    sheet.text(EDGES, low + FOOT / 2.0, SEEN, size=LETTER, fill=QUIET)
    return sheet.finish(low + FOOT, view.title, spoken(view))


def spoken(view: SwitchView) -> str:
    """The steps in words."""
    steps = "; ".join(f"{i}. {words}" for i, words in enumerate(view.titles, start=1))
    names = ", ".join(each.name for each in view.buttons)
    return f"{view.title}, to scale, with the buttons {names}: {steps}. {SEEN}"
