"""The ribbons, bridges and flow marks of the loops picture, without any words."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from inseries.draw.bands import (
    LAP,
    Edges,
    Pcts,
    Ribbon,
    arrow,
    bend,
    blend,
    box,
    edges,
    swerve,
    taper,
    thick,
)
from inseries.draw.colour import ink_on, saturation_colour
from inseries.draw.grips import pull_grip
from inseries.draw.loops_plan import TURN, Plan, Span, arrow_row, crossing_words
from inseries.draw.svg import INK, PALE, RULE, Sheet, path

if TYPE_CHECKING:
    from inseries.draw.views import Crossing, Site, StationCode

Way = Literal["leftward", "rightward"]
PER_MM = 16.0  # chosen: drawing units that a finger moves for one millimetre
SOURCES: dict[Site, dict[Way, StationCode]] = {
    "atrial": {"leftward": "LA", "rightward": "RA"},
    "ventricular": {"leftward": "LV", "rightward": "RV"},
    "ductal": {"leftward": "PA", "rightward": "AoU"},
}


def body_ribbon(sheet: Sheet, p: Plan) -> Ribbon:
    """Veins, right heart, aorta with its two branches, tissue, and back."""
    ribbon = Ribbon()
    flows, veins, legs = p.flows, p.width(p.flows.body), p.width(p.flows.lower)
    plain = saturation_colour(p.pct("SV"))
    ribbon.lay(
        _across(p.frame.outer + p.frame.corner, p.frame.inner - p.frame.corner, p.top, veins), plain
    )
    ribbon.lay(_corner(p, p.frame.inner - p.frame.corner, p.top + p.frame.corner, veins, 3), plain)
    ribbon.lay(_corner(p, p.frame.outer + p.frame.corner, p.top + p.frame.corner, veins, 2), plain)
    names = ("SV", "RA", "RV")
    widths = (flows.body, flows.right_mid, flows.right_out)
    _heart(sheet, p, ribbon, p.frame.inner, [p.pct(n) for n in names], [p.width(w) for w in widths])
    _aorta(sheet, p, ribbon)
    near, far = leg_centres(p)
    ends = (near - p.frame.corner, p.bottom), (far + p.frame.corner, p.bottom)
    foot = blend(sheet, "tissue-legs", *ends, pct=(p.pct("AoD"), p.pct("SV")))
    low = saturation_colour(p.pct("AoD"))
    ribbon.lay(_corner(p, near - p.frame.corner, p.bottom - p.frame.corner, legs, 0), low)
    ribbon.lay(_across(far + p.frame.corner, near - p.frame.corner, p.bottom, legs), foot)
    ribbon.lay(_corner(p, far + p.frame.corner, p.bottom - p.frame.corner, legs, 1), plain)
    _return(p, ribbon, plain)
    return ribbon


def lung_ribbon(sheet: Sheet, p: Plan) -> Ribbon:
    """Lung veins, left heart, lung artery, lungs, and back."""
    ribbon = Ribbon()
    flows, lung = p.flows, p.width(p.flows.lung)
    plain, low = saturation_colour(p.pct("PV")), saturation_colour(p.pct("PA"))
    ribbon.lay(
        _across(
            p.frame.far_inner + p.frame.corner, p.frame.far_outer - p.frame.corner, p.top, lung
        ),
        plain,
    )
    ribbon.lay(
        _corner(p, p.frame.far_inner + p.frame.corner, p.top + p.frame.corner, lung, 2), plain
    )
    ribbon.lay(
        _corner(p, p.frame.far_outer - p.frame.corner, p.top + p.frame.corner, lung, 3), plain
    )
    names = ("PV", "LA", "LV")
    widths = (flows.lung, flows.left_mid, flows.left_out)
    _heart(
        sheet, p, ribbon, p.frame.far_inner, [p.pct(n) for n in names], [p.width(w) for w in widths]
    )
    _lung_artery(sheet, p, ribbon)
    ribbon.lay(
        _corner(p, p.frame.far_inner + p.frame.corner, p.bottom - p.frame.corner, lung, 1), low
    )
    ribbon.lay(
        _across(
            p.frame.far_inner + p.frame.corner, p.frame.far_outer - p.frame.corner, p.bottom, lung
        ),
        low,
    )
    ribbon.lay(
        _corner(p, p.frame.far_outer - p.frame.corner, p.bottom - p.frame.corner, lung, 0), low
    )
    above, below = p.top + p.frame.corner, p.bottom - p.frame.corner
    paint = blend(
        sheet,
        "tissue-lungs",
        (p.frame.far_outer, below),
        (p.frame.far_outer, above),
        pct=(p.pct("PA"), p.pct("PV")),
    )
    ribbon.lay(_down(above, below, edges(p.frame.far_outer, lung)), paint)
    return ribbon


def crossed_arteries(sheet: Sheet, p: Plan) -> None:
    """The great arteries of the series topology: each ventricle feeds the other loop."""
    top, bottom = p.arteries.top - 1.2, p.arteries.bottom + 1.2
    flows = p.flows
    aorta = swerve(
        (p.frame.far_inner, top),
        (p.frame.inner, bottom),
        (p.width(flows.left_out), p.width(flows.upper + flows.before_duct)),
    )
    lung = swerve(
        (p.frame.inner, top),
        (p.frame.far_inner, bottom),
        (p.width(flows.right_out), p.width(_before_lung(p))),
    )
    ends = (p.frame.far_inner, top), (p.frame.inner, bottom)
    aorta.draw(sheet, blend(sheet, "aorta", *ends, pct=(p.pct("LV"), p.pct("AoU"))))
    lung.draw(sheet, saturation_colour(p.pct("RV")))


def bridges(sheet: Sheet, p: Plan) -> None:
    """Each crossing: a pale bridge between two rails, an arrow each way."""
    for crossing in p.view.crossings:
        span = {"atrial": p.atrial, "ventricular": p.ventricular, "ductal": p.ductal}[crossing.site]
        ends = [_banks(p, crossing, y) for y in (span.top, span.bottom)]
        near, far = min(e[0] for e in ends) - 1, max(e[1] for e in ends) + 1
        deck = {"x": near, "y": span.top, "width": far - near, "height": span.bottom - span.top}
        sheet.add("rect", **deck, fill=PALE)
        for y, (left, right) in zip((span.top, span.bottom), ends, strict=True):
            sheet.add("line", x1=left, y1=y, x2=right, y2=y, stroke=RULE, stroke_width=1.4)
        for way, y, flow in arrow_rows(p, crossing, span):
            _one_way(sheet, p, crossing, way=way, y=y, flow=flow)


# chosen: a handle hangs so far below its opening, drawing units, and covers no word in it
BELOW = 16.0


def opening_grips(sheet: Sheet, p: Plan) -> None:
    """Septum and duct, each pulled down to be wider, also a closed duct; none in a ring."""
    if p.view.topology == "series":
        return
    spans: dict[Site, Span] = {"atrial": p.atrial, "ductal": p.ductal}
    for site, span in spans.items():
        crossing = p.crossing(site)
        size = crossing.size_mm if crossing is not None else 0.0
        if size is None or (crossing is None and site == "atrial"):
            continue
        low = span.bottom + BELOW if crossing is not None else span.middle
        pull_grip(sheet, site, (p.frame.centre, low), size, per=PER_MM)


def arrow_rows(p: Plan, crossing: Crossing, span: Span) -> tuple[tuple[Way, float, float], ...]:
    """For each arrow of a crossing: which way on the page, height of its middle, flow."""
    there, back = crossing.right_to_left_ml_min_kg, crossing.left_to_right_ml_min_kg
    if crossing.site == "ductal":
        there, back = p.flows.aorta_to_lung, p.flows.lung_to_aorta
    first, second = (arrow_row(p.frame, flow, p.scale) for flow in (back, there))
    words = crossing_words(p.frame, crossing)
    spare = span.bottom - span.top - words.above - words.under - first - second
    y = span.top + words.above + max(0.0, spare - 4) / 2
    return (
        ("leftward", y + first / 2, back),
        ("rightward", y + first + second / 2, there),
    )


def tissue(sheet: Sheet, p: Plan) -> None:
    """Fine strands where blood and tissue exchange, and chevrons that show the way."""
    flows = p.flows
    near, far = leg_centres(p)
    left, right = far + p.frame.corner + 6, near - p.frame.corner - 6
    _strands(sheet, (left, p.bottom), (right, p.bottom), p.width(flows.lower))
    wide, arms = p.width(flows.upper + flows.before_duct), p.width(flows.upper)
    rung = p.split.top + TURN + thick(arms) / 2
    start, end = (
        p.frame.outer + p.width(flows.body) / 2 + TURN + 8,
        p.frame.inner - wide / 2 - TURN - 8,
    )
    _strands(sheet, (start, rung), (end, rung), arms)
    ends = (
        (p.frame.far_outer, p.top + p.frame.corner + 20),
        (p.frame.far_outer, p.bottom - p.frame.corner - 20),
    )
    _strands(sheet, *ends, p.width(flows.lung))
    for x, y, way, flow, pct in _marks(p):
        _chevron(sheet, (x, y), way, p.width(flow), pct)


def _marks(p: Plan) -> tuple[tuple[float, float, str, float, float], ...]:
    flows, middle = p.flows, (p.frame.outer + p.frame.inner) / 2
    return (
        (middle, p.top, "right", flows.body, p.pct("SV")),
        (p.frame.outer, p.ventricular.middle, "up", flows.body, p.pct("SV")),
        (p.frame.inner, p.top + p.frame.corner + 8, "down", flows.body, p.pct("SV")),
        (leg_centres(p)[0], p.ductal.bottom - 2, "down", flows.lower, p.pct("AoD")),
        (p.frame.width - middle, p.top, "left", flows.lung, p.pct("PV")),
        (p.frame.far_inner, p.top + p.frame.corner + 8, "down", flows.lung, p.pct("PV")),
        (p.frame.far_inner, p.ductal.bottom - 2, "down", flows.lung, p.pct("PA")),
        (p.frame.width - middle, p.bottom, "right", flows.lung, p.pct("PA")),
    )


def _heart(
    sheet: Sheet, p: Plan, ribbon: Ribbon, x: float, pcts: list[float], widths: list[float]
) -> None:
    """From the top corner down through both slots to where the great artery begins."""
    side = "right" if x == p.frame.inner else "left"
    colours = [saturation_colour(pct) for pct in pcts]
    first, second, third = (edges(x, width) for width in widths)
    ribbon.lay(_down(p.top + p.frame.corner, p.atrial.top, first), colours[0])
    _slot(sheet, ribbon, f"{side}-atrium", p.atrial, (first, second), (pcts[0], pcts[1]))
    ribbon.lay(_down(p.atrial.bottom, p.ventricular.top, second), colours[1])
    _slot(sheet, ribbon, f"{side}-ventricle", p.ventricular, (second, third), (pcts[1], pcts[2]))


def _slot(
    sheet: Sheet, ribbon: Ribbon, name: str, span: Span, ends: tuple[Edges, Edges], pct: Pcts
) -> None:
    paint = blend(sheet, name, (0, span.top), (0, span.bottom), pct=pct)
    ribbon.lay(taper(span.top, span.bottom, *ends), paint)


def leg_centres(p: Plan) -> tuple[float, float]:
    """Centres of the inner and the outer side of the body loop below the upper branch."""
    legs, veins = thick(p.width(p.flows.lower)), edges(p.frame.outer, p.width(p.flows.body))
    return trunk_edges(p)[1] - legs / 2, veins[0] + legs / 2


def trunk_edges(p: Plan) -> Edges:
    """Edges of the aorta where its two branches still lie side by side."""
    arms, down = thick(p.width(p.flows.upper)), thick(p.width(p.flows.before_duct))
    return p.frame.inner - (arms + down) / 2, p.frame.inner + (arms + down) / 2


def _aorta(sheet: Sheet, p: Plan, ribbon: Ribbon) -> None:
    """From the valve to the bottom corner: the branch to arms and head leaves before the duct."""
    trunk = trunk_edges(p)
    if p.view.topology == "parallel":
        source = edges(p.frame.inner, p.width(p.flows.right_out))
        pcts = (p.pct("RV"), p.pct("AoU"))
        _slot(sheet, ribbon, "aortic-root", p.arteries, (source, trunk), pcts)
    _arms(sheet, p, ribbon)
    before = (trunk[1] - thick(p.width(p.flows.before_duct)), trunk[1])
    legs = (trunk[1] - thick(p.width(p.flows.lower)), trunk[1])
    ribbon.lay(_down(p.split.top, p.split.bottom, before), saturation_colour(p.pct("AoU")))
    _slot(sheet, ribbon, "duct-aorta", p.ductal, (before, legs), (p.pct("AoU"), p.pct("AoD")))
    ribbon.lay(
        _down(p.ductal.bottom, p.bottom - p.frame.corner, legs), saturation_colour(p.pct("AoD"))
    )


def _arms(sheet: Sheet, p: Plan, ribbon: Ribbon) -> None:
    """The upper branch: off the aorta, through arms and head, into the veins."""
    arms, y = thick(p.width(p.flows.upper)), p.split.top
    near, far = trunk_edges(p)[0] - TURN, edges(p.frame.outer, p.width(p.flows.body))[1] + TURN
    ribbon.lay(bend((near, y), TURN, TURN + arms, 0), saturation_colour(p.pct("AoU")))
    pcts = (p.pct("AoU"), p.pct("SV"))
    paint = blend(sheet, "tissue-arms", (near - 10, y), (far + 10, y), pct=pcts)
    ribbon.lay(box(far - LAP, y + TURN, near + LAP, y + TURN + arms), paint)
    ribbon.lay(bend((far, y), TURN, TURN + arms, 1), saturation_colour(p.pct("SV")))


def _return(p: Plan, ribbon: Ribbon, plain: str) -> None:
    """Up the outer side of the body loop, where arms and head join."""
    veins, legs = edges(p.frame.outer, p.width(p.flows.body)), thick(p.width(p.flows.lower))
    ribbon.lay(_down(p.top + p.frame.corner, p.split.top, veins), plain)
    ribbon.lay(_down(p.split.top, p.bottom - p.frame.corner, (veins[0], veins[0] + legs)), plain)


def _lung_artery(sheet: Sheet, p: Plan, ribbon: Ribbon) -> None:
    feeder = p.pct("LV" if p.view.topology == "parallel" else "RV")
    before = edges(p.frame.far_inner, p.width(_before_lung(p)))
    after = edges(p.frame.far_inner, p.width(p.flows.lung))
    if p.view.topology == "parallel":
        source = edges(p.frame.far_inner, p.width(p.flows.left_out))
        ribbon.lay(
            taper(p.arteries.top, p.arteries.bottom, source, before), saturation_colour(feeder)
        )
    ribbon.lay(_down(p.split.top, p.split.bottom, before), saturation_colour(feeder))
    _slot(sheet, ribbon, "duct-lung", p.ductal, (before, after), (feeder, p.pct("PA")))
    ribbon.lay(
        _down(p.ductal.bottom, p.bottom - p.frame.corner, after), saturation_colour(p.pct("PA"))
    )


def _before_lung(p: Plan) -> float:
    return max(0.0, p.flows.lung - p.flows.aorta_to_lung + p.flows.lung_to_aorta)


def _one_way(sheet: Sheet, p: Plan, crossing: Crossing, *, way: Way, y: float, flow: float) -> None:
    near, far = _banks(p, crossing, y)
    ends = (far + 1, near) if way == "leftward" else (near - 1, far)
    if flow < 0.5:
        dashed = {"stroke": INK, "stroke_width": 1.2, "stroke_dasharray": "2 5"}
        sheet.add("line", x1=ends[0], y1=y, x2=ends[1], y2=y, **dashed)
        return
    paint = saturation_colour(p.pct(SOURCES[crossing.site][way]))
    sheet.add("path", d=arrow(*ends, y, p.width(flow)), fill=paint, stroke=INK, stroke_width=1)


def _banks(p: Plan, crossing: Crossing, y: float) -> tuple[float, float]:
    """Where the two ribbons' facing edges are at this height, for arrows to arrive at."""
    f = p.flows
    near, far, span = {
        "atrial": ((f.body, f.right_mid), (f.lung, f.left_mid), p.atrial),
        "ventricular": ((f.right_mid, f.right_out), (f.left_mid, f.left_out), p.ventricular),
        "ductal": ((0.0, 0.0), (_before_lung(p), f.lung), p.ductal),
    }[crossing.site]
    share = span.share(y)
    right = p.frame.inner + p.width(near[0] + (near[1] - near[0]) * share) / 2
    left = p.frame.far_inner - p.width(far[0] + (far[1] - far[0]) * share) / 2
    return (trunk_edges(p)[1] if crossing.site == "ductal" else right), left


