"""The verb ``repair``: how the pieces of a switch fit, in millimetres.

Buttons averaged over every plausible reading of the coronary pattern, two aortic ends of different
size, the gap of the lung artery and what closes it, patches in true size; published rows beside.
"""

from __future__ import annotations

from dataclasses import replace as altered
from typing import TYPE_CHECKING

from inseries.base.errors import RouteNotPossible
from inseries.base.files import write_private
from inseries.brief.page import page_pdf
from inseries.case import Case, read_case
from inseries.desk.answer import Answer, Progress
from inseries.desk.cautions import standing_cautions
from inseries.desk.now import DEFAULT_SEED, refuse_after_switch, urgency_now
from inseries.desk.published import published
from inseries.desk.repair_page import patch_pdf, repair_page
from inseries.desk.repair_patch import cut_of, patches_told, sheet_of
from inseries.desk.repair_picture import repair_view
from inseries.desk.repair_plan import Plan, plan_of
from inseries.desk.repair_result import RepairResult
from inseries.desk.repair_told import (
    button_widths_mm,
    buttons_told,
    drawn,
    lung_ratio,
    mismatch_told,
    patterns_told,
    readings_of,
    sites_told,
    usual_way,
    ways_told,
)
from inseries.desk.repair_words import cautions, how_sure, sheet_notes, what, why
from inseries.desk.run import run_record
from inseries.desk.suitability import suitability
from inseries.desk.switch_picture import switch_view
from inseries.draw.patch_dxf import patch_dxf
from inseries.evidence.rows import Row, rows_on
from inseries.outlook.numbers import number as outlook_number
from inseries.repair import SeenFrom, join

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from inseries.desk.urgency import Urgency

REPAIR_DRAWS = 500  # chosen: moves a bound of an interval by less than its printed digits
# chosen: fewer draws hold no interval of nine tenths
LEAST_DRAWS = 20
# what is published of patterns, their risk, and of what is seen later
TOPICS = ("coronary_pattern", "late_coronary")
UNSEEN = ("intramural_coronary", "single_coronary")


def _untold(_stage: str, _share: float) -> None:
    """Nobody listens."""


def plan_repair(  # noqa: PLR0913 - what a user may say of a repair, all by name
    case: Case | Path | str,
    *,
    coronary: str | None = None,
    opening: Mapping[str, float] | None = None,
    relation_deg: float | None = None,
    root_gap_mm: float | None = None,
    gap_mm: float | None = None,
    page_path: Path | str | None = None,
    patch_path: Path | str | None = None,
    dxf_path: Path | str | None = None,
    replace: bool = False,
    seed: int = DEFAULT_SEED,
    draws: int = REPAIR_DRAWS,
    progress: Progress | None = None,
) -> Answer:
    """How the pieces of a switch fit: buttons, ends, lung artery, patch, in millimetres.

    Parameters
    ----------
    case : Case, path of a case file, or its text
    coronary : Leiden code in place of the recorded one, as seen at the table
    opening : artery to degrees from the facing commissure into its own sinus, such as ``{"L": 50}``
    relation_deg : where the aorta lies, 0 in front, positive to the patient's right
    root_gap_mm : between the walls of the two roots
    gap_mm : between the cut ends of the lung artery, as measured
    page_path : PDF to write the printed page to, readable by its owner only
    patch_path : PDF to write the patch in true size to
    dxf_path : DXF to write the patch to, in millimetres
    replace : whether existing files may be replaced
    seed : start of the random numbers
    draws : of sizes, lengths and readings
    progress : told stage and share done

    Returns
    -------
    Answer with a RepairResult

    Raises
    ------
    CaseError, PriorError, NormsError, RouteNotPossible, OutputError
        no coronary pattern or no Leiden code, an opening outside its sinus, roots that overlap, a
        negative gap, a body outside the tables, a baby after its switch, or a file that cannot be
        written
    """
    record = case if isinstance(case, Case) else read_case(case)
    refuse_after_switch(record, "repair")
    _refuse_few(draws)
    told = progress or _untold
    plan = plan_of(
        record,
        coronary=coronary,
        opening=opening,
        relation_deg=relation_deg,
        root_gap_mm=root_gap_mm,
        gap_mm=gap_mm,
    )
    told("today", 0.0)
    pressing = urgency_now(record, seed)
    result = planned(record, plan, pressing, draws=draws, seed=seed, told=told)
    answer = Answer(
        verb="repair",
        case_id=record.id,
        result=result,
        cautions=(*cautions(plan, result), *standing_cautions(record)),
        sources=_sources(result),
        run=run_record(record.digest, seed=seed, draws=draws, effective_draws=float(draws)),
    )
    return _written(
        record,
        answer,
        result,
        page=page_path,
        patch=patch_path,
        dxf=dxf_path,
        replace=replace,
    )


