"""The verb ``now``: whether this is an emergency, and how this circulation works today.

Urgency in hours first, then the left ventricle at the bedside, the loops, what would change.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from inseries.base.ages import age_words
from inseries.base.errors import RouteNotPossible
from inseries.case import Case, EventKind, read_case
from inseries.desk.answer import Answer, Progress, Shown, Table
from inseries.desk.cautions import ensemble_cautions, standing_cautions
from inseries.desk.now_words import how_sure, what, why
from inseries.desk.panel import PanelRow, panel
from inseries.desk.pictures import loops_view
from inseries.desk.readouts import (
    MINUTE_S,
    Body,
    Readouts,
    body_at,
    estimate,
    readouts,
    readouts_today,
)
from inseries.desk.run import run_record
from inseries.desk.spans import signed
from inseries.desk.urgency import Urgency, is_tight, urgency
from inseries.desk.what_if import WhatIf, what_ifs
from inseries.draw.terminal import loops_text
from inseries.draw.views import LoopsView  # noqa: TC001 - read by the schema at run time
from inseries.prior.importance import TOO_FEW_EFFECTIVE
from inseries.prior.narrow import Narrowed, snapshot

if TYPE_CHECKING:
    from pathlib import Path

    from inseries.base.findings import Estimate
    from inseries.circuit.readouts import Readings

# chosen: draws that keep the 90 % interval of a read-out steady at a second or two of computing
NOW_DRAWS = 60
BLOOD = ("severinghaus1979", "siggaard1984")  # how blood carries oxygen
DEFAULT_SEED = 1  # chosen: any fixed number; the same case and seed give the same answer


@dataclass(frozen=True, slots=True, kw_only=True)
class NowResult:
    """Urgency first, then the left ventricle at the bedside, then how the circulation works."""

    age_days: float
    urgency: Urgency
    panel: tuple[PanelRow, ...]
    readouts: Readouts
    what_if: tuple[WhatIf, ...]
    what: str
    why: str
    how_sure: str
    picture: LoopsView

    def shown(self) -> Shown:
        """Urgency, panel, read-outs, what would change, and the two loops."""
        u = self.urgency
        first = f"{u.level.upper()}: {u.headline}. Next decision within {u.hours:g} h."
        return Shown(
            sentences=(first, *u.why, self.what, self.why, self.how_sure),
            tables=(
                _panel_table(self.panel),
                _threshold_table(self.panel),
                _readout_table(self.readouts),
                self._changes(),
                self._harms(),
            ),
            picture=loops_text(self.picture),
        )

    def _changes(self) -> Table:
        was = self.readouts
        rows = [
            (
                item.change,
                _moved(was.sao2_upper_pct.value, item.readouts.sao2_upper_pct.value, "points"),
                _moved(was.la_mean_mmhg.value, item.readouts.la_mean_mmhg.value, "mmHg"),
                _moved(was.lv_systolic_mmhg.value, item.readouts.lv_systolic_mmhg.value, "mmHg"),
            )
            for item in self.what_if
        ]
        return Table(
            title="What a change would do within minutes (computed)",
            columns=("change", "upper saturation", "LA", "LV systolic"),
            rows=tuple(rows),
        )

    def _harms(self) -> Table:
        return Table(
            title="And its harm",
            columns=("change", "harm"),
            rows=tuple((item.change, " ".join(item.harms)) for item in self.what_if),
        )


def now(
    case: Case | Path | str,
    *,
    seed: int = DEFAULT_SEED,
    draws: int = NOW_DRAWS,
    progress: Progress | None = None,
) -> Answer:
    """Urgency in hours, the bedside panel, and the circulation of today with what would change it.

    Parameters
    ----------
    case : Case, path of a case file, or its text
    seed : start of the random numbers
    draws : circuits kept
    progress : told stage and share done

    Returns
    -------
    Answer with a NowResult

    Raises
    ------
    CaseError, PriorError
        the case cannot be read, or is too thin to answer from
    """
    record = case if isinstance(case, Case) else read_case(case)
    refuse_after_switch(record, "now")
    today = snapshot(record, draws=draws, seed=seed, progress=progress)
    result, _ = describe(record, today)
    today.refuse_failed()
    return Answer(
        verb="now",
        case_id=record.id,
        result=result,
        cautions=(*standing_cautions(record), *ensemble_cautions(today, TOO_FEW_EFFECTIVE)),
        sources=_sources(result),
        run=run_record(
            record.digest, seed=seed, draws=draws, effective_draws=today.effective_draws
        ),
    )


def describe(record: Case, today: Narrowed) -> tuple[NowResult, Readings]:
    """Everything `now` says of narrowed draws, and the read-outs it was said from."""
    baby, walls, age = today.baby, today.walls, today.age_days
    readings = baby.beat(age, walls).readings
    body = body_at(baby, age)
    seen = readouts(readings, walls, baby.traits["echo_over_cmr"], body)
    picture = _picture(record, today, readings, body)
    result = NowResult(
        age_days=age,
        urgency=urgency(record, seen),
        panel=panel(record, seen),
        readouts=seen,
        what_if=what_ifs(baby, readings, walls, body, age),
        what=what(seen),
        why=why(picture, _shunted(readings, body)),
        how_sure=how_sure(seen, today),
        picture=picture,
    )
    return result, readings


def urgency_now(record: Case, seed: int) -> Urgency:
    """Today's urgency alone, for a verb that asks of another time."""
    return urgency(record, readouts_today(snapshot(record, draws=NOW_DRAWS, seed=seed)))


