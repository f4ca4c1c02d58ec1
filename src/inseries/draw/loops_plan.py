"""Where everything in the loops picture stands: flows along the way, widths and heights."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from inseries.base.errors import OutputError
from inseries.draw.lettering import shortened, wrapped

if TYPE_CHECKING:
    from inseries.draw.loops_frame import Frame
    from inseries.draw.views import Crossing, LoopsView, Site, Station, StationCode

TURN = 14.0  # chosen: inner radius where a branch leaves or joins
CROSSING_TITLE, CROSSING_SMALL = 15.0, 14.0  # chosen: letters of a crossing

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

    frame: Frame
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


@dataclass(frozen=True, slots=True, kw_only=True)
class CrossingWords:
    """What stands above and below the arrows of a crossing, and the height of each."""

    title: tuple[str, ...]
    note: tuple[str, ...]
    mixing: tuple[str, ...]
    above: float
    under: float


def plan(view: LoopsView, frame: Frame) -> Plan:
    """Lays out one view.

    Raises
    ------
    OutputError, if a station is missing or named twice: the picture never guesses a saturation
    """
    _all_there(view)
    flows = flows_along(view)
    scale = _scale(frame, view, flows)
    heading = wrapped(view.sentence, 16, frame.width - 2 * frame.margin) if frame.titled else ()
    names = 62.0 + 21 * len(heading) + 46 if frame.titled else 38.0
    top = names + max(flows.body, flows.lung) * scale / 2
    atrial = _below(top + frame.corner + 22, _slot(frame, view, "atrial", scale))
    ventricular = _below(atrial.bottom + frame.spare, _slot(frame, view, "ventricular", scale))
    crossed = view.topology == "series"
    arteries = _below(ventricular.bottom, frame.ring_arteries if crossed else frame.arteries)
    branch = max(1.6, flows.upper * scale)
    split = _below(arteries.bottom, TURN + branch + 30)
    ductal = _below(split.bottom, max(_slot(frame, view, "ductal", scale), frame.legs))
    half_lower = max(flows.lower, flows.lung) * scale / 2
    bottom = ductal.bottom + max(frame.corner, half_lower + 30)
    return Plan(
        frame=frame,
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
        height=bottom + half_lower + frame.foot,
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


def crossing_words(frame: Frame, crossing: Crossing) -> CrossingWords:
    """The words of a crossing."""
    size = "" if crossing.size_mm is None else f"{crossing.size_mm:.1f}".rstrip("0").rstrip(".")
    parts = (f"{crossing.site} crossing", f"{size} mm") if size else (f"{crossing.site} crossing",)
    room, note, eddy = frame.bridge_words, crossing.note, crossing.eddy_ml_min_kg
    title = (", ".join(parts),) if frame.titled else parts
    mixing = wrapped(f"and {eddy:.0f} mixing each way" if eddy > 0 else "", CROSSING_SMALL, room)
    notes = (shortened(note, CROSSING_SMALL, room, "Italic"),) if note else ()
    return CrossingWords(
        title=title,
        note=notes,
        mixing=mixing,
        above=6.0 + frame.line * len((*title, *notes)),
        under=frame.line * len(mixing),
    )


def _scale(frame: Frame, view: LoopsView, flows: Flows) -> float:
    through = [
        flow
        for c in view.crossings
        for flow in (c.left_to_right_ml_min_kg, c.right_to_left_ml_min_kg)
    ]
    columns = (flows.body, flows.lung, flows.right_mid, flows.right_out)
    more = (flows.left_mid, flows.left_out, flows.before_duct + flows.upper)
    return min(frame.per_flow, frame.widest / max(1.0, *columns, *more, *through))


def _slot(frame: Frame, view: LoopsView, site: Site, scale: float) -> float:
    """Height that a crossing with its words needs, or a station where there is no crossing."""
    crossing = next((c for c in view.crossings if c.site == site), None)
    if crossing is None:
        return frame.label
    words = crossing_words(frame, crossing)
    rows = arrow_row(frame, crossing.left_to_right_ml_min_kg, scale)
    rows += arrow_row(frame, crossing.right_to_left_ml_min_kg, scale)
    return max(frame.label, words.above + words.under + rows + frame.spare)


def arrow_row(frame: Frame, flow: float, scale: float) -> float:
    """Height of one arrow of a crossing, its head included."""
    return max(frame.row, flow * scale + 14.0)


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
