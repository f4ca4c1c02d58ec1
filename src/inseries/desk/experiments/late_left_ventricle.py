"""The left ventricle weeks after birth in transposition with intact septum, septostomy done."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.course.laws import DEFAULT
from inseries.desk.experiments.babies import (
    Day,
    baby_of,
    course,
    left_index_g_m2,
    one,
    plain_after_septostomy,
)
from inseries.desk.experiments.normal_newborn import healthy_newborn
from inseries.desk.readouts import predicted_stress_kdyn_cm2, shell_thickness_mm
from inseries.prior.constants import Constants

if TYPE_CHECKING:
    from inseries.prior.baby import Baby

# chosen: ages looked at; the published children were a month to two and a half years old
DAYS = (7.0, 30.0, 45.0, 60.0)


def late_left_ventricle(constants: Constants | None = None, law: str = DEFAULT) -> dict[str, float]:
    """Pressure, ratio, cavity, ejection, mass and predicted stress over the first two months.

    Parameters
    ----------
    constants : numbers under trial; the packaged ones when not given
    law : growth law that the walls follow

    Returns
    -------
    dict of str to float, units in the names
    """
    constants = constants or Constants()
    usual = healthy_newborn(constants)["lv_edv_ml_m2"]
    baby = baby_of(plain_after_septostomy(), constants, law)
    days = course(baby, [0.0, *DAYS])
    birth = left_index_g_m2(days[0])
    told: dict[str, float] = {}
    for day in days[1:]:
        told |= {
            f"{name}_{day.age_days:.0f}_d": value for name, value in _told(baby, day, usual).items()
        }
        told[f"mass_index_share_{day.age_days:.0f}_d"] = left_index_g_m2(day) / birth
    return told


def _told(baby: Baby, day: Day, usual_edv_ml_m2: float) -> dict[str, float]:
    readings = day.readings
    edv = one(readings.end_diastolic_ml("LV")) / day.surface_m2
    return {
        "lv_systolic_mmhg": one(readings.systolic_mmhg("LV")),
        "pressure_ratio": one(readings.pressure_ratio),
        "outlet_gradient_mmhg": one(readings.systolic_mmhg("LV") - readings.systolic_mmhg("PA")),
        "edv_pct_of_normal": 100.0 * edv / usual_edv_ml_m2,
        "ef_pct": one(readings.ejection_pct("LV")),
        "predicted_stress_kdyn_cm2": left_predicted_stress_kdyn_cm2(baby, day),
    }


def left_predicted_stress_kdyn_cm2(baby: Baby, day: Day) -> float:
    """Stress of the present wall under the body's diastolic pressure, wall on the echo scale."""
    cavity = day.readings.end_diastolic_ml("LV")
    wall = shell_thickness_mm(day.walls.left.mass_g * baby.traits["echo_over_cmr"], cavity)
    diastolic = day.readings.diastolic_mmhg("AoU")
    return one(predicted_stress_kdyn_cm2(diastolic, cavity, wall))
