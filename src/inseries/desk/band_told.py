"""From the course of a banded ensemble to what is told of it: estimates, readiness, chances."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from inseries.base.findings import Estimate
from inseries.circuit.newborn import newborn_values
from inseries.circuit.readouts import MINUTE_S
from inseries.course.laws.failing_limb import share_supplied
from inseries.desk.band_course import AFTER_DAYS, Course
from inseries.desk.band_plan import DAY_HOURS, Plan, band_numbers
from inseries.desk.band_result import (
    AfterBand,
    BandTargets,
    ReadyCriterion,
    RuleOfThumb,
    SwitchThen,
)
from inseries.desk.band_search import rules_of_thumb_mm
from inseries.desk.experiments.failing_limb import burden_of
from inseries.desk.experiments.normal_newborn import newborn_readings
from inseries.desk.readiness import Asked, first_days, measured, ready_by_criterion
from inseries.desk.readouts import estimate
from inseries.prior.operation import Operation
from inseries.routes import band_circumference_mm

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    from inseries.course.laws.failing_limb import Burden
    from inseries.prior.forecast import Day
    from inseries.prior.operation import Tier
    from inseries.prior.traits import Floats

# chosen: days after the band on which the switch is tried
SWITCH_DAYS = (7.0, 14.0)
# derived: a 90 % interval lies between these fractions
LOW, HIGH = 0.05, 0.95


def looked_at(plan: Plan) -> tuple[float, ...]:
    """Days after the band that are told; one that is on and off is looked at as it is put on."""
    if plan.hours_a_day >= DAY_HOURS:
        return AFTER_DAYS
    return tuple(float(np.floor(day)) for day in AFTER_DAYS if day == 0.0 or day >= 1.0)


def targets(course: Course) -> BandTargets:
    """Just after the band; circumferences by the draws' own arteries."""
    seen = course.days[0].readings
    own = course.today.baby.traits["band_lumen"]
    supplied = supply(course.days[0])
    around = np.asarray(band_circumference_mm(course.lumens_mm / own))
    return BandTargets(
        lv_rv_systolic_pressure_ratio=estimate(seen.pressure_ratio, "1"),
        lv_systolic_mmhg=estimate(seen.systolic_mmhg("LV"), "mm[Hg]"),
        sao2_upper_pct=estimate(seen.saturation_pct("AoU"), "%"),
        lv_ef_pct=estimate(seen.ejection_pct("LV"), "%"),
        starting_circumference_mm=estimate(around, "mm"),
        lumen_mm=estimate(course.lumens_mm, "mm"),
        lv_wall_supplied_pct=estimate(100.0 * supplied, "%"),
        short_of_blood=round(float((supplied < supply(course.before)).mean()), 3),
    )


def supply(day: Day) -> Floats:
    """Share of its strength that the coronaries would let the left wall keep, shape (n,)."""
    return share_supplied(burden_of(day.readings), healthy_burden())


@lru_cache(maxsize=1)
def healthy_burden() -> Burden:
    """What the left ventricle of the healthy newborn bears at rest, and draws from."""
    return burden_of(newborn_readings(newborn_values()))


def told(course: Course, day: Day) -> AfterBand:
    """One day against the hour of the band."""
    seen, baby = day.readings, course.today.baby
    banded = course.today.age_days
    echo = baby.traits["echo_over_cmr"]
    mass = day.walls.left.mass_g
    per_kg = MINUTE_S / baby.story.weight_kg(day.age_days)
    also = measured(day, echo, load_mmhg(course))
    return AfterBand(
        hours=round(max(day.age_days - banded, 0.0) * DAY_HOURS, 3),
        lv_mass_ratio=estimate(mass / course.before.walls.left.mass_g, "1"),
        lv_ef_pct=estimate(seen.ejection_pct("LV"), "%"),
        lv_systolic_mmhg=estimate(seen.systolic_mmhg("LV"), "mm[Hg]"),
        lv_rv_systolic_pressure_ratio=estimate(seen.pressure_ratio, "1"),
        sao2_upper_pct=estimate(seen.saturation_pct("AoU"), "%"),
        pulmonary_flow_ml_min_kg=estimate(seen.lung_flow_ml_s * per_kg, "mL/min/kg"),
        systemic_flow_ml_min_kg=estimate(seen.systemic_flow_ml_s * per_kg, "mL/min/kg"),
        lv_mass_g_m2=estimate(also["lv_mass_g_m2"], "g/m2"),
        lv_wall_mm=estimate(also["lv_wall_mm"], "mm"),
        lv_mass_to_volume_g_ml=estimate(mass * echo / seen.end_diastolic_ml("LV"), "g/mL"),
        lv_predicted_stress_kdyn_cm2=estimate(also["lv_predicted_stress_kdyn_cm2"], "kdyn/cm2"),
    )


