"""The verb ``window``: how late a switch would still be possible, and what each day costs.

The curve never stands without urgency, suitability, the cost of waiting and the other limits.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from inseries.base.findings import Caution, Severity
from inseries.case import Case, EventKind, read_case
from inseries.desk.after_picture import after_switch_view
from inseries.desk.answer import Answer, Progress
from inseries.desk.by_law import by_law, laws_apart
from inseries.desk.cautions import ensemble_cautions, standing_cautions
from inseries.desk.criteria import laxer_comfort, tiers_of
from inseries.desk.drivers import LEAST_DAYS, Operated, days_of_window, drivers
from inseries.desk.now import DEFAULT_SEED, NowResult, describe, refuse_after_switch
from inseries.desk.published import published
from inseries.desk.reachable import refuse_unreachable
from inseries.desk.readouts import estimate
from inseries.desk.run import run_record
from inseries.desk.suitability import suitability
from inseries.desk.three_views import three_views
from inseries.desk.urgency import Urgency, limits
from inseries.desk.window_curve import first_below, five, window_view
from inseries.desk.window_result import (
    OUTPUT,
    PRESSURE,
    AfterSwitch,
    Limiting,
    OtherLimit,
    TierAnswer,
    WindowResult,
    reason_at,
    reason_of,
)
from inseries.desk.window_words import how_sure, what, why
from inseries.desk.worth import next_measurements
from inseries.desk.would_move import Moved, Plan, what_would_move
from inseries.evidence.rows import cost_of_waiting, late_series, limits_not_lv
from inseries.prior.narrow import Narrowed, narrowed
from inseries.prior.window import Outlook, outlook

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from inseries.prior.operation import Tier
    from inseries.prior.traits import Floats

WINDOW_DRAWS = 200  # chosen: keeps the 90 % interval of a chance steady within five points
HORIZON_DAY = 60.0  # chosen: the age at which slow change has been compared with anything
# chosen: a window looks at least this far ahead, days
LEAST_AHEAD_DAYS = 30.0


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
    refuse_unreachable(criteria)
    today = narrowed(record, draws=draws, seed=seed, progress=progress)
    seen, _ = describe(record, today)
    horizon = max(HORIZON_DAY, float(np.ceil(today.age_days + LEAST_AHEAD_DAYS)))
    ahead = outlook(
        today, tiers, horizon_day=horizon, seed=seed, digest=record.digest, progress=progress
    )
    today.refuse_failed()
    plan = Plan(
        tiers=tiers, horizon_day=horizon, seed=seed, digest=record.digest, progress=progress
    )
    moved = what_would_move(today, plan)
    result = _result(record, today, ahead, moved, seen.urgency)
    answer = Answer(
        verb="window",
        case_id=record.id,
        result=result,
        cautions=(*_cautions(record, today, result), *_criteria_cautions(tiers)),
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
    record: Case, today: Narrowed, ahead: Outlook, moved: tuple[Moved, ...], pressing: Urgency
) -> WindowResult:
    horizon = ahead.days[-1].age_days
    ages = np.concatenate(
        [[today.age_days], np.arange(np.floor(today.age_days) + 1.0, horizon + 0.5)]
    )
    chances = {tier.name: ahead.chance(tier.name, ages) for tier in ahead.tiers}
    tiers = {name: _tier_answer(values, ages, horizon) for name, values in chances.items()}
    tier, days = _spread(chances, ages)
    operated = Operated(days_met=ahead.days_met(tier), unknowns=ahead.unknowns)
    moves = drivers(today, days, operated)
    apart = laws_apart(today, chances["survivable"], ages)
    limiting, laws = _limiting(ahead), by_law(today, chances)
    loaded = _kept_loaded(today)
    three = three_views(chances["survivable"].mean(axis=0), ages, loaded=loaded)
    said = (
        what(tiers, ages, horizon),
        why(today, ahead.days[0], limiting, tiers["survivable"], moves),
        how_sure(days_of_window(chances["survivable"], ages), ages, apart),
    )
    return WindowResult(
        age_days=today.age_days,
        horizon_day=horizon,
        urgency=pressing,
        suitability=suitability(record),
        days=tuple(float(age) for age in ages),
        tiers=tiers,
        criteria={tier.name: _asked(tier) for tier in ahead.tiers},
        limiting=limiting,
        after_switch=_after_switch(today, ahead),
        by_law=laws,
        laws_apart=apart,
        days_of_window=estimate(days_of_window(chances["survivable"], ages), "d"),
        drivers=moves,
        drivers_tier=tier,
        next_measurements=next_measurements(
            today, days, ahead, at_once=pressing.level == "emergency"
        ),
        what_would_move=moved,
        three_views=three,
        cost_of_waiting=tuple(published(row) for row in cost_of_waiting()),
        published=tuple(published(row) for row in late_series()),
        other_limits=tuple(
            OtherLimit(name=item.name.replace("_", " "), sentence=item.sentence)
            for item in limits_not_lv()
        ),
        what=said[0],
        why=said[1],
        how_sure=said[2],
        sentences=(*said, *((three.sentence,) if loaded or not three.agree else ())),
        picture=window_view(record, tiers, ages, horizon, laws, _reasons(limiting, ages)),
        picture_after=after_switch_view(today),
    )


def _kept_loaded(today: Narrowed) -> bool:
    """Whether a defect, a narrow outflow or a band keeps the left ventricle at work."""
    story = today.baby.story
    banded = story.band_mm(today.age_days) > 0.0
    return banded or story.ventricular_mm > 0.0 or story.outflow not in (None, "open")


def _spread(chances: Mapping[str, Floats], ages: Floats) -> tuple[str, Floats]:
    """Days of window of every draw, in the tier where draws differ; with that tier's name."""
    survivable = days_of_window(chances["survivable"], ages)
    if survivable.std() >= LEAST_DAYS:
        return "survivable", survivable
    return "comfortable", days_of_window(chances["comfortable"], ages)


def _tier_answer(chance: Floats, ages: Floats, horizon: float) -> TierAnswer:
    mean = chance.mean(axis=0).round(4)  # as it is printed, so that days follow from it
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
                OUTPUT: round(output / whole, 3),
                PRESSURE: round(pressure / whole, 3),
            }
        found.append(Limiting(day=ahead.days[node].age_days, **shares))
    return tuple(found)


def _reasons(limiting: tuple[Limiting, ...], ages: Floats) -> tuple[str, ...]:
    """By what a switch would mostly fail, for each day; empty where none fails."""
    if not any(sum(item.survivable.values()) > 0.0 for item in limiting):
        return ()
    return tuple(reason_of(reason_at(limiting, float(age))) for age in ages)


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
    if len(result.by_law) < 2:
        text = "One growth law speaks here; another law would widen the interval."
        found.append(Caution(severity=Severity.NOTE, text=text))
    return tuple(found)


def _criteria_cautions(tiers: tuple[Tier, ...]) -> tuple[Caution, ...]:
    if not laxer_comfort(tiers):
        return ()
    return (_caution("As the criteria were set, the comfortable tier asks less in part."),)


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
    told = [key for item in result.what_would_move for key in item.sources]
    method = ("owen2014", "song2016") if result.drivers else ()
    usual = ("jhaveri2023", "lopez2017", "kent2007", "yacoub1980", "boutin1994")
    return tuple(dict.fromkeys([*usual, *rows, *told, *method]))
