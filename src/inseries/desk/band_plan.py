"""What is asked of a band, and what is refused before anything is computed."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Literal, NoReturn, TypeAlias

from inseries.base.errors import RouteNotPossible
from inseries.base.numbers import read_numbers
from inseries.case import Case, EventKind, LvOutflow
from inseries.prior.actions import LAST_DAY

if TYPE_CHECKING:
    from collections.abc import Mapping

AimedAt: TypeAlias = Literal["pressure ratio", "left ventricular pressure", "circumference"]

# derived: hours in a day
DAY_HOURS = 24.0


@lru_cache(maxsize=1)
def band_numbers() -> Mapping[str, float]:
    """Numbers of the band, without their origins."""
    return {name: n.value for name, n in read_numbers("inseries.desk", "band.toml").items()}


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """A band as asked for.

    Parameters
    ----------
    age_days : age at the band
    aimed_at, aim : what it is set by (ratio, mmHg, or mm of circumference) and to what
    usual : whether the aim is the usual one, asked for by nobody
    shunt_mm : diameter of a shunt put in with it, 0 none
    tighten : days after the band and the pressure ratio it is set to again then
    hours_a_day : hours of each day on which it is on, 24 always
    since_days : age at which a band was put on that is there already, None without one
    """

    age_days: float
    aimed_at: AimedAt
    aim: float
    usual: bool
    shunt_mm: float
    tighten: tuple[tuple[float, float], ...]
    hours_a_day: float
    since_days: float | None = None

    @property
    def left_alone(self) -> bool:
        """Whether there is a band already, and none other is asked for today."""
        return self.since_days is not None and self.usual

    @property
    def banded_days(self) -> float:
        """Age at which the ventricle was first banded."""
        return self.age_days if self.since_days is None else self.since_days


def plan_of(  # noqa: PLR0913 - what a user may say of a band, all by name
    case: Case,
    *,
    ratio: float | None,
    lv_systolic_mmhg: float | None,
    circumference_mm: float | None,
    shunt_mm: float | None,
    band_day: float | None,
    tighten: Mapping[str, float] | None,
    hours_a_day: float | None,
) -> Plan:
    """The plan, with the usual aim where none is said.

    Parameters
    ----------
    case : the record
    ratio, lv_systolic_mmhg, circumference_mm : one of them at most
    shunt_mm, band_day, tighten, hours_a_day : as in ``Plan``; None for none, today, never, always

    Returns
    -------
    Plan

    Raises
    ------
    RouteNotPossible
        a contradiction, or a number outside what was ever looked at
    """
    _refuse_outflow(case)
    said = {
        "pressure ratio": ratio,
        "left ventricular pressure": lv_systolic_mmhg,
        "circumference": circumference_mm,
    }
    aims: list[tuple[AimedAt, float]] = [(k, v) for k, v in said.items() if v is not None]  # type: ignore[misc]
    if len(aims) > 1:
        _refuse("a band is set by one thing", "two_aims", "band", aims[1][0], "", "one of them")
    aimed_at, aim = aims[0] if aims else ("pressure ratio", band_numbers()["usual_ratio"])
    plan = Plan(
        age_days=case.age_days if band_day is None else band_day,
        aimed_at=aimed_at,
        aim=aim,
        usual=not aims,
        shunt_mm=_there(case, EventKind.SHUNT, "shunt_mm") if shunt_mm is None else shunt_mm,
        tighten=_steps(tighten or {}),
        hours_a_day=DAY_HOURS if hours_a_day is None else hours_a_day,
        since_days=_since(case),
    )
    _refuse_unfit(plan, case.age_days)
    return plan


def _since(case: Case) -> float | None:
    """Age at the band that is there already."""
    bands = case.events_of(EventKind.BAND)
    return bands[0].age_days if bands else None


def _there(case: Case, kind: EventKind, name: str) -> float:
    """Size of what the record has already, 0 for nothing."""
    sizes = [e.details.get(name) for e in case.events if e.kind is kind or name in e.details]
    return float(sizes[-1]) if sizes and isinstance(sizes[-1], float | int) else 0.0


def _steps(tighten: Mapping[str, float]) -> tuple[tuple[float, float], ...]:
    """Days after the band with the ratio wanted then, in order."""
    try:
        found = sorted((float(day), ratio) for day, ratio in tighten.items())
    except ValueError:
        _refuse(
            "a day must be a number", "not_a_day", "tighten", str(tighten), "d", "such as 3=0.9"
        )
    return tuple(found)


def _refuse_unfit(plan: Plan, today: float) -> None:
    last = LAST_DAY - band_numbers()["watched_days"]
    if not plan.age_days >= today:
        what = "the band lies before the last entry of the record"
        _refuse(what, "before_today", "band", plan.age_days, "d", f"an age from {today:.1f} d on")
    if plan.age_days > last:
        what = "the norms end at one year"
        _refuse(what, "beyond_norms", "band", plan.age_days, "d", f"an age up to {last:g} d")
    if not (math.isfinite(plan.aim) and plan.aim > 0.0):
        what = "an aim must be above zero"
        _refuse(what, "not_positive", plan.aimed_at, plan.aim, "", "a number above zero")
    _refuse_ratios(plan)
    refuse_shunt(plan.shunt_mm)
    _refuse_hours(plan)


def _refuse_ratios(plan: Plan) -> None:
    """Refuses ratios above what was published, and days outside those looked at."""
    numbers = band_numbers()
    greatest, watched = numbers["greatest_ratio"], numbers["watched_days"]
    aims = [plan.aim] if plan.aimed_at == "pressure ratio" else []
    for ratio in [*aims, *(ratio for _, ratio in plan.tighten)]:
        if not 0.0 < ratio <= greatest:
            what = "a left ventricle above the body's pressure at the hour of a band is unpublished"
            least = f"up to {greatest:g}; it climbs from there as the wall grows"
            _refuse(what, "beyond_published", "ratio", ratio, "1", least)
    for day, _ in plan.tighten:
        if not 0.0 < day < watched:
            what = "a band is tightened again within the days looked at"
            _refuse(what, "not_watched", "tighten", day, "d", f"above 0 and below {watched:g} d")


def refuse_shunt(shunt_mm: float) -> None:
    """Refuses a shunt outside the sizes that were read of; 0 is none."""
    low, high = band_numbers()["narrowest_shunt"], band_numbers()["widest_shunt"]
    if shunt_mm != 0.0 and not low <= shunt_mm <= high:
        what = "no shunt of that size was read of beside a band"
        _refuse(what, "shunt_out_of_bounds", "shunt", shunt_mm, "mm", f"{low:g} to {high:g} mm")


def _refuse_hours(plan: Plan) -> None:
    if not 0.0 < plan.hours_a_day <= DAY_HOURS:
        what = "a day has 24 hours"
        _refuse(what, "not_hours", "hours on", plan.hours_a_day, "h", "above 0 and up to 24")
    if plan.tighten and plan.hours_a_day < DAY_HOURS:
        what = "a band that is on and off is not tightened as well here"
        _refuse(what, "two_ways", "band", plan.hours_a_day, "h", "one of the two")


def _refuse_outflow(case: Case) -> None:
    """A fixed or valvar narrowing loads the ventricle already, and would become the body's."""
    outflow = case.anatomy.lv_outflow
    if outflow is LvOutflow.FIXED or outflow is LvOutflow.VALVAR:
        _refuse(
            "the left outflow is narrow and stays so: it loads the ventricle already, and after a "
            "switch it would be the body's",
            "outflow_narrow",
            "band",
            outflow.value,
            "",
            "`window`, whose page says what the narrowing means for a switch",
        )


def _refuse(what: str, code: str, where: str, value: object, unit: str, remedy: str) -> NoReturn:
    raise RouteNotPossible(what, code=code, where=where, value=value, unit=unit, remedy=remedy)