def refuse_after_switch(record: Case, verb: str) -> None:
    """Refuses what this edition does not compute: babies after their repair."""
    for kind in (EventKind.SWITCH, EventKind.ATRIAL_SWITCH):
        event = record.event(kind)
        if event is not None:
            raise RouteNotPossible(
                "this edition computes babies before their repair",
                code="after_operation",
                where=f"{verb}: event {kind.value}",
                value=round(event.age_days, 1),
                unit="d of age",
                remedy="a case without that event",
            )


def _shunted(readings: Readings, body: Body) -> float:
    """Flow through a shunt, mL/min/kg; 0 without one."""
    if not readings.circuit.has_edge("shunt"):
        return 0.0
    return estimate(readings.flow_ml_s("shunt") * MINUTE_S / body.weight_kg, "mL/min/kg").value


def _picture(record: Case, today: Narrowed, readings: Readings, body: Body) -> LoopsView:
    baby, age = today.baby, today.age_days
    sizes = {
        "atrial_defect": round(float(baby.atrial_mm(age).mean()), 1),
        "duct": round(baby.story.duct_mm(age), 1),
        "ventricular_defect": round(baby.story.ventricular_mm, 1),
    }
    return loops_view(
        readings,
        body,
        title=f"Two loops beside each other, {age_words(age)}",
        figure_id="loops",
        sizes_mm=sizes,
        tight=is_tight(record),
    )


def _sources(result: NowResult) -> tuple[str, ...]:
    norms = [row.z_reference for row in result.panel if row.z_reference]
    norms += [other.reference for row in result.panel for other in row.z_others]
    return tuple(
        dict.fromkeys([*norms, "arts1991", "jhaveri2023", "kent2007", "ozgur2014", *BLOOD])
    )


def _panel_table(rows: tuple[PanelRow, ...]) -> Table:
    return Table(
        title="The left ventricle at the bedside",
        columns=("what", "value", "method", "Z against the same method"),
        rows=tuple(
            (
                row.what,
                row.text,
                row.method,
                _z_words(row),
            )
            for row in rows
        ),
    )


def _z_words(row: PanelRow) -> str:
    """The first reference's Z, and where others hold the lowest and highest of them all."""
    if row.z is None:
        return f"none: {row.z_reason}"
    told = sorted([row.z, *(other.z for other in row.z_others if other.z is not None)])
    first, low, high = (signed(z, 1) for z in (row.z, told[0], told[-1]))
    return f"{first} ({low} to {high} by {len(told)} references)" if len(told) > 1 else first


def _threshold_table(rows: tuple[PanelRow, ...]) -> Table:
    return Table(
        title="Thresholds in use, each for its own population and method",
        columns=("what", "threshold"),
        rows=tuple((row.what, text) for row in rows for text in row.thresholds),
    )


def _readout_table(r: Readouts) -> Table:
    pairs = (
        ("saturation, arms and legs", (r.sao2_upper_pct, r.sao2_lower_pct), "%", 0),
        ("saturation, their veins", (r.svo2_upper_pct, r.svo2_lower_pct), "%", 0),
        ("saturation, lung artery", (r.sao2_pulmonary_artery_pct,), "%", 0),
        ("oxygen pressure, arms and legs", (r.po2_upper_mmhg, r.po2_lower_mmhg), "mmHg", 0),
        ("oxygen need met", (r.oxygen_need_met_pct,), "%", 0),
        (
            "aortic systolic, diastolic",
            (r.aortic_systolic_mmhg, r.aortic_diastolic_mmhg),
            "mmHg",
            0,
        ),
        ("lung artery mean", (r.pulmonary_artery_mean_mmhg,), "mmHg", 0),
        ("left, right ventricle systolic", (r.lv_systolic_mmhg, r.rv_systolic_mmhg), "mmHg", 0),
        ("left, right atrium", (r.la_mean_mmhg, r.ra_mean_mmhg), "mmHg", 0),
        (
            "body, lung flow",
            (r.systemic_flow_ml_min_kg, r.pulmonary_flow_ml_min_kg),
            "mL/min/kg",
            0,
        ),
        ("effective flow", (r.effective_flow_ml_min_kg,), "mL/min/kg", 0),
        ("lung over body flow", (r.qp_qs,), "", 1),
        ("LV ejection", (r.lv_ef_pct,), "%", 0),
    )
    return Table(
        title="How the circulation works today (computed; 90 % interval)",
        columns=("what", "value"),
        rows=tuple(
            (what, f"{', '.join(_span(e, digits) for e in items)} {unit}".strip())
            for what, items, unit, digits in pairs
        ),
    )


def _span(estimate: Estimate, digits: int) -> str:
    return f"{estimate.value:.{digits}f} ({estimate.low:.{digits}f} to {estimate.high:.{digits}f})"


def _moved(before: float, after: float, unit: str) -> str:
    return f"{signed(after - before)} {unit}"