def _refuse_few(draws: int) -> None:
    if draws < LEAST_DRAWS:
        raise RouteNotPossible(
            "so few draws hold no interval",
            code="few_draws",
            where="draws",
            value=draws,
            remedy=f"{LEAST_DRAWS} or more; {REPAIR_DRAWS} are usual.",
        )


def planned(
    record: Case,
    plan: Plan,
    pressing: Urgency,
    *,
    draws: int = REPAIR_DRAWS,
    seed: int = DEFAULT_SEED,
    told: Progress = _untold,
) -> RepairResult:
    """The result of a plan; arguments as of ``plan_repair``."""
    told("buttons", 0.3)
    sizes = drawn(plan, draws=draws, seed=seed, digest=record.digest)
    readings = readings_of(plan)
    buttons = buttons_told(plan, readings, draws=draws, seed=seed)
    told("lung artery and patch", 0.5)
    ways = ways_told(plan, sizes)
    freed = altered(plan.lung, mobilisation=outlook_number("greatest_mobilisation"))
    made = join(freed, plan.roots, usual_way(plan.relation_deg))
    cut = cut_of(plan, ways[0].gap_mm.value)
    patches, refused = patches_told(plan, cut, sizes, seed=seed, digest=record.digest)
    ratio, ends = mismatch_told(plan, sizes, len(buttons))
    patterns = patterns_told(readings)
    waist = patches[0].girth_mm if patches[0].name == "one piece" else None
    result = RepairResult(
        age_days=record.age_days,
        surface_m2=round(plan.surface_m2, 4),
        urgency=pressing,
        suitability=suitability(record),
        sizes=(*plan.sizes.values(), *plan.lengths),
        relation_deg=plan.relation_deg,
        relation_said=plan.relation_said,
        height_said=plan.height_said,
        seen_from=SeenFrom.FEET.words,
        pattern=plan.pattern.code,
        certainty=plan.certainty or "uncertain",
        readings=patterns,
        code_after=patterns[0].code_after,
        buttons=buttons,
        mismatch_ratio=ratio,
        mismatch=ends,
        lung_mismatch_ratio=lung_ratio(sizes),
        way=ways[0].way,
        gap_mm=ways[0].gap_mm,
        direct_tension=ways[0].tension,
        ways=ways,
        patch=patches[0],
        patches=patches,
        one_piece_refused=refused,
        sites=sites_told(plan, sizes, ways[0], button_widths_mm(plan, plan.pattern), waist),
        published=tuple(published(row) for row in _rows(plan)),
        what="",
        why="",
        how_sure="",
        picture=repair_view(plan, readings[0], buttons, made, ways[0].gap_mm.value),
        picture_steps=switch_view(plan, readings[0], patches, made, ways[0].gap_mm.value),
        sheet=sheet_of(record.id, patches, ()),
    )
    told("lung artery and patch", 1.0)
    return altered(
        result,
        sheet=sheet_of(record.id, patches, sheet_notes(result)),
        what=what(result),
        why=why(plan, result),
        how_sure=how_sure(plan, result),
    )


def _rows(plan: Plan) -> tuple[Row, ...]:
    """Rows on coronary patterns, and on the risks that this pattern carries."""
    carried = {
        "intramural_coronary": plan.intramural,
        "single_coronary": plan.pattern.single,
    }
    risks = [row for row in rows_on("unseen_risk") if carried.get(row.id, False)]
    return (*(row for topic in TOPICS for row in rows_on(topic)), *risks)


def _sources(result: RepairResult) -> tuple[str, ...]:
    keys = ["lopez2017", "gittenberger2018", "koppel2022", "mirzaaghayan2020", "autopsy255"]
    keys += ["ou2013", "coronary_annulus2003", "li2000", "brazier1927", "neoaorta_polish"]
    return tuple(dict.fromkeys([*keys, *(row.source for row in result.published)]))


def _written(
    record: Case,
    answer: Answer,
    result: RepairResult,
    *,
    page: Path | str | None,
    patch: Path | str | None,
    dxf: Path | str | None,
    replace: bool,
) -> Answer:
    """The answer with its files written, each only where it was asked for."""
    names: dict[str, str] = {}
    if page is not None:
        content = page_pdf(repair_page(record, answer, result))
        names["page"] = write_private(page, content, replace=replace).name
    if patch is not None:
        names["patch_page"] = write_private(patch, patch_pdf(result), replace=replace).name
    if dxf is not None:
        names["drawing"] = write_private(dxf, patch_dxf(result.sheet), replace=replace).name
    return altered(answer, result=altered(result, **names)) if names else answer
