"""A lung artery band in transposition with intact septum: dip, gain, and the days between.

Age at band and lumen are supposed. The published series added a systemic-to-pulmonary shunt in
some or all patients; the abstract does not say how large, so it is left out here and tried beside.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from inseries.course.laws import DEFAULT
from inseries.desk.experiments.babies import (
    Day,
    baby_of,
    course,
    one,
    plain_after_septostomy,
    scenario,
)
from inseries.desk.experiments.late_left_ventricle import left_predicted_stress_kdyn_cm2
from inseries.desk.experiments.normal_newborn import newborn_readings
from inseries.prior.constants import Constants
from inseries.prior.story import constant

if TYPE_CHECKING:
    from collections.abc import Mapping

    from inseries.prior.baby import Baby

# published: boutin1994, hours and days after the band at which the ventricle was looked at
AFTER_DAYS = (0.0, 0.5, 3.5, 7.0, 9.0)


def band(
    constants: Constants | None = None,
    inputs: Mapping[str, float] | None = None,
    law: str = DEFAULT,
) -> dict[str, float]:
    """Mass, ejection, pressure and ratio before and after a band.

    Parameters
    ----------
    constants : numbers under trial; the packaged ones when not given
    inputs : supposed age and lumen of the band; the packaged ones when not given
    law : growth law that the walls follow; the supposed lumen is its own

    Returns
    -------
    dict of str to float, units in the names
    """
    constants = constants or Constants()
    supposed = scenario(inputs)
    age = supposed["band_age"]
    baby = baby_of(plain_after_septostomy(), constants, law)
    before = course(baby, [age])[0]
    banded = with_band_and_shunt(baby, supposed[f"band_lumen_{law}"])
    days = course(banded, [age + days for days in AFTER_DAYS], walls=before.walls, start_days=age)
    newborn = newborn_readings(constants.newborn)
    usual = one(newborn.end_diastolic_ml("LV")) / constants.newborn["body_surface"]
    edv = one(days[-1].readings.end_diastolic_ml("LV")) / days[-1].surface_m2
    return _told(before, days) | {
        "edv_9_d_pct_of_normal": 100.0 * edv / usual,
        "predicted_stress_before_kdyn_cm2": left_predicted_stress_kdyn_cm2(baby, before),
        "predicted_stress_9_d_kdyn_cm2": left_predicted_stress_kdyn_cm2(banded, days[-1]),
    }


def with_band_and_shunt(baby: Baby, lumen_mm: float, shunt_mm: float = 0.0) -> Baby:
    """The baby with a band that leaves this lumen, and a shunt of this diameter; neither grows."""
    story = replace(
        baby.story, band_mm=constant(lumen_mm), shunt_mm=constant(shunt_mm), breaks_days=()
    )
    return baby.with_story(story)


def _told(before: Day, days: list[Day]) -> dict[str, float]:
    gains = [one(day.walls.left.mass_g) / one(before.walls.left.mass_g) - 1.0 for day in days]
    ejection = [one(day.readings.ejection_pct("LV")) for day in days]
    was = one(before.readings.ejection_pct("LV"))
    return {
        "mass_gain_9_d_pct": 100.0 * gains[4],
        "share_of_gain_by_7_d_pct": 100.0 * gains[3] / gains[4],
        "mass_gain_12_h_pct": 100.0 * gains[1],
        "mass_gain_3_5_d_pct": 100.0 * gains[2],
        "ef_before_pct": was,
        "ef_change_at_once_pct": ejection[0] - was,
        "ef_change_12_h_pct": ejection[1] - was,
        "ef_change_3_5_d_pct": ejection[2] - was,
        "ef_7_d_pct": ejection[3],
        "ef_9_d_pct": ejection[4],
        "ratio_before": one(before.readings.pressure_ratio),
        "ratio_at_once": one(days[0].readings.pressure_ratio),
        "ratio_9_d": one(days[4].readings.pressure_ratio),
        "lv_systolic_before_mmhg": one(before.readings.systolic_mmhg("LV")),
        "lv_systolic_at_once_mmhg": one(days[0].readings.systolic_mmhg("LV")),
        "lv_systolic_9_d_mmhg": one(days[4].readings.systolic_mmhg("LV")),
        "flow_change_at_once_pct": 100.0
        * (one(days[0].readings.lung_flow_ml_s) / one(before.readings.lung_flow_ml_s) - 1.0),
    }
