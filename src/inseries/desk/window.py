"""The verb ``window``: how late a switch would still be possible, and what each day costs.

The curve never stands without urgency, suitability, the cost of waiting and the other limits.
"""

from __future__ import annotations

from collections.abc import Mapping  # noqa: TC003 - read by the schema at run time
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from inseries.base.findings import Caution, Estimate, Severity
from inseries.case import Case, EventKind, read_case
from inseries.desk.after_picture import after_switch_view
from inseries.desk.answer import Answer, Progress, Shown, Table
from inseries.desk.cautions import ensemble_cautions, standing_cautions
from inseries.desk.criteria import tiers_of
from inseries.desk.drivers import Driver, drivers, next_measurements
from inseries.desk.now import DEFAULT_SEED, NowResult, describe, refuse_after_switch
from inseries.desk.published import Published, published
from inseries.desk.readouts import estimate
from inseries.desk.run import run_record
from inseries.desk.suitability import Suitability, suitability
from inseries.desk.urgency import Urgency, limits
from inseries.desk.window_curve import first_below, five, window_view
from inseries.draw.terminal import window_text
from inseries.draw.views import (  # noqa: TC001 - read by the schema at run time
    LoopsView,
    WindowView,
)
from inseries.draw.window_curve import in_fives
from inseries.evidence.rows import cost_of_waiting, late_series, limits_not_lv
from inseries.prior.narrow import Narrowed, narrowed
from inseries.prior.window import Outlook, outlook

if TYPE_CHECKING:
    from pathlib import Path

    from inseries.prior.operation import Tier
    from inseries.prior.traits import Floats

WINDOW_DRAWS = 200  # chosen: keeps the 90 % interval of a chance steady within five points
HORIZON_DAY = 60.0  # chosen: the age at which slow change has been compared with anything
# chosen: a window looks at least this far ahead, days
LEAST_AHEAD_DAYS = 30.0
LEAST_APART_DAYS = 2.0  # chosen: rows of the table lie this far from today at least