def _strands(
    sheet: Sheet, start: tuple[float, float], end: tuple[float, float], width: float
) -> None:
    """Fine slits along a straight ribbon, thickest half way: the ribbon parts into strands."""
    count = min(6, int(width / 7))
    for i in range(count):
        shift = width * ((i + 1) / (count + 1) - 0.5)
        if start[1] == end[1]:
            y, third = start[1] + shift, (end[0] - start[0]) / 3
            ways = [(end[0], y), (start[0], y)]
            bow = [(start[0] + third, y), (end[0] - third, y)]
            upper = [(x, v - 1.5) for x, v in bow]
            lower = [(x, v + 1.5) for x, v in reversed(bow)]
        else:
            x, third = start[0] + shift, (end[1] - start[1]) / 3
            ways = [(x, end[1]), (x, start[1])]
            bow = [(x, start[1] + third), (x, end[1] - third)]
            upper = [(u - 1.5, y) for u, y in bow]
            lower = [(u + 1.5, y) for u, y in reversed(bow)]
        flat = [*upper[0], *upper[1], *ways[0], "C", *lower[0], *lower[1], *ways[1], "Z"]
        sheet.add("path", d=path("M", *ways[1], "C", *flat), fill="#ffffff", fill_opacity=0.85)


def _chevron(sheet: Sheet, place: tuple[float, float], way: str, width: float, pct: float) -> None:
    """A small open arrowhead; beside a very thin ribbon it stands out in ink."""
    x, y = place
    reach = min(8.0, max(4.5, width * 0.26))
    dx, dy = {"right": (1, 0), "left": (-1, 0), "down": (0, 1), "up": (0, -1)}[way]
    back, side = reach * 0.45, reach
    points = path(
        *("M", x - dx * back - dy * side, y - dy * back - dx * side),
        *("L", x + dx * back, y + dy * back),
        *("L", x - dx * back + dy * side, y - dy * back + dx * side),
    )
    sheet.add(
        "path",
        d=points,
        fill="none",
        stroke=ink_on(pct) if width > 14 else INK,
        stroke_width=2.2,
        stroke_linecap="round",
        stroke_linejoin="round",
    )


def _across(left: float, right: float, y: float, width: float) -> str:
    top, bottom = edges(y, width)
    return box(left - LAP, top, right + LAP, bottom)


def _down(top: float, bottom: float, sides: Edges) -> str:
    return box(sides[0], top - LAP, sides[1], max(top, bottom) + LAP)


def _corner(p: Plan, x: float, y: float, width: float, quarter: int) -> str:
    half = thick(width) / 2
    return bend((x, y), p.frame.corner - half, p.frame.corner + half, quarter)
