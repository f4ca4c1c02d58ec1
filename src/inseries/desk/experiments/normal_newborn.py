"""The healthy newborn at three days: the reference orbit, nothing regulated."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.circuit.newborn import normal_newborn
from inseries.circuit.orbit import FINE, find_orbit
from inseries.circuit.readouts import STRESS_MEAN, STRETCH_MAX, STRETCH_MIN, V_MIN, Readings, read
from inseries.desk.experiments.babies import one
from inseries.prior.constants import Constants

if TYPE_CHECKING:
    from collections.abc import Mapping

# derived: mL/s to mL/min
MINUTE_S = 60.0


def healthy_newborn(constants: Constants | None = None) -> dict[str, float]:
    """Output, pressures and volumes of the reference newborn.

    Parameters
    ----------
    constants : numbers under trial; the packaged ones when not given

    Returns
    -------
    dict of str to float, units in the names
    """
    values = (constants or Constants()).newborn
    readings = newborn_readings(values)
    return _flows_and_pressures(readings, values) | _volumes(readings, values["body_surface"])


def newborn_readings(values: Mapping[str, float]) -> Readings:
    """The reference newborn's beat, read."""
    return read(find_orbit(normal_newborn(values), settings=FINE))


def _flows_and_pressures(readings: Readings, values: Mapping[str, float]) -> dict[str, float]:
    output = one(readings.systemic_flow_ml_s) * MINUTE_S
    return {
        "output_ml_min_kg": output / values["weight"],
        "output_l_min_m2": output / 1000.0 / values["body_surface"],
        "aortic_systolic_mmhg": one(readings.systolic_mmhg("AoU")),
        "aortic_diastolic_mmhg": one(readings.diastolic_mmhg("AoU")),
        "aortic_mean_mmhg": one(readings.mean_mmhg("AoU")),
        "pulmonary_artery_systolic_mmhg": one(readings.systolic_mmhg("PA")),
        "pulmonary_artery_diastolic_mmhg": one(readings.diastolic_mmhg("PA")),
        "pulmonary_artery_mean_mmhg": one(readings.mean_mmhg("PA")),
        "la_mean_mmhg": one(readings.mean_mmhg("LA")),
        "ra_mean_mmhg": one(readings.mean_mmhg("RA")),
    }


def _volumes(readings: Readings, surface_m2: float) -> dict[str, float]:
    told: dict[str, float] = {}
    for name in ("LV", "RV"):
        told |= {
            f"{name.lower()}_edv_ml_m2": one(readings.end_diastolic_ml(name)) / surface_m2,
            f"{name.lower()}_esv_ml_m2": one(readings.part(name, V_MIN)) / surface_m2,
            f"{name.lower()}_ef_pct": one(readings.ejection_pct(name)),
            f"{name.lower()}_mean_stress_mmhg": one(readings.part(name, STRESS_MEAN)),
            f"{name.lower()}_filled_stretch": one(readings.part(name, STRETCH_MAX)),
            f"{name.lower()}_emptied_stretch": one(readings.part(name, STRETCH_MIN)),
        }
    return told
