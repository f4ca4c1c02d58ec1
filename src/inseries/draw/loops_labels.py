"""The words and numbers of the loops picture, each in a place that is kept free for it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.draw.bands import thick
from inseries.draw.colour import HIGH_PCT, LOW_PCT, saturation_colour
from inseries.draw.lettering import shortened, text_width
from inseries.draw.loops_paths import FAR_INNER, FAR_OUTER, arrow_rows, trunk_edges
from inseries.draw.loops_plan import INNER, MARGIN, OUTER, TURN, WIDTH, Plan, Span
from inseries.draw.svg import INK, QUIET, Anchor, Sheet

if TYPE_CHECKING:
    from inseries.draw.views import Crossing, StationCode

CENTRE = WIDTH / 2  # derived: the heart stands in the middle of the page
BAR_STEPS = (10, 20, 50, 100, 200, 500, 1000, 2000, 5000)  # chosen: flows of the scale bar
UNIT = "mL/min/kg"


def draw_labels(sheet: Sheet, p: Plan) -> None:
    """All words of the picture but its title and sentence."""
    sheet.open_group("labels")
    _loop_names(sheet, p)
    _stations(sheet, p)
    _tissues(sheet, p)
    for crossing in p.view.crossings:
        spans = {"atrial": p.atrial, "ventricular": p.ventricular, "ductal": p.ductal}
        _crossing(sheet, p, crossing, spans[crossing.site])
    _between(sheet, p)
    sheet.close_group()
    sheet.open_group("legend")
    _legend(sheet, p)
    sheet.close_group()


def _loop_names(sheet: Sheet, p: Plan) -> None:
    y = p.top - p.width(max(p.flows.body, p.flows.lung)) / 2 - 14
    body, lung = f"{p.flows.body:.0f} {UNIT}", f"{p.flows.lung:.0f} {UNIT}"
    middle = (OUTER + INNER) / 2
    for x, name, flow in ((middle, "body loop", body), (WIDTH - middle, "lung loop", lung)):
        name_width = text_width(name, 18, "Bold")
        left = x - (name_width + 10 + text_width(flow, 16)) / 2
        sheet.text(left, y, name, size=18, face="Bold")
        sheet.text(left + name_width + 10, y, flow, size=16)


def _stations(sheet: Sheet, p: Plan) -> None:
    aorta = p.arteries.bottom - 38
    duct = p.ductal.top + 42
    body, lung = thick(p.width(p.flows.body)) / 2, thick(p.width(p.flows.lung)) / 2
    right, left = INNER - _half(p, "right"), FAR_INNER + _half(p, "left")
    _station(sheet, p, "SV", OUTER + body, p.atrial.middle, "start")
    _station(sheet, p, "RA", right, p.atrial.middle, "end")
    _station(sheet, p, "RV", right, p.ventricular.middle, "end")
    _station(sheet, p, "AoU", right, aorta, "end")
    inner = trunk_edges(p)[1] - thick(p.width(max(p.flows.lower, p.flows.before_duct)))
    _station(sheet, p, "AoD", right, duct, "end", bank=inner)
    _station(sheet, p, "PV", FAR_OUTER - lung, p.atrial.middle, "end")
    _station(sheet, p, "LA", left, p.atrial.middle, "start")
    _station(sheet, p, "LV", left, p.ventricular.middle, "start")
    _station(sheet, p, "PA", left, p.ductal.top + 42, "start")


def _half(p: Plan, side: str) -> float:
    """Half of the widest ribbon on one side of the heart."""
    f = p.flows
    right = (f.body, f.right_mid, f.right_out, f.upper + f.before_duct, f.lower)
    left = (f.lung, f.left_mid, f.left_out)
    return thick(p.width(max(right if side == "right" else left))) / 2


def _station(
    sheet: Sheet,
    p: Plan,
    code: StationCode,
    x: float,
    y: float,
    anchor: Anchor,
    *,
    bank: float | None = None,
) -> None:
    station = p.station(code)
    sign = 1 if anchor == "start" else -1
    room = 92 if code in {"SV", "RA", "PV", "LA"} else 180
    edge = x if bank is None else bank
    sheet.add("line", x1=edge, y1=y, x2=x + sign * 8, y2=y, stroke=QUIET, stroke_width=1)
    at = x + sign * 13
    name = shortened(station.name, 14, room)
    sheet.text(at, y - 15, name, size=14, fill=QUIET, anchor=anchor)
    sheet.text(at, y + 10, f"{station.saturation_pct:.0f} %", size=25, face="Bold", anchor=anchor)
    if station.pressure_text:
        words = shortened(f"{station.pressure_text} mmHg", 14, room)
        sheet.text(at, y + 29, words, size=14, fill=QUIET, anchor=anchor)


def _tissues(sheet: Sheet, p: Plan) -> None:
    arms = thick(p.width(p.flows.upper))
    legs = thick(p.width(p.flows.lower))
    x = OUTER + thick(p.width(p.flows.body)) / 2 + 16
    upper, lower = p.view.upper_saturation_pct, p.view.lower_saturation_pct
    y = p.split.top + TURN + arms + 19
    sheet.text(x, y, f"arms, head: right hand {upper:.0f} %", size=14, face="Italic")
    y = p.bottom - legs / 2 - 11
    sheet.text(x, y, f"trunk, legs: foot {lower:.0f} %", size=14, face="Italic")
    lung = FAR_OUTER - thick(p.width(p.flows.lung)) / 2 - 14
    sheet.text(lung, p.arteries.middle, "lungs", size=14, face="Italic", anchor="end")


def _crossing(sheet: Sheet, p: Plan, crossing: Crossing, span: Span) -> None:
    size = "" if crossing.size_mm is None else f", {crossing.size_mm:.1f}".rstrip("0").rstrip(".")
    words = f"{crossing.site} crossing{size}{' mm' if size else ''}"
    sheet.text(CENTRE, span.top + 19, words, size=15, face="Bold", anchor="middle")
    if crossing.note:
        note = shortened(crossing.note, 14, 226, "Italic")
        sheet.text(CENTRE, span.top + 38, note, size=14, face="Italic", anchor="middle")
    for _, y, flow in arrow_rows(p, crossing, span):
        _pill(sheet, y, f"{flow:.0f}")
    if crossing.eddy_ml_min_kg > 0:
        mixing = f"and {crossing.eddy_ml_min_kg:.0f} mixing each way"
        sheet.text(CENTRE, span.bottom - 8, mixing, size=14, fill=QUIET, anchor="middle")


def _pill(sheet: Sheet, y: float, words: str) -> None:
    width = text_width(words, 16, "Bold") + 16
    sheet.add(
        "rect", x=CENTRE - width / 2, y=y - 10.5, width=width, height=21, rx=10.5, fill="#ffffff"
    )
    sheet.text(CENTRE, y + 5.7, words, size=16, face="Bold", anchor="middle")


def _between(sheet: Sheet, p: Plan) -> None:
    flow = f"{p.view.effective_flow_ml_min_kg:.0f}"
    sheet.text(CENTRE, p.top - 18, "effective flow", size=15, face="Bold", anchor="middle")
    width = text_width(flow, 28, "Bold") + 6 + text_width(UNIT, 15)
    left = CENTRE - width / 2
    sheet.text(left, p.top + 14, flow, size=28, face="Bold")
    sheet.text(left + text_width(flow, 28, "Bold") + 6, p.top + 14, UNIT, size=15)
    for row, words in enumerate(("lung blood that reaches the body,", "and as much the other way")):
        sheet.text(CENTRE, p.top + 35 + 18 * row, words, size=14, fill=QUIET, anchor="middle")
    if not p.view.crossings and p.view.topology == "parallel":
        y = p.ventricular.top
        sheet.text(CENTRE, y, "no open crossing", size=15, face="Bold", anchor="middle")


def _legend(sheet: Sheet, p: Plan) -> None:
    y = p.height - 40
    flow = next((f for f in BAR_STEPS if f * p.scale >= 12), BAR_STEPS[-1])
    thickness = flow * p.scale
    sheet.add("rect", x=MARGIN, y=y - thickness / 2, width=46, height=thickness, fill=INK)
    sheet.text(MARGIN + 58, y + 5, f"as wide as {flow} {UNIT}", size=14, fill=QUIET)
    if p.view.upper_flow_ml_min_kg is None:
        words = "the two branches of the aorta are drawn equally wide"
        sheet.text(MARGIN, p.height - 10, words, size=14, fill=QUIET)
    _colour_bar(sheet, y)


def _colour_bar(sheet: Sheet, y: float) -> None:
    left, right = 660.0, WIDTH - MARGIN - 12
    stops = "".join(
        f'<stop offset="{i / 16:g}" '
        f'stop-color="{saturation_colour(LOW_PCT + (HIGH_PCT - LOW_PCT) * i / 16)}"/>'
        for i in range(17)
    )
    paint = sheet.define("linearGradient", "scale", stops, x1=0, y1=0, x2=1, y2=0)
    sheet.text(left - 14, y + 5, "oxygen saturation, %", size=14, fill=QUIET, anchor="end")
    sheet.add("rect", x=left, y=y - 8, width=right - left, height=16, fill=paint)
    for pct in range(int(LOW_PCT), int(HIGH_PCT) + 1, 20):
        x = left + (right - left) * (pct - LOW_PCT) / (HIGH_PCT - LOW_PCT)
        sheet.add("line", x1=x, y1=y + 8, x2=x, y2=y + 13, stroke=QUIET, stroke_width=1)
        sheet.text(x, y + 27, f"{pct}", size=14, fill=QUIET, anchor="middle")
