"""The course after a band as a record to draw."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from inseries.circuit.readouts import MINUTE_S
from inseries.desk.band_plan import DAY_HOURS, Plan
from inseries.desk.band_told import load_mmhg, share_by
from inseries.desk.readiness import measured
from inseries.draw.band_view import BandLine, BandView
from inseries.draw.window_curve import in_fives

if TYPE_CHECKING:
    from collections.abc import Callable

    from inseries.desk.band_course import Course
    from inseries.desk.band_result import ReadyCriterion
    from inseries.prior.forecast import Day
    from inseries.prior.traits import Floats

# chosen: days after the band at which the share that is ready is drawn
READY_DAYS = (3.5, 7.0, 14.0, 28.0)


def band_view(
    plan: Plan, course: Course, criteria: tuple[ReadyCriterion, ...], first: Floats
) -> BandView:
    """The picture of a band: pressures, function, wall, oxygen, readiness.

    Parameters
    ----------
    plan, course : as asked for, and as it went
    criteria : of readiness, whose limits are drawn as aims
    first : array, shape (n,), days after the band until each draw is ready

    Returns
    -------
    BandView
    """
    days = _drawn(plan, course)
    asked = {item.name: item.limit for item in criteria}
    return BandView(
        title="After the band",
        days=tuple(round(day.age_days - course.today.age_days, 4) for day in days),
        lines=tuple(
            _line(course, days, told, asked.get(told.asked or "")) for told in _quantities(course)
        ),
        ready=tuple((day, share_by(first, day)) for day in READY_DAYS),
        ready_text=f"Ready by two weeks: {in_fives(share_by(first, 14.0))} of the draws.",
        marks=_marks(plan),
        sentence=_sentence(plan),
        figure_id="band",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Quantity:
    """What is drawn: its name, its values on a day, and the criterion that asks for it."""

    name: str
    unit: str
    of: Callable[[Day], Floats]
    asked: str | None = None


def _marks(plan: Plan) -> tuple[tuple[float, str], ...]:
    start = "band" if plan.since_days is None else "today"
    return ((0.0, start), *((day, f"set to {ratio:g}") for day, ratio in plan.tighten))


def _sentence(plan: Plan) -> str:
    shunt = f", with a shunt of {plan.shunt_mm:g} mm" if plan.shunt_mm > 0.0 else ""
    off = f", on for {plan.hours_a_day:g} h of each day" if plan.hours_a_day < DAY_HOURS else ""
    when = f"banded on day {plan.banded_days:.0f}"
    if plan.since_days is not None:
        when += f" and looked at from day {plan.age_days:.0f} on"
    return (
        f"Simulated for this baby, {when}{shunt}{off}. A ventricle that "
        "fails in the first hours is not in these courses."
    )


def _drawn(plan: Plan, course: Course) -> list[Day]:
    """Days drawn; of a band that is on and off those on which it is just put on."""
    if plan.hours_a_day >= DAY_HOURS:
        return list(course.days)
    start = course.today.age_days
    return [day for day in course.days if abs((day.age_days - start + 0.5) % 1.0 - 0.5) < 1e-3]


def _measured(course: Course, day: Day, quantity: str) -> Floats:
    echo = course.today.baby.traits["echo_over_cmr"]
    return measured(day, echo, load_mmhg(course))[quantity]


def _lung_flow(course: Course, day: Day) -> Floats:
    weight = course.today.baby.story.weight_kg(day.age_days)
    return day.readings.lung_flow_ml_s * MINUTE_S / weight


def _quantities(course: Course) -> tuple[_Quantity, ...]:
    return (
        _Quantity(
            name="LV over RV pressure",
            unit="",
            of=lambda day: day.readings.pressure_ratio,
            asked="pressure_ratio_0_83",
        ),
        _Quantity(name="LV systolic", unit="mmHg", of=lambda d: d.readings.systolic_mmhg("LV")),
        _Quantity(
            name="LV ejection",
            unit="%",
            of=lambda d: d.readings.ejection_pct("LV"),
            asked="banded_ef_52_pct",
        ),
        _Quantity(
            name="LV wall, by echo",
            unit="mm",
            of=lambda d: _measured(course, d, "lv_wall_mm"),
            asked="wall_4_mm",
        ),
        _Quantity(
            name="Stress at the body's load, kdyn/cm²",
            unit="",
            of=lambda d: _measured(course, d, "lv_predicted_stress_kdyn_cm2"),
            asked="predicted_stress_120",
        ),
        _Quantity(
            name="LV mass over the band's hour",
            unit="",
            of=lambda day: day.walls.left.mass_g / course.before.walls.left.mass_g,
        ),
        _Quantity(
            name="Saturation of the arms",
            unit="%",
            of=lambda day: day.readings.saturation_pct("AoU"),
        ),
        _Quantity(name="Lung flow", unit="mL/min/kg", of=lambda d: _lung_flow(course, d)),
    )


def _line(course: Course, days: list[Day], told: _Quantity, limit: float | None) -> BandLine:
    rows = np.array([np.percentile(told.of(day), [5.0, 50.0, 95.0]) for day in days])
    low, value, high = (tuple(float(v) for v in rows[:, i]) for i in range(3))
    return BandLine(
        name=told.name,
        unit=told.unit,
        before=float(np.median(told.of(course.before))),
        value=value,
        low=low,
        high=high,
        aim=limit,
        aim_text="" if limit is None else f"asked: {limit:g}",
    )
