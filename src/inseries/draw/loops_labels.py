"""The words and numbers of the loops picture, each in a place that is kept free for it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.draw.bands import thick
from inseries.draw.colour import HIGH_PCT, LOW_PCT, saturation_colour
from inseries.draw.lettering import shortened, text_width
from inseries.draw.loops_paths import arrow_rows, trunk_edges
from inseries.draw.loops_plan import (
    CROSSING_SMALL,
    CROSSING_TITLE,
    TURN,
    Plan,
    Span,
    crossing_words,
)
from inseries.draw.svg import INK, QUIET, Anchor, Sheet

if TYPE_CHECKING:
    from inseries.draw.views import Crossing, StationCode

BAR_STEPS = (10, 20, 50, 100, 200, 500, 1000, 2000, 5000)  # chosen: flows of the scale bar
UNIT = "mL/min/kg"
LABEL_GAP = 13.0  # chosen: from a ribbon to a station's words
SIDES = ("right", "left")
MEANING = ("lung blood that reaches the body,", "and as much the other way")
SHORT_MEANING = ("from the lungs", "to the body")


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
    middle = (p.frame.outer + p.frame.inner) / 2
    for x, name, flow in ((middle, "body loop", body), (p.frame.width - middle, "lung loop", lung)):
        name_width = text_width(name, 18, "Bold")
        left = x - (name_width + 10 + text_width(flow, 16)) / 2
        sheet.text(left, y, name, size=18, face="Bold")
        sheet.text(left + name_width + 10, y, flow, size=16)


def _stations(sheet: Sheet, p: Plan) -> None:
    aorta = p.arteries.bottom - p.frame.aorta
    duct = p.ductal.top + p.frame.lower
    body, lung = thick(p.width(p.flows.body)) / 2, thick(p.width(p.flows.lung)) / 2
    right, left = p.frame.inner - _half(p, "right"), p.frame.far_inner + _half(p, "left")
    _station(sheet, p, "SV", p.frame.outer + body, p.atrial.middle, "start")
    _station(sheet, p, "RA", right, p.atrial.middle, "end")
    _station(sheet, p, "RV", right, p.ventricular.middle, "end")
    _station(sheet, p, "AoU", right, aorta, "end")
    inner = trunk_edges(p)[1] - thick(p.width(max(p.flows.lower, p.flows.before_duct)))
    _station(sheet, p, "AoD", right, duct, "end", bank=inner)
    _station(sheet, p, "PV", p.frame.far_outer - lung, p.atrial.middle, "end")
    _station(sheet, p, "LA", left, p.atrial.middle, "start")
    _station(sheet, p, "LV", left, p.ventricular.middle, "start")
    _station(sheet, p, "PA", left, duct, "start")


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
    room = _pair_room(p) if code in {"SV", "RA", "PV", "LA"} else 180
    edge = x if bank is None else bank
    sheet.add("line", x1=edge, y1=y, x2=x + sign * 8, y2=y, stroke=QUIET, stroke_width=1)
    at = x + sign * LABEL_GAP
    name = shortened(station.name, 14, room)
    sheet.text(at, y - p.frame.lead[0], name, size=14, fill=QUIET, anchor=anchor)
    sheet.text(at, y + 10, f"{station.saturation_pct:.0f} %", size=25, face="Bold", anchor=anchor)
    if station.pressure_text:
        words = f"{station.pressure_text} mmHg"
        if text_width(words, 14) > room:
            words = shortened(station.pressure_text, 14, room)
        sheet.text(at, y + p.frame.lead[1], words, size=14, fill=QUIET, anchor=anchor)


def _tissues(sheet: Sheet, p: Plan) -> None:
    arms = thick(p.width(p.flows.upper))
    legs = thick(p.width(p.flows.lower))
    x = p.frame.outer + thick(p.width(p.flows.body)) / 2 + 16
    upper, lower = p.view.upper_saturation_pct, p.view.lower_saturation_pct
    y = p.split.top + TURN + arms + 19
    sheet.text(x, y, f"arms, head: right hand {upper:.0f} %", size=14, face="Italic")
    y = p.bottom - legs / 2 - 11
    sheet.text(x, y, f"trunk, legs: foot {lower:.0f} %", size=14, face="Italic")
    lung = p.frame.far_outer - thick(p.width(p.flows.lung)) / 2 - 14
    sheet.text(lung, p.arteries.middle, "lungs", size=14, face="Italic", anchor="end")


def _pair_room(p: Plan) -> float:
    """Room for each of two labels that stand side by side within a loop."""
    body, lung = (thick(p.width(flow)) for flow in (p.flows.body, p.flows.lung))
    inside = p.frame.inner - p.frame.outer - max(body, lung, *(2 * _half(p, s) for s in SIDES))
    return (inside - 2 * LABEL_GAP - 6) / 2


def _crossing(sheet: Sheet, p: Plan, crossing: Crossing, span: Span) -> None:
    words, x, y = crossing_words(p.frame, crossing), p.frame.centre, span.top + 19
    for row, line in enumerate(words.title):
        sheet.text(
            x, y + p.frame.line * row, line, size=CROSSING_TITLE, face="Bold", anchor="middle"
        )
    y += p.frame.line * len(words.title) - 1
    for line in words.note:
        sheet.text(x, y, line, size=CROSSING_SMALL, face="Italic", anchor="middle")
    for _, middle, flow in arrow_rows(p, crossing, span):
        _pill(sheet, p, middle, f"{flow:.0f}")
    pitch = p.frame.line - 2
    y = span.bottom - 8 - pitch * (len(words.mixing) - 1)
    for row, line in enumerate(words.mixing):
        sheet.text(x, y + pitch * row, line, size=CROSSING_SMALL, fill=QUIET, anchor="middle")


def _pill(sheet: Sheet, p: Plan, y: float, words: str) -> None:
    x, width = p.frame.centre, text_width(words, 16, "Bold") + 16
    sheet.add("rect", x=x - width / 2, y=y - 10.5, width=width, height=21, rx=10.5, fill="#ffffff")
    sheet.text(x, y + 5.7, words, size=16, face="Bold", anchor="middle")


def _between(sheet: Sheet, p: Plan) -> None:
    x, figure = p.frame.centre, 28.0 if p.frame.titled else 25.0
    flow = f"{p.view.effective_flow_ml_min_kg:.0f}"
    sheet.text(x, p.top - 18, "effective flow", size=15, face="Bold", anchor="middle")
    unit, number = 15.0 if p.frame.titled else 14.0, text_width(flow, figure, "Bold") + 6
    left = x - (number + text_width(UNIT, unit)) / 2
    sheet.text(left, p.top + 14, flow, size=figure, face="Bold")
    sheet.text(left + number, p.top + 14, UNIT, size=unit)
    for row, words in enumerate(MEANING if p.frame.titled else SHORT_MEANING):
        sheet.text(x, p.top + 35 + 17 * row, words, size=14, fill=QUIET, anchor="middle")
    if not p.view.crossings and p.view.topology == "parallel":
        y = p.ventricular.top
        sheet.text(x, y, "no open crossing", size=15, face="Bold", anchor="middle")


def _legend(sheet: Sheet, p: Plan) -> None:
    y = p.height - (40 if p.frame.titled else 34)
    flow = next((f for f in BAR_STEPS if f * p.scale >= 10), BAR_STEPS[-1])
    thickness = flow * p.scale
    sheet.add("rect", x=p.frame.margin, y=y - thickness / 2, width=46, height=thickness, fill=INK)
    sheet.text(p.frame.margin + 58, y + 5, f"as wide as {flow} {UNIT}", size=14, fill=QUIET)
    if p.view.upper_flow_ml_min_kg is None:
        words = "the two branches of the aorta are drawn equally wide"
        sheet.text(p.frame.margin, p.height - 10, words, size=14, fill=QUIET)
    _colour_bar(sheet, p, y)


def _colour_bar(sheet: Sheet, p: Plan, y: float) -> None:
    left, right = p.frame.colour_bar, p.frame.width - p.frame.margin - 12
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
