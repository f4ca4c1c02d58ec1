"""A band put on the draws and followed for weeks: set by pressure, set again, or on and off."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from inseries.desk.band_plan import DAY_HOURS, Plan, band_numbers
from inseries.desk.band_refused import (
    refuse_below,
    refuse_beyond,
    refuse_loaded,
    refuse_there,
)
from inseries.desk.band_search import Tried, tried, tuned
from inseries.prior.actions import Action, Kind, with_actions
from inseries.prior.forecast import Day, forecast
from inseries.routes import band_lumen_mm

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from inseries.prior.importance import Progress
    from inseries.prior.narrow import Narrowed
    from inseries.prior.traits import Floats

# published: boutin1994 looked at 12 h and 3.5 d; chosen: the rest, days after the band
AFTER_DAYS = (0.0, 0.5, 3.5, 7.0, 14.0)
# chosen: days looked at for the curve and the day of readiness
BETWEEN_DAYS = (0.25, 1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 9.0, 10.0, 11.0, 12.0, 13.0,
                16.0, 18.0, 21.0, 24.0, 28.0)  # fmt: skip
# chosen: above this share of draws that no published band brings to the aim there is no answer
MOST_SHORT = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """The draws before a band and on days after it.

    Parameters
    ----------
    today : draws at the hour of the band, before it
    before : their beat then, as it would be without band and shunt
    banded_days : age at which they were first banded
    days : days after the band; at its own hour the beat just after it
    lumens_mm : array, shape (n,), what the band leaves in each draw
    short : array of bool, shape (n,), draws that are not brought to the aim: by the tightest
        published band, or before function gives way
    aim : pressure ratio it was set to, None where it was set by something else
    banded : the draws under the band, as they are on the last day
    """

    today: Narrowed
    before: Day
    banded_days: float
    days: tuple[Day, ...]
    lumens_mm: Floats
    short: NDArray[np.bool_]
    aim: float | None
    banded: Narrowed

    def at(self, days_after: float) -> Day:
        """The day that lies so long after the band."""
        age = self.today.age_days + days_after
        return min(self.days, key=lambda day: abs(day.age_days - age))


def banded_course(today: Narrowed, plan: Plan, progress: Progress | None = None) -> Course:
    """The draws banded as planned and walked on for four weeks.

    Parameters
    ----------
    today : narrowed draws
    plan : band, shunt, and what is done to them later
    progress : told the share done

    Returns
    -------
    Course

    Raises
    ------
    RouteNotPossible
        the aim lies beyond the tightest published band for most draws, or is there without a band
    """
    waited = forecast(today, ages_days=[plan.age_days], progress=progress)
    start = waited.after(today, 0)
    before = _bare(start, waited.days[0])
    shunted = _with_shunt(start, plan)
    lumens, short, aim = _first_lumens(shunted, plan)
    days: list[Day] = []
    current, set_to = shunted, lumens
    stages = [(0.0, aim), *plan.tighten]
    for place, (after, wanted) in enumerate(stages):
        last = place == len(stages) - 1
        until = band_numbers()["watched_days"] if last else stages[place + 1][0]
        if after > 0.0:
            assert wanted is not None
            set_to = _tighter(current, wanted, set_to)
        left = plan.left_alone and after == 0.0
        nominal = float(np.median(set_to))
        ahead = forecast(
            current if left else tuned(current, set_to, nominal),
            [] if left else _actions(plan, current.age_days, nominal),
            ages_days=_ages(plan.age_days, after, until, last=last),
            progress=progress,
        )
        today.baby.tally.add(ahead.baby.tally)
        days += ahead.days if last else ahead.days[:-1]
        current = ahead.after(current, len(ahead.days) - 1)
    return Course(
        today=start,
        before=before,
        banded_days=plan.banded_days,
        days=tuple(days),
        lumens_mm=lumens,
        short=short,
        aim=aim,
        banded=current,
    )


def _bare(start: Narrowed, day: Day) -> Day:
    """The beat as it would be at once without the band and the shunt that are there."""
    story, age = start.baby.story, start.age_days
    there = {Kind.BAND_OFF: story.band_mm(age), Kind.SHUNT_OFF: story.shunt_mm(age)}
    off = [Action(kind=kind, age_days=age) for kind, size in there.items() if size > 0.0]
    return forecast(start, off, ages_days=[age]).days[0] if off else day


def _with_shunt(start: Narrowed, plan: Plan) -> Narrowed:
    if plan.shunt_mm <= 0.0:
        return start
    shunt = Action(kind=Kind.SHUNT, age_days=plan.age_days, size=plan.shunt_mm)
    return replace(start, baby=start.baby.with_story(with_actions(start.baby.story, [shunt])))


def _actions(plan: Plan, age: float, nominal: float) -> list[Action]:
    """The band, or the band put on each day for some hours."""
    if plan.hours_a_day >= DAY_HOURS:
        return [Action(kind=Kind.BAND, age_days=age, size=nominal)]
    found: list[Action] = []
    for day in range(round(band_numbers()["watched_days"]) + 1):
        on = age + day
        found.append(Action(kind=Kind.BAND, age_days=on, size=nominal))
        found.append(Action(kind=Kind.BAND_OFF, age_days=on + plan.hours_a_day / DAY_HOURS))
    return found


def _ages(banded: float, after: float, until: float, *, last: bool) -> list[float]:
    """Ages to look at from one setting of the band to the next, its own hours included."""
    inside = sorted({*AFTER_DAYS, *BETWEEN_DAYS})
    days = [after, *(day for day in inside if after < day < until), until]
    return [banded + day for day in (days if last or days[-1] > after else days[:-1])]


def _first_lumens(shunted: Narrowed, plan: Plan) -> tuple[Floats, NDArray[np.bool_], float | None]:
    """Lumens of the first setting, draws that fall short, and the pressure ratio aimed at."""
    members = shunted.baby.traits.members
    if plan.left_alone:
        there = shunted.baby.story.band_mm(shunted.age_days)
        return there * shunted.baby.traits["band_lumen"], np.zeros(members, dtype=np.bool_), None
    if plan.aimed_at == "circumference":
        refuse_below(shunted, plan.aim)
        lumens = band_lumen_mm(plan.aim) * shunted.baby.traits["band_lumen"]
        return lumens, np.zeros(members, dtype=np.bool_), None
    looked = tried(shunted)
    if plan.aimed_at == "left ventricular pressure":
        return (*_lumens(looked, plan.aim, shunted, looked.lv_systolic_mmhg), None)
    if not plan.usual:
        return (*_lumens(looked, plan.aim, shunted), plan.aim)
    aim = _above_present(looked, plan, shunted)
    return (*_kept_working(looked, aim), aim)


def _kept_working(looked: Tried, aim: float) -> tuple[Floats, NDArray[np.bool_]]:
    """Lumens for the usual aim, wider where a draw would eject too little at its own."""
    found = looked.lumen_for(looked.ratio, aim)
    working = looked.tightest_for(band_numbers()["low_ejection"])
    wanted = np.where(np.isnan(found), looked.lumens_mm[0], found)
    return np.maximum(wanted, working), np.isnan(found) | (working > wanted)


def _above_present(looked: Tried, plan: Plan, today: Narrowed) -> float:
    """The usual ratio, or more where it is there without a band."""
    present = float(np.median(looked.ratio[:, -1]))
    least = present + band_numbers()["step_above_present"]
    if least > band_numbers()["greatest_ratio"]:
        refuse_loaded(present, today)
    return max(plan.aim, np.ceil(20.0 * least) / 20.0)


def _lumens(
    looked: Tried,
    wanted: float,
    today: Narrowed,
    values: Floats | None = None,
    where: str = "band",
) -> tuple[Floats, NDArray[np.bool_]]:
    """Lumens for a wanted value, the tightest published one where a draw falls short of it."""
    values = looked.ratio if values is None else values
    found = looked.lumen_for(values, wanted)
    short = np.isnan(found)
    if short.mean() > MOST_SHORT:
        refuse_beyond(looked, values, wanted, today, where)
    if float(np.median(values[:, -1])) >= wanted:
        refuse_there(float(np.median(values[:, -1])), wanted, where)
    return np.where(short, looked.lumens_mm[0], found), short


def _tighter(current: Narrowed, wanted: float, lumens: Floats) -> Floats:
    """Lumens for a ratio wanted now; no draw's band is loosened for it."""
    looked = tried(current)
    found = _lumens(looked, wanted, current, where="tighten")[0]
    if float(np.median(found - lumens)) >= 0.0:
        present = looked.at(looked.ratio, lumens)
        refuse_there(float(np.median(present)), wanted, "tighten")
    return np.minimum(found, lumens)
