"""From read-outs and curves to the records that pictures are drawn from."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from inseries.circuit.readouts import MINUTE_S, Readings
from inseries.desk.spans import figure
from inseries.draw.views import Crossing, LoopsView, Site, Station, StationCode

if TYPE_CHECKING:
    from inseries.desk.readouts import Body
    from inseries.prior.traits import Floats

_NAMES: dict[StationCode, str] = {
    "SV": "body veins",
    "RA": "right atrium",
    "RV": "right ventricle",
    "AoU": "aorta (arms, head)",
    "AoD": "aorta (legs)",
    "PA": "lung artery",
    "PV": "lung veins",
    "LA": "left atrium",
    "LV": "left ventricle",
}
_PULSATILE = ("AoU", "AoD", "PA", "RV", "LV")
_SITES: tuple[tuple[Site, str], ...] = (
    ("atrial", "atrial_defect"),
    ("ventricular", "ventricular_defect"),
    ("ductal", "duct"),
)
# chosen: an exchange below this is not drawn, mL/min/kg
LEAST_DRAWN = 0.5


def loops_view(
    readings: Readings,
    body: Body,
    *,
    title: str,
    figure_id: str,
    sizes_mm: dict[str, float],
    tight: bool,
) -> LoopsView:
    """The two loops of the draw nearest the middle: one circulation, so that its flows close.

    Parameters
    ----------
    readings : of n draws
    body : size that flows are indexed to
    title, figure_id : of the picture
    sizes_mm : diameters of the openings by edge name
    tight : whether the atrial septum is named tight

    Returns
    -------
    LoopsView
    """
    one = _Central(readings, MINUTE_S / body.weight_kg)
    effective = one.per_kg * one(readings.oxygen.effective_flow_ml_s)
    parallel = readings.circuit.topology == "parallel"
    return LoopsView(
        title=title,
        topology="parallel" if parallel else "series",
        stations=tuple(_station(one, code) for code in _NAMES),
        crossings=_crossings(one, sizes_mm, tight),
        body_flow_ml_min_kg=one.per_kg * one(readings.systemic_flow_ml_s),
        lung_flow_ml_min_kg=one.per_kg * one(readings.lung_flow_ml_s),
        effective_flow_ml_min_kg=effective,
        upper_saturation_pct=one(readings.saturation_pct("AoU")),
        lower_saturation_pct=one(readings.saturation_pct("AoD")),
        sentence=_sentence(effective, parallel),
        figure_id=figure_id,
        upper_flow_ml_min_kg=one.per_kg * one(readings.flow_ml_s("upper_body")),
    )


class _Central:
    """Read-outs of the draw nearest the middle of all."""

    def __init__(self, readings: Readings, per_kg: float) -> None:
        self.readings = readings
        self.per_kg = per_kg
        asked = np.column_stack(
            [
                readings.saturation_pct("AoU"),
                readings.saturation_pct("AoD"),
                readings.systemic_flow_ml_s,
                readings.lung_flow_ml_s,
                readings.systolic_mmhg("LV"),
            ]
        )
        spread = np.maximum(asked.std(axis=0), 1e-9)
        away = ((asked - np.median(asked, axis=0)) / spread) ** 2
        self.member = int(np.argmin(away.sum(axis=1)))

    def __call__(self, values: Floats) -> float:
        """That draw's value."""
        return float(values[self.member])


def _sentence(effective: float, parallel: bool) -> str:
    if not parallel:
        return "One ring: all that returns from the body goes to the lungs and back."
    return (
        f"Only what crosses counts: about {effective:.0f} mL/min/kg of lung blood reach the body."
    )


def _station(one: _Central, code: StationCode) -> Station:
    r = one.readings
    mean, high = one(r.mean_mmhg(code)), one(r.systolic_mmhg(code))
    low = max(one(r.diastolic_mmhg(code)), 0.0)
    text = f"{high:.0f}/{low:.0f}" if code in _PULSATILE else figure(mean)
    if code in ("AoU", "AoD", "PA"):
        text += f" ({mean:.0f})"
    return Station(
        name=_NAMES[code],
        code=code,
        saturation_pct=one(r.saturation_pct(code)),
        pressure_text=text,
    )


def _crossings(one: _Central, sizes_mm: dict[str, float], tight: bool) -> tuple[Crossing, ...]:
    """Openings with flow; *left* is what the left ventricle fills."""
    found: list[Crossing] = []
    parallel = one.readings.circuit.topology == "parallel"
    for site, edge in _SITES:
        forward, backward = (one.per_kg * one(way) for way in one.readings.both_ways_ml_s(edge))
        eddy = one.per_kg * one(one.readings.eddy_ml_s(edge))
        if forward + backward + eddy < LEAST_DRAWN:
            continue
        if site == "ductal" and parallel:
            forward, backward = backward, forward
        found.append(
            Crossing(
                site=site,
                size_mm=sizes_mm.get(edge),
                left_to_right_ml_min_kg=forward,
                right_to_left_ml_min_kg=backward,
                eddy_ml_min_kg=eddy,
                note="tight" if site == "atrial" and tight else "",
            )
        )
    return tuple(found)
