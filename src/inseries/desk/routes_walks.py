"""One baby walked down every route: what routes have in common is walked once.

All draws are followed while nothing is operated and under a band; after an operation, and beyond
two months, some of them, which the answer counts.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, cast

import numpy as np

from inseries.base.errors import RouteNotPossible
from inseries.course.glide import glide
from inseries.course.walk import Pace
from inseries.desk.band_course import banded_course
from inseries.desk.band_plan import plan_of as band_plan_of
from inseries.desk.band_search import tightest_mm, tuned
from inseries.desk.readiness import asked, first_days, ready_by_criterion
from inseries.desk.routes_plan import RoutesPlan, routes_numbers
from inseries.prior.actions import Action, Kind, usual_sizes, with_actions
from inseries.prior.baby import Sensed
from inseries.prior.forecast import Day, forecast, some
from inseries.prior.operation import Operation
from inseries.routes import band_circumference_mm

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from inseries.case import Case
    from inseries.desk.band_course import Course as BandCourse
    from inseries.desk.routes_result import Loops
    from inseries.prior.baby import Baby
    from inseries.prior.importance import Progress
    from inseries.prior.narrow import Narrowed
    from inseries.prior.operation import Carrying, Tier
    from inseries.prior.traits import Floats

# chosen: slow steps in the days after something is done; longer ones let a stiff wall swing
PACE = Pace(shortest_days=0.4, longest_days=2.0, largest_change=0.10)
# chosen: so many days after something is done the walk gives way to the glide
SETTLED_DAYS = 7.0
# chosen: days after today, and after an operation, that are told
AFTER_TODAY = (1.0, 3.0, 7.0, 14.0, 28.0, 42.0)
AFTER_OPERATION = (0.0, 1.0, 3.0, 7.0, 14.0, 28.0, 42.0)
FAR_AGES = (90.0, 180.0, 270.0)
# chosen: the switch is tried so long after today while waiting, days
WAITED = (7.0, 14.0, 28.0)
# chosen: days of support that are told, its end among them
ON_SUPPORT = (0.0, 1.0, 2.0)
HOURS = 24.0  # derived: hours in a day


@dataclass(frozen=True, slots=True, kw_only=True)
class Looked:
    """One day of some draws, and how their loops stand."""

    day: Day
    baby: Baby
    loops: Loops


@dataclass(frozen=True, slots=True, kw_only=True)
class Banded:
    """The banded course with its second stage.

    Parameters
    ----------
    course : the draws under the band
    set_to : what the band was set to, in words
    second_day : age at the second stage
    ready_day : age at which each draw meets every criterion, shape (n,), infinite for never
    met : share of draws that meet each criterion on that day, by threshold
    state : the draws at the second stage, still banded
    """

    course: BandCourse
    set_to: str
    second_day: float
    ready_day: Floats
    met: Mapping[str, float]
    state: Narrowed


class Walks:
    """All walks of one question.

    Parameters
    ----------
    case, today : the record and its draws
    plan : days of the routes
    tiers : criteria of the switch
    seed : of the run
    tell : told stage and share done
    """

    def __init__(
        self,
        case: Case,
        today: Narrowed,
        plan: RoutesPlan,
        tiers: tuple[Tier, ...],
        seed: int,
        tell: Progress,
    ) -> None:
        self.case, self.today, self.plan, self.tell = case, today, plan, tell
        self.tiers, self.seed = tiers, seed
        self._far_draws = round(routes_numbers()["far_draws"])
        band = case.event("band")
        self.banded_already = band is not None
        self.banded_day = band.age_days if band is not None else plan.band_day
        self._operations: dict[int, Operation] = {}
        self._states: dict[float, Narrowed] = {}
        self.waited = self._wait()

    def state_at(self, age: float) -> Narrowed:
        """The draws at one of the plan's ages, with nothing done."""
        return self._states[age]

    def chance_at(self, state: Narrowed) -> dict[str, Carrying]:
        """The switch tried on some draws as they stand."""
        key = id(state.baby)
        if key not in self._operations:
            self._operations[key] = Operation(state.baby, self.tiers, self.seed, self.case.digest)
        return self._operations[key].on(state.age_days, state.walls)

    def after(
        self, start: Narrowed, actions: Iterable[Action], *, loops: Loops
    ) -> tuple[Looked, ...]:
        """Some draws walked on from an operation to the last day."""
        age, last = start.age_days, self.plan.last_day
        far = (*FAR_AGES, self.plan.near_day)
        ages = {age + step for step in AFTER_OPERATION if age + step < last}
        ages |= {day for day in far if day > age} | {last}
        return self._followed(some(start, self._far_draws), actions, sorted(ages), loops)[0]

    def supported(self, start: Narrowed) -> tuple[Looked, ...]:
        """Some draws switched and put on support for its usual days, then off it."""
        age, days = start.age_days, usual_sizes()["support_days"]
        ages = [age + step for step in (*ON_SUPPORT, days, days + 3.0)]
        actions = [Action(kind=Kind.SWITCH, age_days=age), Action(kind=Kind.SUPPORT, age_days=age)]
        return self._followed(some(start, self._far_draws), actions, ages, "one ring")[0]

    def banded(self) -> Banded:
        """The band and the day of the second stage.

        Raises
        ------
        RouteNotPossible
            a band that trains nothing, or is tighter than any published one
        """
        plan = self.plan
        course, set_to = self._band_course()
        load = course.before.readings.diastolic_mmhg("AoU")
        criteria = asked()
        echo = course.banded.baby.traits["echo_over_cmr"]
        met = ready_by_criterion(
            course.days, criteria, echo_over_cmr=echo, load_mmhg=load, banded_day=self.banded_day
        )
        ready = first_days(np.all(list(met.values()), axis=0), [d.age_days for d in course.days])
        second = plan.second_stage_day or self._second_day(ready)
        state = self._under_band(course, second)
        there = ready_by_criterion(
            [state[1]], criteria, echo_over_cmr=echo, load_mmhg=load, banded_day=self.banded_day
        )
        shares = {name: float(rows.mean()) for name, rows in there.items()}
        return Banded(
            course=course,
            set_to=set_to,
            second_day=second,
            ready_day=ready,
            met=shares,
            state=state[0],
        )

    def _band_course(self) -> tuple[BandCourse, str]:
        """The draws under the band, and what it was set to."""
        plan = self.plan
        if self.banded_already:
            return self._banded_by(), "as it is today"
        if plan.band_mm is not None:
            around = float(band_circumference_mm(plan.band_mm))
            return self._banded_by(circumference_mm=around), "as asked for"
        try:
            usual = self._banded_by()
        except RouteNotPossible as refusal:
            if refusal.code != "below_tested":
                raise
            weight = self.today.baby.story.weight_kg(plan.band_day)
            tightest = self._banded_by(circumference_mm=tightest_mm(weight))
            return tightest, "as tight as any that was published"
        beside = f", with a shunt of {plan.shunt_mm:g} mm" if plan.shunt_mm else ""
        return (
            usual,
            f"set to {usual.aim:.2f} of the right ventricle's pressure at that hour{beside}",
        )

    def _banded_by(self, *, circumference_mm: float | None = None) -> BandCourse:
        """By a circumference, or as `band` sets one where nothing is said."""
        band = band_plan_of(
            self.case,
            ratio=None,
            lv_systolic_mmhg=None,
            circumference_mm=circumference_mm,
            shunt_mm=self.plan.shunt_mm,
            band_day=self.plan.band_day,
            tighten=None,
            hours_a_day=None,
        )
        return banded_course(self._states[self.plan.band_day], band, self.tell)

    def conditioned(self, course: BandCourse) -> tuple[Looked, ...]:
        """All draws banded for some hours that end at the switch."""
        hours = routes_numbers()["conditioning_hours"] / HOURS
        start = course.today
        age = start.age_days
        nominal = float(np.median(course.lumens_mm))
        on = tuned(start, course.lumens_mm, nominal)
        action = Action(kind=Kind.BAND, age_days=age, size=nominal)
        pace = replace(PACE, shortest_days=hours / 2.0, longest_days=hours / 2.0)
        ahead = forecast(on, [action], ages_days=[age, age + hours], pace=pace)
        self.today.baby.tally.add(ahead.baby.tally)
        before = Looked(day=course.before, baby=start.baby, loops="two loops")
        return (
            before,
            *(Looked(day=d, baby=ahead.baby, loops="two loops, banded") for d in ahead.days),
        )

    # ---- walks -------------------------------------------------------------------------------

    def _wait(self) -> tuple[Looked, ...]:
        """Nothing done: all draws to two months, some to the last day."""
        plan, today = self.plan, self.today
        ops = {plan.switch_day, plan.band_day, plan.atrial_day}
        told = {plan.after(step) for step in (*AFTER_TODAY, *WAITED)}
        told |= {today.age_days, plan.near_day}
        near = sorted(age for age in told | ops if age <= plan.near_day)
        found, states = self._followed(today, (), near, self._loops())
        self._states.update(states)
        far = sorted(
            age for age in {*FAR_AGES, *ops, plan.last_day} if plan.near_day < age <= plan.last_day
        )
        if not far:
            return found
        start = some(states[near[-1]], self._far_draws)
        beyond, states = self._followed(start, (), far, self._loops())
        self._states.update(states)
        return (*found, *beyond)

    def _loops(self) -> Loops:
        return "two loops, banded" if self.banded_already else "two loops"

    def _second_day(self, ready: Floats) -> float:
        """The day by which half of the draws are ready, or the usual one where they never are."""
        n = routes_numbers()
        middle = float(np.quantile(ready, n["ready_share"], method="inverted_cdf"))
        usual = self.plan.band_day + n["second_stage_after"]
        return float(np.ceil(middle)) if np.isfinite(middle) else usual

    def _under_band(self, course: BandCourse, age: float) -> tuple[Narrowed, Day]:
        """The draws under the band at an age."""
        before = [day for day in course.days if day.age_days <= age] or [course.days[0]]
        last = before[-1]
        state = replace(course.banded, walls=last.walls, age_days=last.age_days)
        if last.age_days == age:
            return state, last
        ahead = forecast(state, ages_days=[age], pace=PACE)
        self.today.baby.tally.add(ahead.baby.tally)
        return ahead.after(state, 0), ahead.days[0]

    def _followed(
        self,
        start: Narrowed,
        actions: Iterable[Action],
        ages: list[float],
        loops: Loops,
    ) -> tuple[tuple[Looked, ...], dict[float, Narrowed]]:
        """Draws looked at on some days: walked while something has just happened, then glided."""
        baby = start.baby.with_story(with_actions(start.baby.story, actions))
        state = replace(start, baby=baby)
        events = [age for age in baby.story.breaks_days if age >= start.age_days]
        until = max(events) + SETTLED_DAYS if events else start.age_days
        days: list[Day] = []
        walked = [age for age in ages if age <= until]
        if walked:
            ahead = forecast(state, ages_days=walked, pace=PACE, progress=self.tell)
            baby, days = ahead.baby, list(ahead.days)
            state = ahead.after(state, len(walked) - 1)
        days += self._glided(baby, state, [age for age in ages if age > until])
        self.today.baby.tally.add(baby.tally)
        states = {
            day.age_days: replace(state, walls=day.walls, age_days=day.age_days) for day in days
        }
        return tuple(Looked(day=day, baby=baby, loops=loops) for day in days), states

    def _glided(self, baby: Baby, state: Narrowed, ages: list[float]) -> list[Day]:
        stops = glide(
            baby.beat,
            state.walls,
            law=baby.law,
            who=baby.individual(),
            body=baby.body(),
            start_days=state.age_days,
            stops_days=ages,
        )
        days: list[Day] = []
        for stop in stops:
            assert isinstance(stop.sensed, Sensed)
            surface, readings = baby.story.surface_m2(stop.age_days), stop.sensed.readings
            days.append(
                Day(age_days=stop.age_days, surface_m2=surface, walls=stop.walls, readings=readings)
            )
            self.tell("walking through the days", stop.age_days / self.plan.last_day)
        return days


def banded_days(banded: Banded) -> tuple[Looked, ...]:
    """Days under the band up to the second stage."""
    baby = banded.course.banded.baby
    return tuple(
        Looked(day=day, baby=baby, loops=cast("Loops", "two loops, banded"))
        for day in banded.course.days
        if day.age_days < banded.second_day
    )


def lumen_mm(banded: Banded) -> float:
    """Lumen that the band leaves in the middle draw."""
    return float(np.median(banded.course.lumens_mm))


def outer_mm(lumen: float) -> float:
    """Circumference of a band that leaves that lumen."""
    return float(band_circumference_mm(lumen))
