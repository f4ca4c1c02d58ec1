"""Which readings narrow the draws, what the model says for each, how far apart the two may lie."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import cast

import numpy as np

from inseries.base.numbers import read_rows
from inseries.case.record import Case, Method, Value
from inseries.circuit.readouts import Readings
from inseries.course.walls import Walls
from inseries.prior.traits import Floats, Traits

# chosen: methods whose mass is on the echo scale
ECHO = (Method.ECHO_2D, Method.ECHO_3D, Method.ECHO_M_MODE, None)

Predict = Callable[[Readings, Walls, Traits], Floats]


@dataclass(frozen=True, slots=True, kw_only=True)
class Observed:
    """One reading that narrows: its age, value, standard deviation, and the model's side."""

    key: str
    age_days: float
    value: float
    sd: float
    predict: Predict


_SATURATIONS = {"spo2_right_hand_pct": "AoU", "spo2_foot_pct": "AoD", "sao2_pct": "AoU"}

PREDICTED: dict[str, Predict] = {
    "systolic_mmhg": lambda r, w, t: r.systolic_mmhg("AoU"),
    "diastolic_mmhg": lambda r, w, t: r.diastolic_mmhg("AoU"),
    "mean_mmhg": lambda r, w, t: r.mean_mmhg("AoU"),
    "la_mean_mmhg": lambda r, w, t: r.mean_mmhg("LA"),
    "ra_mean_mmhg": lambda r, w, t: r.mean_mmhg("RA"),
    "atrial_gradient_mmhg": lambda r, w, t: r.atrial_gradient_mmhg,
    "pulmonary_artery_mean_mmhg": lambda r, w, t: r.mean_mmhg("PA"),
    "pulmonary_artery_systolic_mmhg": lambda r, w, t: r.systolic_mmhg("PA"),
    "lv_systolic_mmhg": lambda r, w, t: r.systolic_mmhg("LV"),
    "rv_systolic_mmhg": lambda r, w, t: r.systolic_mmhg("RV"),
    "lv_outflow_gradient_mmhg": lambda r, w, t: r.systolic_mmhg("LV") - r.systolic_mmhg("PA"),
    "lv_edv_ml": lambda r, w, t: r.end_diastolic_ml("LV"),
    "lv_ef_pct": lambda r, w, t: r.ejection_pct("LV"),
}


@lru_cache(maxsize=1)
def reading_errors() -> dict[str, tuple[float, float]]:
    """Error of the reading and of the model, by key (for the septum: ratio and its spread)."""
    rows = read_rows("inseries.prior", "reading_errors.toml")
    return {
        key: (cast("float", row["value"]), cast("float", row["model"])) for key, row in rows.items()
    }


def observed(case: Case) -> tuple[Observed, ...]:
    """Readings of a case that narrow its draws, by age."""
    found = [
        item
        for reading in case.readings
        for value in reading.values
        if (item := _observed(value)) is not None
    ]
    return tuple(sorted(found, key=lambda item: item.age_days))


def _observed(value: Value) -> Observed | None:
    key = value.key
    if key in _SATURATIONS:
        return _numeric(value, _saturation(_SATURATIONS[key]))
    if key == "lv_mass_g":
        return _numeric(value, _echo_mass if value.method in ECHO else _cmr_mass)
    if key == "septum_position":
        ratio, spread = reading_errors()[f"septum_{value.value}"]
        return Observed(
            key=key,
            age_days=value.age_days,
            value=ratio,
            sd=spread,
            predict=lambda r, w, t: r.pressure_ratio,
        )
    return _numeric(value, PREDICTED[key]) if key in PREDICTED else None


def _numeric(value: Value, predict: Predict) -> Observed:
    own, model = reading_errors()[value.key]
    own = own if value.sd is None else value.sd
    return Observed(
        key=value.key,
        age_days=value.age_days,
        value=value.number,
        sd=float(np.hypot(own, model)),
        predict=predict,
    )


def _saturation(part: str) -> Predict:
    return lambda r, w, t: r.saturation_pct(part)


def _echo_mass(_readings: Readings, walls: Walls, traits: Traits) -> Floats:
    return walls.left.mass_g * traits["echo_over_cmr"]


def _cmr_mass(_readings: Readings, walls: Walls, _traits: Traits) -> Floats:
    return walls.left.mass_g