@dataclass(frozen=True, slots=True, kw_only=True)
class TierAnswer:
    """One tier: the chance on every day, and where the curve passes 90 and 50 %.

    Parameters
    ----------
    chance, chance_low, chance_high : fractions, mean and 90 % interval over the draws, by day
    below_90_day, below_50_day : first day below after a run at or above; the horizon where the
        run reaches it; None if never reached
    open_ended_for_lv_only : the run at or above 50 % reaches the horizon
    """

    chance: tuple[float, ...]
    chance_low: tuple[float, ...]
    chance_high: tuple[float, ...]
    below_90_day: float | None
    below_50_day: float | None
    open_ended_for_lv_only: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Limiting:
    """On one day: of the cases that fail a tier, the share that fails by each criterion."""

    day: float
    survivable: Mapping[str, float]
    comfortable: Mapping[str, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class AfterSwitch:
    """On one day: what the left ventricle would do filled to each tier's limit, and was before."""

    day: float
    cardiac_index_at_survivable_filling_l_min_m2: Estimate
    cardiac_index_at_comfortable_filling_l_min_m2: Estimate
    lv_ef_pct: Estimate
    lv_mass_before_g: Estimate
    lv_mass_before_g_m2: Estimate
    lv_rv_ratio_before: Estimate
    sao2_upper_before_pct: Estimate


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherLimit:
    """A limit of waiting that is not the left ventricle's."""

    name: str
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WindowResult:
    """The window in two tiers, with what must stand beside it."""

    age_days: float
    horizon_day: float
    urgency: Urgency
    suitability: Suitability
    days: tuple[float, ...]
    tiers: Mapping[str, TierAnswer]
    criteria: Mapping[str, Mapping[str, float]]
    limiting: tuple[Limiting, ...]
    after_switch: tuple[AfterSwitch, ...]
    drivers: tuple[Driver, ...]
    next_measurements: tuple[Driver, ...]
    cost_of_waiting: tuple[Published, ...]
    published: tuple[Published, ...]
    other_limits: tuple[OtherLimit, ...]
    sentences: tuple[str, ...]
    picture: WindowView
    picture_after: LoopsView

    def shown(self) -> Shown:
        """Urgency first, then the curve with its company."""
        u = self.urgency
        first = f"{u.level.upper()}: {u.headline}. Next decision within {u.hours:g} h."
        return Shown(
            sentences=(
                first,
                f"Is a switch the operation? {self.suitability.sentence}",
                *self.sentences,
            ),
            tables=(
                _curve_table(self),
                _published_table(
                    "What waiting costs (published, other babies)", self.cost_of_waiting
                ),
                _published_table("Late operations (published, other babies)", self.published),
                Table(
                    title="Limits that are not the left ventricle's",
                    columns=("limit", "why"),
                    rows=tuple((item.name, item.sentence) for item in self.other_limits),
                ),
                _driver_table(self.drivers, self.next_measurements),
            ),
            picture=window_text(self.picture),
        )


def window(
    case: Case | Path | str,
    *,
    seed: int = DEFAULT_SEED,
    draws: int = WINDOW_DRAWS,
    criteria: Mapping[str, float] | None = None,
    progress: Progress | None = None,
) -> Answer:
    """The chance per day that the left ventricle carries the body after a switch.

    Parameters
    ----------
    case : Case, path of a case file, or its text
    seed : start of the random numbers
    draws : circuits kept
    criteria : changes to the packaged criteria, such as ``{"survivable_la_mean_max": 16}``
    progress : told stage and share done

    Returns
    -------
    Answer with a WindowResult

    Raises
    ------
    CaseError, PriorError, RouteNotPossible
        the case cannot be read, is too thin, or is past its operation
    """
    record = case if isinstance(case, Case) else read_case(case)
    return answered(record, seed=seed, draws=draws, criteria=criteria, progress=progress)[0]


def answered(
    record: Case,
    *,
    seed: int,
    draws: int,
    criteria: Mapping[str, float] | None,
    progress: Progress | None,
) -> tuple[Answer, WindowResult, NowResult]:
    """The window's answer, its result, and what `now` says of the same draws."""
    refuse_after_switch(record, "window")
    tiers = tiers_of(criteria)
    today = narrowed(record, draws=draws, seed=seed, progress=progress)
    seen, _ = describe(record, today)
    horizon = max(HORIZON_DAY, float(np.ceil(today.age_days + LEAST_AHEAD_DAYS)))
    ahead = outlook(
        today, tiers, horizon_day=horizon, seed=seed, digest=record.digest, progress=progress
    )
    today.refuse_failed()
    result = _result(record, today, ahead, horizon, seen.urgency)
    answer = Answer(
        verb="window",
        case_id=record.id,
        result=result,
        cautions=_cautions(record, today, result),
        sources=_sources(result),
        run=run_record(
            record.digest,
            seed=seed,
            draws=draws,
            effective_draws=today.effective_draws,
            criteria={tier.name: _asked(tier) for tier in tiers},
        ),
    )
    return answer, result, seen


def _result(
    record: Case, today: Narrowed, ahead: Outlook, horizon: float, pressing: Urgency
) -> WindowResult:
    ages = np.concatenate(
        [[today.age_days], np.arange(np.floor(today.age_days) + 1.0, horizon + 0.5)]
    )
    chances = {tier.name: ahead.chance(tier.name, ages) for tier in ahead.tiers}
    tiers = {name: _tier_answer(values, ages, horizon) for name, values in chances.items()}
    cost = tuple(published(row) for row in cost_of_waiting())
    late = tuple(published(row) for row in late_series())
    return WindowResult(
        age_days=today.age_days,
        horizon_day=horizon,
        urgency=pressing,
        suitability=suitability(record),
        days=tuple(float(age) for age in ages),
        tiers=tiers,
        criteria={tier.name: _asked(tier) for tier in ahead.tiers},
        limiting=_limiting(ahead),
        after_switch=_after_switch(today, ahead),
        drivers=drivers(today, chances["survivable"], ages, horizon),
        next_measurements=next_measurements(today, chances["comfortable"], ages, ahead.days[0]),
        cost_of_waiting=cost,
        published=late,
        other_limits=tuple(
            OtherLimit(name=item.name.replace("_", " "), sentence=item.sentence)
            for item in limits_not_lv()
        ),
        sentences=_sentences(tiers, ages, horizon, today.age_days),
        picture=window_view(record, tiers, ages, horizon),
        picture_after=after_switch_view(today),
    )


def _tier_answer(chance: Floats, ages: Floats, horizon: float) -> TierAnswer:
    mean = chance.mean(axis=0)
    low, high = np.percentile(chance, [5.0, 95.0], axis=0)
    below_50 = first_below(mean, ages, 0.5, horizon)
    return TierAnswer(
        chance=_rounded(mean),
        chance_low=_rounded(low),
        chance_high=_rounded(high),
        below_90_day=first_below(mean, ages, 0.9, horizon),
        below_50_day=below_50,
        open_ended_for_lv_only=bool(below_50 == horizon and mean[-1] >= 0.5),
    )


def _rounded(values: Floats) -> tuple[float, ...]:
    return tuple(round(float(value), 4) for value in values)


def _asked(tier: Tier) -> dict[str, float]:
    return {
        "cardiac_index_min_l_min_m2": tier.cardiac_index_min_l_min_m2,
        "la_mean_max_mmhg": tier.la_mean_max_mmhg,
        "arterial_mean_min_mmhg": tier.arterial_mean_min_mmhg,
    }


def _limiting(ahead: Outlook) -> tuple[Limiting, ...]:
    found: list[Limiting] = []
    for node in ahead.nodes:
        shares: dict[str, dict[str, float]] = {}
        for tier in ahead.tiers:
            carrying = ahead.carrying[node][tier.name]
            output = float(carrying.short_of_output.mean())
            pressure = float(carrying.short_of_pressure.mean())
            whole = max(output + pressure, 1e-9)
            shares[tier.name] = {
                "output at the filling limit": round(output / whole, 3),
                "arterial pressure within the bed's tone": round(pressure / whole, 3),
            }
        found.append(Limiting(day=ahead.days[node].age_days, **shares))
    return tuple(found)


def _after_switch(today: Narrowed, ahead: Outlook) -> tuple[AfterSwitch, ...]:
    found: list[AfterSwitch] = []
    echo = today.baby.traits["echo_over_cmr"]
    for node in ahead.nodes:
        day, carrying = ahead.days[node], ahead.carrying[node]
        surface = today.baby.story.surface_m2(day.age_days)
        mass = day.walls.left.mass_g * echo
        index = {name: c.cardiac_index_l_min_m2 for name, c in carrying.items()}
        found.append(
            AfterSwitch(
                day=day.age_days,
                cardiac_index_at_survivable_filling_l_min_m2=estimate(
                    index["survivable"], "L/min/m2"
                ),
                cardiac_index_at_comfortable_filling_l_min_m2=estimate(
                    index["comfortable"], "L/min/m2"
                ),
                lv_ef_pct=estimate(carrying["survivable"].ejection_pct, "%"),
                lv_mass_before_g=estimate(mass, "g"),
                lv_mass_before_g_m2=estimate(mass / surface, "g/m2"),
                lv_rv_ratio_before=estimate(day.readings.pressure_ratio, "1"),
                sao2_upper_before_pct=estimate(day.readings.saturation_pct("AoU"), "%"),
            )
        )
    return tuple(found)


def _sentences(
    tiers: Mapping[str, TierAnswer], ages: Floats, horizon: float, now: float
) -> tuple[str, ...]:
    """What the curve says: today, a week on, and how sure; never a last day."""

    def at(name: str, age: float) -> str:
        tier = tiers[name]
        place = int(np.argmin(np.abs(ages - age)))
        return _in_words(tier, place)

    later = [age for age in (now + 7.0, now + 21.0) if age <= horizon]
    lines = [
        "Chance that the left ventricle carries the body after a switch, today: survivable tier "
        f"{at('survivable', now)}; comfortable tier {at('comfortable', now)}."
    ]
    lines += [
        f"{weeks} on: survivable {at('survivable', age)}; comfortable {at('comfortable', age)}."
        for weeks, age in zip(("A week", "Three weeks"), later, strict=False)
    ]
    lines.append(
        "This is the left ventricle alone, in a model; possible late is not good late. The level "
        "hangs on how strong and how stiff it is after bypass, the least certain numbers here."
    )
    return tuple(lines)


def _cautions(record: Case, today: Narrowed, result: WindowResult) -> tuple[Caution, ...]:
    """The emergency first, then whether a switch is the operation, then what always stands."""
    found: list[Caution] = []
    if result.urgency.level == "emergency":
        found.append(_caution("This is an emergency now: its page comes before this one."))
    if result.suitability.standing != "shown":
        found.append(_caution(result.suitability.sentence))
    found += [*standing_cautions(record), *ensemble_cautions(today), *_waiting(result)]
    story = today.baby.story
    if story.duct_mm(result.horizon_day) > 0.0 and record.event(EventKind.DUCT_STENT) is None:
        text = "The duct is taken to stay open; once it closes the ventricle loses load sooner."
        found.append(_caution(text))
    if result.horizon_day > HORIZON_DAY:
        found.append(_caution("Growth beyond two months was compared with no published baby."))
    text = "One growth law speaks here; another law would widen the interval."
    return (*found, Caution(severity=Severity.NOTE, text=text))


def _waiting(result: WindowResult) -> tuple[Caution, ...]:
    """Oxygen while waiting, where it would fall low before any switch."""
    lowest = min(result.after_switch, key=lambda day: day.sao2_upper_before_pct.value)
    saturation = lowest.sao2_upper_before_pct.value
    if saturation >= limits()["urgent_saturation"]:
        return ()
    text = (
        "While waiting, computed upper-body saturation comes down to about "
        f"{five(saturation / 100)} % around day {lowest.day:.0f}: oxygen may set the limit before "
        "the left ventricle does."
    )
    return (_caution(text),)


def _caution(text: str) -> Caution:
    return Caution(severity=Severity.CAUTION, text=text)


def _sources(result: WindowResult) -> tuple[str, ...]:
    rows = [row.source for row in (*result.cost_of_waiting, *result.published)]
    return tuple(
        dict.fromkeys(["jhaveri2023", "lopez2017", "kent2007", "yacoub1980", "boutin1994", *rows])
    )


def _in_words(tier: TierAnswer, place: int) -> str:
    low, high = five(tier.chance_low[place]), five(tier.chance_high[place])
    said = in_fives(tier.chance[place])
    return said if low == high else f"{said} ({low} to {high} %)"


def _curve_table(result: WindowResult) -> Table:
    first, last = result.days[0], result.days[-1]
    weeks = (age for age in result.days[1:-1] if age % 7 == 0 and age - first >= LEAST_APART_DAYS)
    places = [result.days.index(age) for age in (first, *weeks, last)]
    return Table(
        title="Chance that the left ventricle carries the body (computed; 90 % interval)",
        columns=("age at switch", "survivable", "comfortable"),
        rows=tuple(
            (
                f"{'today, ' if place == 0 else ''}day {result.days[place]:.0f}",
                _in_words(result.tiers["survivable"], place),
                _in_words(result.tiers["comfortable"], place),
            )
            for place in places
        ),
    )


def _published_table(title: str, rows: tuple[Published, ...]) -> Table:
    return Table(
        title=title,
        columns=("what was found", "in whom", "beware"),
        rows=tuple((row.text, row.in_whom, row.caution) for row in rows),
    )


def _driver_table(moves: tuple[Driver, ...], next_ones: tuple[Driver, ...]) -> Table:
    rows = [(f"if {item.name}", item.words) for item in moves]
    rows += [(f"measure again: {item.name}", item.words) for item in next_ones]
    return Table(
        title="What the window hangs on, and what to measure next",
        columns=("what", "how much"),
        rows=tuple(rows),
    )
