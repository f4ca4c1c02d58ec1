"""The main picture: the body loop and the lung loop as two ribbons.

Width is flow, colour is saturation, numbers are always written. Where the ribbons touch is a
crossing, drawn as a bridge with an arrow each way. In the parallel topology each ribbon closes on
itself; in the series topology the great arteries swap sides and the two ribbons become one ring.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.draw.loops_frame import COMPACT, WIDE
from inseries.draw.loops_labels import draw_labels
from inseries.draw.loops_paths import (
    body_ribbon,
    bridges,
    crossed_arteries,
    lung_ribbon,
    opening_grips,
    tissue,
)
from inseries.draw.loops_plan import Plan, plan
from inseries.draw.svg import QUIET, Sheet

if TYPE_CHECKING:
    from inseries.draw.views import LoopsView


def ribbon_svg(view: LoopsView, *, compact: bool = False) -> str:
    """The two loops as SVG.

    Parameters
    ----------
    view : LoopsView, with each of the nine stations once
    compact : for a page that itself carries title and sentence: larger letters, less height

    Returns
    -------
    str, one SVG file, meant for 170 mm on paper, 122 mm when compact; no letter is smaller than
    6.5 points at that width

    Raises
    ------
    OutputError, if a station is missing or a number is not finite
    """
    frame = COMPACT if compact else WIDE
    layout = plan(view, frame)
    sheet = Sheet(view.figure_id, frame.width)
    sheet.add("rect", x=0, y=0, width=frame.width, height=layout.height, fill="#ffffff")
    if frame.titled:
        _heading(sheet, layout)
    _ribbons(sheet, layout)
    draw_labels(sheet, layout)
    opening_grips(sheet, layout)
    return sheet.finish(layout.height, view.title, spoken(view))


def spoken(view: LoopsView) -> str:
    """The picture in words, for readers who do not see it."""
    stations = "; ".join(
        f"{s.name} {s.saturation_pct:.0f} %" + (f", {s.pressure_text} mmHg" * bool(s.pressure_text))
        for s in view.stations
    )
    return (
        f"{view.sentence} Body flow {view.body_flow_ml_min_kg:.0f}, lung flow "
        f"{view.lung_flow_ml_min_kg:.0f}, effective flow {view.effective_flow_ml_min_kg:.0f} "
        f"mL/min/kg. Saturations: {stations}."
    )


def _heading(sheet: Sheet, layout: Plan) -> None:
    margin = layout.frame.margin
    sheet.text(margin, 40, layout.view.title, size=22, face="Bold")
    for row, line in enumerate(layout.heading):
        sheet.text(margin, 66 + 21 * row, line, size=16, fill=QUIET)


def _ribbons(sheet: Sheet, layout: Plan) -> None:
    sheet.open_group("bridges")
    bridges(sheet, layout)
    sheet.close_group()
    sheet.open_group("body-loop")
    body_ribbon(sheet, layout).draw(sheet)
    sheet.close_group()
    sheet.open_group("lung-loop")
    lung_ribbon(sheet, layout).draw(sheet)
    sheet.close_group()
    if layout.view.topology == "series":
        sheet.open_group("great-arteries")
        crossed_arteries(sheet, layout)
        sheet.close_group()
    tissue(sheet, layout)
