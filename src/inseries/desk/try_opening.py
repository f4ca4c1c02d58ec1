"""Another opening, tried on the same baby without writing it down.

The draws stay those that the readings left; only the opening is another, from this minute on, with
volume and tone as they are. So a finger can move it: nothing is narrowed again.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING

from inseries.base.findings import Caution, Severity
from inseries.desk.answer import Answer, Shown, Table
from inseries.desk.cautions import ensemble_cautions, standing_cautions
from inseries.desk.now import BLOOD, DEFAULT_SEED, refuse_after_switch
from inseries.desk.pictures import loops_view
from inseries.desk.readouts import Readouts, body_at, readouts
from inseries.desk.ready import Babies
from inseries.desk.run import run_record
from inseries.desk.urgency import Urgency, urgency
from inseries.draw.views import LoopsView  # noqa: TC001 - read at run time by the page
from inseries.prior.narrow import Narrowed, snapshot

if TYPE_CHECKING:
    from collections.abc import Mapping

    from inseries.base.findings import Estimate
    from inseries.case import Case
    from inseries.circuit.readouts import Readings
    from inseries.desk.answer import Progress
    from inseries.prior.baby import Baby
    from inseries.prior.story import Story

ATRIAL, DUCT = "try_atrial_defect_mm", "try_duct_mm"
# chosen: a duct between closed and wide, from which every open one is near
HALF_OPEN_MM = 2.0
WORDS = {ATRIAL: "atrial defect", DUCT: "duct"}
NOT_ADVICE = (
    "Tried, not read: what the same circulations would do with this opening, within minutes. Its "
    "harms, and how it could be made, are not in it."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ready:
    """A baby as it is now: its draws, their beat, what is read from it, how urgent, how sure.

    ``shut`` and ``open`` are the draws warm from a beat with the duct closed and open, volume and
    tone held: where a search for what is tried begins.
    """

    today: Narrowed
    shut: Baby
    open: Baby
    readings: Readings
    seen: Readouts
    urgency: Urgency
    cautions: tuple[Caution, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TriedResult:
    """What an opening would change, beside what is."""

    urgency: Urgency
    tried: Mapping[str, float]
    readouts: Readouts
    before: Readouts
    picture: LoopsView

    def shown(self) -> Shown:
        """Urgency of what is recorded first; then what was tried and what moves."""
        u = self.urgency
        first = f"{u.level.upper()}: {u.headline}. Next decision within {u.hours:g} h."
        what = " and ".join(f"{WORDS[name]} of {mm:g} mm" for name, mm in self.tried.items())
        return Shown(
            sentences=(first, f"Tried: {what}. {self._said()}"),
            tables=(_moved(self.before, self.readouts),),
        )

    def _said(self) -> str:
        was, would = self.before.sao2_upper_pct.value, self.readouts.sao2_upper_pct.value
        return (
            f"The first line is of what is recorded; tried so, upper saturation would be about "
            f"{would:.0f} % instead of {was:.0f} %."
        )


READY: Babies[Ready] = Babies()


def try_openings(
    record: Case, tried: Mapping[str, float], draws: int, progress: Progress | None = None
) -> Answer:
    """The circulation of today with another opening.

    Parameters
    ----------
    record : the case
    tried : diameters in mm by ``ATRIAL`` and ``DUCT``
    draws : circuits kept
    progress : told stage and share done

    Returns
    -------
    Answer of the verb ``now``, with a TriedResult

    Raises
    ------
    PriorError, RouteNotPossible, as ``now``
    """
    refuse_after_switch(record, "now")
    ready = READY.ready((record.digest, draws), lambda: _ready(record, draws, progress))
    today = ready.today
    baby, walls, age = today.baby, today.walls, today.age_days
    story = tried_story(baby.story, tried, age)
    other = (ready.open if story.duct_mm(age) > 0.0 else ready.shut).with_story(story)
    then = other.read(ready.readings.orbit.regulating(other.circuit(age, walls)), None)
    moved = replace(today, baby=other)
    moved.refuse_failed()
    body = body_at(baby, age)
    result = TriedResult(
        urgency=ready.urgency,
        tried=dict(tried),
        readouts=readouts(then, walls, baby.traits["echo_over_cmr"], body),
        before=ready.seen,
        picture=loops_view(
            then,
            body,
            title="Tried: two loops with another opening",
            figure_id="loops",
            sizes_mm={
                "atrial_defect": round(float(other.atrial_mm(age).mean()), 1),
                "duct": round(other.story.duct_mm(age), 1),
                "ventricular_defect": round(other.story.ventricular_mm, 1),
            },
            tight=False,
        ),
    )
    note = Caution(severity=Severity.CAUTION, text=NOT_ADVICE)
    return Answer(
        verb="now",
        case_id=record.id,
        result=result,
        cautions=(note, *ready.cautions),
        sources=BLOOD,
        run=run_record(
            record.digest, seed=DEFAULT_SEED, draws=draws, effective_draws=today.effective_draws
        ),
    )


def _ready(record: Case, draws: int, progress: Progress | None) -> Ready:
    today = snapshot(record, draws=draws, seed=DEFAULT_SEED, progress=progress)
    baby, walls, age = today.baby, today.walls, today.age_days
    readings = baby.beat(age, walls).readings
    seen = readouts(readings, walls, baby.traits["echo_over_cmr"], body_at(baby, age))
    near: list[Baby] = []
    for size_mm in (0.0, HALF_OPEN_MM):
        near.append(baby.with_story(tried_story(baby.story, {DUCT: size_mm}, age)))
        near[-1].read(readings.orbit.regulating(near[-1].circuit(age, walls)), None)
    return Ready(
        today=today,
        shut=near[0],
        open=near[1],
        readings=readings,
        seen=seen,
        urgency=urgency(record, seen),
        cautions=(*standing_cautions(record), *ensemble_cautions(today)),
    )


def tried_story(story: Story, tried: Mapping[str, float], age: float) -> Story:
    """The same baby from this minute on, with what is tried.

    Parameters
    ----------
    story : as it is recorded
    tried : diameters in mm by ``ATRIAL`` and ``DUCT``
    age : from which they hold, days
    """
    if ATRIAL in tried:
        story = replace(story, torn_again=(age, tried[ATRIAL]))
    if DUCT in tried:
        story = replace(story, duct_mm=partial(_steady, tried[DUCT]))
    return story


def _steady(size_mm: float, _age_days: float) -> float:
    return size_mm


def _moved(before: Readouts, then: Readouts) -> Table:
    b, t = before, then
    rows = (
        ("saturation, arms", b.sao2_upper_pct, t.sao2_upper_pct, "%"),
        ("saturation, legs", b.sao2_lower_pct, t.sao2_lower_pct, "%"),
        ("effective flow", b.effective_flow_ml_min_kg, t.effective_flow_ml_min_kg, "mL/min/kg"),
        ("left atrium", b.la_mean_mmhg, t.la_mean_mmhg, "mmHg"),
        ("left ventricle, systolic", b.lv_systolic_mmhg, t.lv_systolic_mmhg, "mmHg"),
        ("oxygen need met", b.oxygen_need_met_pct, t.oxygen_need_met_pct, "%"),
    )
    return Table(
        title="What moves (computed; 90 % interval)",
        columns=("what", "as it is", "tried"),
        rows=tuple((what, _span(a, unit), _span(b, unit)) for what, a, b, unit in rows),
    )


def _span(estimate: Estimate, unit: str) -> str:
    return f"{estimate.value:.0f} ({estimate.low:.0f} to {estimate.high:.0f}) {unit}"
