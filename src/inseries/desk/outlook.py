"""The verb ``outlook``: what will grow and what will not, from the switch to forty years.

Gradients of four repairs, the right ventricle behind them, the new aortic root by published courses
that disagree, the coronary opening; published series beside the simulation and visibly apart.
"""

from __future__ import annotations

from dataclasses import replace as altered
from typing import TYPE_CHECKING

from inseries.base.files import write_private
from inseries.brief.page import page_pdf
from inseries.case import Case, read_case
from inseries.desk.answer import Answer, Progress
from inseries.desk.cautions import standing_cautions
from inseries.desk.now import DEFAULT_SEED
from inseries.desk.outlook_page import outlook_page
from inseries.desk.outlook_picture import outlook_view
from inseries.desk.outlook_plan import LATER, after_switch, plan_of, urgency_of
from inseries.desk.outlook_result import OutlookResult
from inseries.desk.outlook_told import (
    CIRCUIT_DRAWS,
    Ahead,
    ahead,
    by_age,
    by_circuit,
    by_repair,
    coronary_told,
    crosses_told,
    narrowings_told,
    repairs_told,
    root_z_told,
    roots_told,
    tension_told,
)
from inseries.desk.outlook_words import cautions, how_sure, what, why
from inseries.desk.published import published, published_curves
from inseries.desk.run import run_record
from inseries.desk.suitability import suitability
from inseries.evidence.rows import rows_on

if TYPE_CHECKING:
    from pathlib import Path

    from inseries.desk.outlook_plan import Plan
    from inseries.desk.urgency import Urgency

OUTLOOK_DRAWS = 200  # chosen: moves a median by less than its printed digits against 800 draws
# what is published of late outcome
TOPICS = ("late_lung_artery", "late_root", "late_coronary")


def look_ahead(  # noqa: PLR0913 - what a user may say of an outlook, all by name
    case: Case | Path | str,
    *,
    switch_day: float | None = None,
    patch_share: float | None = None,
    gap_mm: float | None = None,
    page_path: Path | str | None = None,
    replace: bool = False,
    seed: int = DEFAULT_SEED,
    draws: int = OUTLOOK_DRAWS,
    progress: Progress | None = None,
) -> Answer:
    """What will grow and what will not, from the switch to forty years.

    Parameters
    ----------
    case : Case, path of a case file, or its text; before or after its switch
    switch_day : age at the switch, days; the record's own, or its last entry's when not given
    patch_share : share of the girth that is closed with a patch; by two buttons when not given
    gap_mm : gap between the cut ends of the lung artery; by usual lengths when not given
    page_path : PDF to write the printed page to, readable by its owner only
    replace : whether an existing file may be replaced
    seed : start of the random numbers
    draws : how many draws
    progress : told stage and share done

    Returns
    -------
    Answer with an OutlookResult

    Raises
    ------
    CaseError, PriorError, NormsError, RouteNotPossible, OutputError
        the case cannot be read or is too thin, an age outside the tables, a share or gap that
        cannot be, an atrial switch, or the page cannot be written
    """
    record = case if isinstance(case, Case) else read_case(case)
    told = progress or _untold
    told("today", 0.0)
    plan = plan_of(
        record,
        switch_day=switch_day,
        patch_share=patch_share,
        gap_mm=gap_mm,
        draws=draws,
        seed=seed,
    )
    pressing = urgency_of(record, plan, seed)
    told("decades ahead", 0.3)
    result = _result(record, plan, pressing, ahead(record, plan, seed))
    told("decades ahead", 1.0)
    answer = Answer(
        verb="outlook",
        case_id=record.id,
        result=result,
        cautions=(*cautions(plan, result), *standing_cautions(record)),
        sources=_sources(result),
        run=run_record(
            record.digest,
            seed=seed,
            draws=draws,
            effective_draws=min((float(draws), *result.effective_draws.values())),
        ),
    )
    if page_path is None:
        return answer
    written = write_private(
        page_path, page_pdf(outlook_page(record, answer, result)), replace=replace
    )
    return altered(answer, result=altered(result, page=written.name))


def _untold(_stage: str, _share: float) -> None:
    """Nobody listens."""


def _result(record: Case, plan: Plan, pressing: Urgency, found: Ahead) -> OutlookResult:
    any_repair = found.courses[0]
    late = tuple(key for key in LATER if after_switch(record, plan, key))
    result = OutlookResult(
        operation_days=plan.operation_days,
        operated=plan.operated,
        sex=plan.sex,
        size_z=round(plan.z, 3),
        size_measured=plan.weighed,
        measured=(*plan.start.measured, *late),
        urgency=pressing,
        suitability=suitability(record),
        ages_y=tuple(round(float(year), 4) for year in plan.frame.years),
        circuit_ages_y=tuple(at.year for at in found.ventricles[0]),
        circuit_draws=min(CIRCUIT_DRAWS, plan.draws),
        surface_m2=tuple(round(float(m2), 4) for m2 in plan.frame.surface_m2),
        repairs=repairs_told(plan, found),
        tension=tension_told(plan),
        site_mm=by_repair(found, lambda c: c.site_mm, "mm"),
        inert_pct=by_repair(found, lambda c: 100.0 * c.inert_share, "%"),
        pulmonary_gradient_mmhg=by_repair(found, lambda c: c.site, "mm[Hg]"),
        branch_gradient_mmhg=by_repair(found, lambda c: c.branch, "mm[Hg]"),
        valve_gradient_mmhg=by_age(any_repair.valve, "mm[Hg]"),
        below_valve_gradient_mmhg=by_age(any_repair.outflow, "mm[Hg]"),
        crosses=crosses_told(found),
        catheter_gradient_mmhg=by_circuit(found, lambda v: v.outflow_mmhg, "mm[Hg]"),
        rv_systolic_mmhg=by_circuit(found, lambda v: v.rv_systolic_mmhg, "mm[Hg]"),
        rv_lv_systolic_pressure_ratio=by_circuit(found, lambda v: v.ratio, "1"),
        rv_mass_g_m2=by_circuit(found, lambda v: v.rv_mass_g_m2, "g/m2"),
        root_mm=roots_told(found),
        root_z=root_z_told(plan, found),
        leak=tuple(each for each in published_curves("late_outcome") if each.id.startswith("leak")),
        coronary_flow_reserve=coronary_told(found),
        coronary_by_narrowing=narrowings_told(plan, found),
        published=published_curves("late_outcome"),
        published_rows=tuple(published(row) for topic in TOPICS for row in rows_on(topic)),
        effective_draws=found.effective,
        what="",
        why="",
        how_sure="",
        picture=outlook_view(plan, found),
    )
    return altered(result, what=what(result), why=why(plan, result), how_sure=how_sure(result))


def _sources(result: OutlookResult) -> tuple[str, ...]:
    return tuple(
        dict.fromkeys(
            [
                "sluysmans2005",
                "lopez2017",
                "devereux2012",
                "who2006",
                "cdc2000",
                "flynn2017",
                "fleming2011",
                *(key for each in result.repairs for key in each.sources),
                *(key for each in result.root_mm for key in each.sources),
                *(each.source for each in result.published),
                *(each.source for each in result.published_rows),
            ]
        )
    )
