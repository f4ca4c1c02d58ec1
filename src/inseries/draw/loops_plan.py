"""Where everything in the loops picture stands: flows along the way, widths and heights."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from inseries.base.errors import OutputError
from inseries.draw.lettering import wrapped

if TYPE_CHECKING:
    from inseries.draw.views import Crossing, LoopsView, Site, Station, StationCode

WIDTH = 1024.0  # chosen: drawing units; 170 mm on paper, 1024 px on a screen
MARGIN = 24.0  # chosen: free edge
OUTER = 76.0  # chosen: centre of the outer side of the body loop, from the left
INNER = 354.0  # chosen: centre of the inner side of the body loop, from the left
ROUND = 50.0  # chosen: radius of the loops' corners, at the ribbon's centre
TURN = 14.0  # chosen: inner radius where a branch leaves or joins

PER_FLOW = 0.15  # chosen: ribbon width in drawing units per mL/min/kg
WIDEST = 78.0  # chosen: no ribbon is wider; the scale shrinks instead, and its bar says so

LABEL = 74.0  # chosen: height that a station's three lines need
ROW = 26.0  # chosen: least height of one arrow of a crossing, with its number
CODES: tuple[StationCode, ...] = ("SV", "RA", "RV", "AoU", "AoD", "PA", "PV", "LA", "LV")


@dataclass(frozen=True, slots=True, kw_only=True)
class Flows:
    """Flow in each stretch, mL/min/kg, from what enters and leaves at the crossings."""

    body: float
    lung: float
    right_mid: float
    right_out: float
    left_mid: float
    left_out: float
    upper: float
    lower: float
    before_duct: float
    aorta_to_lung: float
    lung_to_aorta: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """From ``top`` to ``bottom`` down the page."""

    top: float
    bottom: float

    @property
    def middle(self) -> float:
        """Half way down."""
        return (self.top + self.bottom) / 2

    def share(self, y: float) -> float:
        """How far down ``y`` is, eased at both ends as a tapering ribbon is."""
        part = min(1.0, max(0.0, (y - self.top) / (self.bottom - self.top)))
        return part * part * (3 - 2 * part)


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """The whole layout."""

    view: LoopsView
    flows: Flows
    scale: float
    heading: tuple[str, ...]
    top: float
    atrial: Span
    ventricular: Span
    arteries: Span
    split: Span
    ductal: Span
    bottom: float
    height: float

    def width(self, flow: float) -> float:
        """Ribbon width of a flow."""
        return flow * self.scale

    def station(self, code: StationCode) -> Station:
        """The station with this code."""
        return next(s for s in self.view.stations if s.code == code)

    def pct(self, code: StationCode) -> float:
        """Saturation of the station with this code, %."""
        return self.station(code).saturation_pct

    def crossing(self, site: Site) -> Crossing | None:
        """The crossing at this site, if there is one."""
        return next((c for c in self.view.crossings if c.site == site), None)


def plan(view: LoopsView) -> Plan:
    """Lays out one view.

    Raises
    ------
    OutputError, if a station is missing or named twice: the picture never guesses a saturation
    """
    _all_there(view)
    flows = flows_along(view)
    scale = _scale(view, flows)
    heading = wrapped(view.sentence, 16, WIDTH - 2 * MARGIN)
    top = 62 + 21 * len(heading) + 46 + flows.body * scale / 2
    atrial = _below(top + ROUND + 22, _slot(view, "atrial", scale))
    ventricular = _below(atrial.bottom + 14, _slot(view, "ventricular", scale))
    arteries = _below(ventricular.bottom, 84.0 if view.topology == "parallel" else 150.0)
    branch = max(1.6, flows.upper * scale)
    split = _below(arteries.bottom, TURN + branch + 30)
    duct_room = max(_slot(view, "ductal", scale), 122.0)
    ductal = _below(split.bottom, duct_room)
    half_lower = max(flows.lower, flows.lung) * scale / 2
    bottom = ductal.bottom + max(ROUND, half_lower + 30)
    return Plan(
        view=view,
        flows=flows,
        scale=scale,
        heading=heading,
        top=top,
        atrial=atrial,
        ventricular=ventricular,
        arteries=arteries,
        split=split,
        ductal=ductal,
        bottom=bottom,
        height=bottom + half_lower + 82,
    )


def flows_along(view: LoopsView) -> Flows:
    """Flow in each stretch; a stretch that would be negative is drawn as empty."""
    body, lung = view.body_flow_ml_min_kg, view.lung_flow_ml_min_kg
    over = {c.site: c.left_to_right_ml_min_kg - c.right_to_left_ml_min_kg for c in view.crossings}
    right_mid = body + over.get("atrial", 0.0)
    left_mid = lung - over.get("atrial", 0.0)
    right_out = right_mid + over.get("ventricular", 0.0)
    left_out = left_mid - over.get("ventricular", 0.0)
    there, back = ductal_ways(view)
    upper = body / 2 if view.upper_flow_ml_min_kg is None else view.upper_flow_ml_min_kg
    upper = min(body, max(0.0, upper))
    return Flows(
        body=body,
        lung=lung,
        right_mid=max(0.0, right_mid),
        right_out=max(0.0, right_out),
        left_mid=max(0.0, left_mid),
        left_out=max(0.0, left_out),
        upper=upper,
        lower=body - upper,
        before_duct=max(0.0, body - upper + there - back),
        aorta_to_lung=there,
        lung_to_aorta=back,
    )


def ductal_ways(view: LoopsView) -> tuple[float, float]:
    """Flow through the duct from the aorta to the lung artery, and back, mL/min/kg."""
    duct = next((c for c in view.crossings if c.site == "ductal"), None)
    if duct is None:
        return 0.0, 0.0
    ways = duct.left_to_right_ml_min_kg, duct.right_to_left_ml_min_kg
    return ways if view.topology == "series" else (ways[1], ways[0])


def _scale(view: LoopsView, flows: Flows) -> float:
    through = [
        flow
        for c in view.crossings
        for flow in (c.left_to_right_ml_min_kg, c.right_to_left_ml_min_kg)
    ]
    columns = (flows.body, flows.lung, flows.right_mid, flows.right_out)
    more = (flows.left_mid, flows.left_out, flows.before_duct + flows.upper)
    return min(PER_FLOW, WIDEST / max(1.0, *columns, *more, *through))


def _slot(view: LoopsView, site: Site, scale: float) -> float:
    """Height that a crossing with its words needs, or a station where there is no crossing."""
    crossing = next((c for c in view.crossings if c.site == site), None)
    if crossing is None:
        return LABEL
    words = 26.0 + (20.0 if crossing.eddy_ml_min_kg > 0 else 0.0)
    words += 20.0 if crossing.note else 0.0
    rows = arrow_row(crossing.left_to_right_ml_min_kg, scale)
    rows += arrow_row(crossing.right_to_left_ml_min_kg, scale)
    return max(LABEL, words + rows + 14.0)


def arrow_row(flow: float, scale: float) -> float:
    """Height of one arrow of a crossing, its head included."""
    return max(ROW, flow * scale + 14.0)


def _below(top: float, height: float) -> Span:
    return Span(top=top, bottom=top + height)


def _all_there(view: LoopsView) -> None:
    seen = [station.code for station in view.stations]
    wrong = [code for code in CODES if seen.count(code) != 1]
    if wrong:
        raise OutputError(
            "the loops need each station exactly once",
            code="station_missing",
            where="draw loops",
            value=", ".join(wrong),
            remedy="give one station each for " + ", ".join(CODES),
        )
