"""The verb ``band``: how tight, how long.

Pressures, saturation and function are the aim; millimetres are only where to start. The dip of the
first hours, the gain of the weeks, readiness, harms and what was published stand beside.
"""

from __future__ import annotations

from dataclasses import replace as altered
from typing import TYPE_CHECKING

from inseries.base.files import write_private
from inseries.brief.page import page_pdf
from inseries.case import Case, read_case
from inseries.desk.answer import Answer, Progress
from inseries.desk.band_course import Course, banded_course
from inseries.desk.band_page import band_page
from inseries.desk.band_picture import band_view
from inseries.desk.band_plan import Plan, plan_of
from inseries.desk.band_reach import refuse_beyond_reach
from inseries.desk.band_result import BandResult
from inseries.desk.band_search import tightest_mm
from inseries.desk.band_told import (
    day_estimate,
    looked_at,
    readiness,
    rules_of_thumb,
    share_by,
    switch_then,
    targets,
    told,
)
from inseries.desk.band_words import cautions, harms, how_sure, what, why
from inseries.desk.cautions import ensemble_cautions, standing_cautions
from inseries.desk.criteria import tiers_of
from inseries.desk.now import DEFAULT_SEED, refuse_after_switch
from inseries.desk.published import published
from inseries.desk.readiness import Asked, asked
from inseries.desk.readouts import readouts_today
from inseries.desk.run import run_record
from inseries.desk.suitability import suitability
from inseries.desk.urgency import urgency
from inseries.desk.window_result import OtherLimit
from inseries.evidence.rows import cost_of_waiting, limits_not_lv, rows_on
from inseries.prior.narrow import Narrowed, narrowed

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

BAND_DRAWS = 120  # chosen: moves a median by less than its printed digits against 240 draws


def band(  # noqa: PLR0913 - what a user may say of a band, all by name
    case: Case | Path | str,
    *,
    ratio: float | None = None,
    lv_systolic_mmhg: float | None = None,
    circumference_mm: float | None = None,
    shunt_mm: float | None = None,
    band_day: float | None = None,
    tighten: Mapping[str, float] | None = None,
    hours_a_day: float | None = None,
    criteria: Mapping[str, float] | None = None,
    page_path: Path | str | None = None,
    replace: bool = False,
    seed: int = DEFAULT_SEED,
    draws: int = BAND_DRAWS,
    progress: Progress | None = None,
) -> Answer:
    """How tight a band round the lung artery should be to train the left ventricle, and how long.

    Parameters
    ----------
    case : Case, path of a case file, or its text
    ratio : left over right ventricular systolic pressure to tighten to; usual practice when nothing
        is said
    lv_systolic_mmhg, circumference_mm : what to tighten to instead; at most one of the three
    shunt_mm : diameter of a systemic-to-pulmonary shunt put in with it
    band_day : age at the band, days; the last entry's when not given
    tighten : days after the band to the pressure ratio it is set to again then
    hours_a_day : hours of each day on which the band is on, for a band that is off between
    criteria : limits of readiness in place of the published ones, such as ``{"wall_4_mm": 3.5}``
    page_path : PDF to write the printed page to, readable by its owner only
    replace : whether an existing file may be replaced
    seed : start of the random numbers
    draws : circuits kept
    progress : told stage and share done

    Returns
    -------
    Answer with a BandResult

    Raises
    ------
    CaseError, PriorError, RouteNotPossible, OutputError
        the case cannot be read, is too thin, is past its operation, the band cannot be, or the
        page cannot be written
    """
    record = case if isinstance(case, Case) else read_case(case)
    refuse_after_switch(record, "band")
    plan = plan_of(
        record,
        ratio=ratio,
        lv_systolic_mmhg=lv_systolic_mmhg,
        circumference_mm=circumference_mm,
        shunt_mm=shunt_mm,
        band_day=band_day,
        tighten=tighten,
        hours_a_day=hours_a_day,
    )
    limits = asked(criteria)
    refuse_beyond_reach(criteria)
    today = narrowed(record, draws=draws, seed=seed, progress=progress)
    course = banded_course(today, plan, progress)
    today.refuse_failed()
    result = _result(record, today, plan, course, limits, seed)
    answer = Answer(
        verb="band",
        case_id=record.id,
        result=result,
        cautions=(
            *cautions(plan, course, result),
            *standing_cautions(record),
            *ensemble_cautions(today),
        ),
        sources=_sources(result),
        run=run_record(
            record.digest,
            seed=seed,
            draws=draws,
            effective_draws=today.effective_draws,
            criteria={item.threshold.name: item.limit for item in limits},
        ),
    )
    if page_path is None:
        return answer
    written = write_private(page_path, page_pdf(band_page(record, answer, result)), replace=replace)
    return altered(answer, result=altered(result, page=written.name))


def _result(
    record: Case,
    today: Narrowed,
    plan: Plan,
    course: Course,
    limits: tuple[Asked, ...],
    seed: int,
) -> BandResult:
    first, criteria = readiness(course, plan, limits)
    aims = targets(course)
    not_reached = round(float(course.short.mean()), 3)
    weight = today.baby.story.weight_kg(plan.age_days)
    result = BandResult(
        age_days=plan.age_days,
        banded_days=plan.banded_days,
        weight_kg=round(weight, 3),
        urgency=urgency(record, readouts_today(today)),
        suitability=suitability(record),
        shunt_mm=plan.shunt_mm,
        aimed_at=plan.aimed_at,
        aim=plan.aim if course.aim is None else course.aim,
        not_reached=not_reached,
        tighten={f"{day:g}": ratio for day, ratio in plan.tighten},
        hours_a_day=plan.hours_a_day,
        targets=aims,
        before=told(course, course.before),
        after=tuple(told(course, course.at(day)) for day in looked_at(plan)),
        ready_day=day_estimate(first),
        ready_age_days=day_estimate(first, plan.age_days),
        ready_by_7_d=share_by(first, 7.0),
        ready_by_14_d=share_by(first, 14.0),
        ready_by_28_d=share_by(first, 28.0),
        criteria=criteria,
        switch_then=switch_then(course, tiers_of(), seed, record.digest),
        rules_of_thumb=rules_of_thumb(weight),
        tightest_circumference_mm=round(tightest_mm(weight), 2),
        harms=(),
        published=tuple(published(row) for row in (*rows_on("band"), *rows_on("two_stage"))),
        cost_of_waiting=tuple(published(row) for row in cost_of_waiting()),
        other_limits=tuple(
            OtherLimit(name=item.name, sentence=item.sentence) for item in limits_not_lv()
        ),
        what=what(plan, course, aims, not_reached),
        why="",
        how_sure=how_sure(plan, course),
        picture=band_view(plan, course, criteria, first),
    )
    return altered(result, harms=harms(plan, result), why=why(plan, result))


def _sources(result: BandResult) -> tuple[str, ...]:
    rows = [row.source for row in result.published]
    norms = ["nakazawa1988", "albus1984", "baslaim2009", "jhaveri2023", "lopez2017"]
    return tuple(dict.fromkeys([*norms, *rows]))