def load_mmhg(course: Course) -> Floats:
    """Diastolic pressure of the body before band and shunt: what the ventricle is to bear."""
    return course.before.readings.diastolic_mmhg("AoU")


def readiness(
    course: Course, plan: Plan, asked: tuple[Asked, ...]
) -> tuple[Floats, tuple[ReadyCriterion, ...]]:
    """Days after the band until each draw meets all, and each criterion by itself."""
    days = _on_days(course, plan)
    ages = [day.age_days - course.today.age_days for day in days]
    met = ready_by_criterion(
        days,
        asked,
        echo_over_cmr=course.today.baby.traits["echo_over_cmr"],
        load_mmhg=load_mmhg(course),
        banded_day=course.banded_days,
    )
    return first_days(_all_of(met), ages), tuple(
        _criterion(item, first_days(met[item.threshold.name], ages)) for item in asked
    )


def _on_days(course: Course, plan: Plan) -> list[Day]:
    """Days looked at; only those on which the band is just put on where it is on and off."""
    if plan.hours_a_day >= DAY_HOURS:
        return list(course.days)
    start = course.today.age_days
    return [
        day for day in course.days if (day.age_days - start) % 1.0 < plan.hours_a_day / DAY_HOURS
    ]


def _all_of(met: Mapping[str, NDArray[np.bool_]]) -> NDArray[np.bool_]:
    return np.logical_and.reduce(list(met.values()))


def _criterion(item: Asked, first: Floats) -> ReadyCriterion:
    return ReadyCriterion(
        name=item.threshold.name,
        what=item.what,
        limit=item.limit,
        unit=item.threshold.limit.unit.replace("10*3.dyn", "kdyn"),
        threshold=item.threshold.text,
        ready_day=day_estimate(first),
        ready_by_7_d=share_by(first, 7.0),
        ready_by_14_d=share_by(first, 14.0),
        ready_by_28_d=share_by(first, 28.0),
    )


def share_by(first: Floats, day: float) -> float:
    """Share of the draws that are there by a day, a fraction."""
    return round(float((first <= day + 1e-6).mean()), 3)


def day_estimate(first: Floats, offset: float = 0.0) -> Estimate | None:
    """A day over the draws; None where half never come to it, open where a twentieth does not."""
    ordered = np.sort(first)

    def at(share: float) -> float:
        return float(ordered[min(int(np.ceil(share * ordered.size)) - 1, ordered.size - 1)])

    if not np.isfinite(at(0.5)):
        return None
    high = at(HIGH)
    return Estimate(
        value=at(0.5) + offset,
        low=at(LOW) + offset,
        high=high + offset if np.isfinite(high) else None,
        unit="d",
    )


def switch_then(
    course: Course, tiers: tuple[Tier, ...], seed: int, digest: str
) -> tuple[SwitchThen, ...]:
    """The switch tried at the hour of the band instead of it, and one and two weeks after it."""
    operation = Operation(course.today.baby, tiers, seed, digest)
    found = [_tried(operation, None, course.before)]
    later = Operation(course.banded.baby, tiers, seed, digest)
    return (*found, *(_tried(later, days, course.at(days)) for days in SWITCH_DAYS))


def _tried(operation: Operation, days: float | None, day: Day) -> SwitchThen:
    carried = operation.on(day.age_days, day.walls)
    chances = {name: _chance(item.chance) for name, item in carried.items()}
    return SwitchThen(days_after_band=days, **chances)


def _chance(values: Floats) -> Estimate:
    low, high = np.percentile(values, [100.0 * LOW, 100.0 * HIGH])
    return Estimate(value=float(values.mean()), low=float(low), high=float(high), unit="1")


def rules_of_thumb(weight_kg: float) -> tuple[RuleOfThumb, ...]:
    """Common practice beside, never a check."""
    simple, mixing = rules_of_thumb_mm(weight_kg)
    numbers = band_numbers()
    return (
        RuleOfThumb(
            rule=f"{numbers['rule_simple']:g} mm + 1 mm/kg, to protect lungs",
            circumference_mm=simple,
        ),
        RuleOfThumb(
            rule=f"{numbers['rule_mixing']:g} mm + 1 mm/kg where loops mix, to protect lungs",
            circumference_mm=mixing,
        ),
    )
