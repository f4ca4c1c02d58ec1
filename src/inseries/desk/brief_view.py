"""From answers to the record of the team brief: words and numbers written out, nothing computed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.base.ages import age_words
from inseries.base.sources import citation
from inseries.brief.view import (
    Check,
    Driver,
    Limit,
    LoopsPart,
    NextMeasurement,
    Outside,
    PanelRow,
    Part,
    Picture,
    Suitability,
    TeamBrief,
    WhatIf,
    WindowPart,
)
from inseries.case import Case, EventKind, Sex
from inseries.case.check import check
from inseries.case.words import EVENT_WORDS
from inseries.desk.cautions import AID, unknowns
from inseries.desk.page_view import other_cautions, printed_urgency, run_line
from inseries.desk.repair_brief import NO_REPAIR, RepairInBrief
from inseries.desk.spans import signed
from inseries.desk.window_result import NOTHING_NARROWS, chance_words, gain_words
from inseries.draw.ribbons import ribbon_svg, spoken
from inseries.draw.window_curve import spoken as window_spoken
from inseries.draw.window_curve import window_svg
from inseries.evidence.rows import rows_on

if TYPE_CHECKING:
    from inseries.base.findings import Estimate
    from inseries.desk.answer import Answer
    from inseries.desk.now import NowResult
    from inseries.desk.panel import PanelRow as Row
    from inseries.desk.published import Published
    from inseries.desk.readouts import Readouts
    from inseries.desk.what_if import WhatIf as Change
    from inseries.desk.window_result import WindowResult
    from inseries.desk.would_move import Moved

# chosen: rows that keep the window on its page
MOST_MEASUREMENTS, MOST_DRIVERS = 2, 3
# chosen: longer counts of harm stay on the screen, letters
LONGEST_HARM = 155
# what of a change's effect on the circulation is printed beside its gain
MEANWHILE = ("upper saturation", "left atrium")

EMERGENCY_FIRST = (
    "No window is printed while this is an emergency: what is done in the next hours changes it. "
    "Ask again once oxygen is secured and the readings are new."
)


def team_brief(
    record: Case,
    answer: Answer,
    ahead: WindowResult,
    now: NowResult,
    repair: RepairInBrief = NO_REPAIR,
) -> TeamBrief:
    """The record of the team brief.

    Parameters
    ----------
    record : the case
    answer : the window's answer, for cautions, sources and the run
    ahead, now : its result, and what `now` says of the same draws
    repair : how the pieces fit, on a page of its own

    Returns
    -------
    TeamBrief
    """
    emergency = now.urgency.level == "emergency"
    return TeamBrief(
        case_id=record.id,
        age=f"{age_words(now.age_days)} old",
        baby=_baby(record, now),
        anatomy=_anatomy(record),
        urgency=printed_urgency(now.urgency),
        panel=tuple(_panel_row(row) for row in now.panel),
        loops=_loops(now),
        what_if=tuple(_what_if(now.readouts, item) for item in now.what_if),
        suitability=_suitability(ahead),
        window=None if emergency else _window(ahead),
        window_refused=EMERGENCY_FIRST if emergency else "",
        next_measurements=_at_once(record) if emergency else _next(record, ahead),
        unknown=unknowns(record),
        cautions=(
            AID,
            *other_cautions(answer.cautions, unknowns(record)),
            *repair.untold,
        ),
        sources=tuple(citation(key) for key in answer.sources),
        run=run_line(answer),
        further=repair.pages,
    )


def _baby(record: Case, now: NowResult) -> str:
    weight = record.latest("weight_kg")
    who = {Sex.FEMALE: "girl", Sex.MALE: "boy", None: "baby"}[record.sex]
    size = f"{weight.number:g} kg " if weight else ""
    born = f", born at {record.gestation_weeks:g} weeks" if record.gestation_weeks else ""
    septum = {"intact": "an intact ventricular septum", "vsd": "a ventricular septal defect"}
    what = septum.get(str(record.anatomy.septum or ""), "a ventricular septum not described")
    done = "; ".join(
        f"{EVENT_WORDS.get(event.kind, event.kind.value.replace('_', ' '))} at "
        f"{age_words(event.age_days)}"
        for event in record.events
        if event.kind is not EventKind.RELEASED
    )
    past = f" {done[0].upper()}{done[1:]}." if done else ""
    return (
        f"A {size}{who}, {age_words(now.age_days)} old{born}, with transposition of the great "
        f"arteries and {what}.{past}"
    )


def _anatomy(record: Case) -> tuple[Part, ...]:
    a = record.anatomy
    stated = (
        ("Segments", a.segments),
        ("Ventricular septum", a.septum),
        ("Left outflow", a.lv_outflow),
        ("Pulmonary valve", a.pulmonary_valve),
        ("Arch", a.arch),
        ("Coronary arteries", a.coronary),
    )
    sure = (
        f"{a.coronary_certainty}; intramural "
        + {
            None: "not stated",
            True: "suspected",
            False: "not seen",
        }[a.coronary_intramural]
    )
    return tuple(
        Part(
            name=name,
            text=str(text) if text else "not stated",
            certainty=sure if name == "Coronary arteries" and a.coronary_certainty else "",
        )
        for name, text in stated
    )


def _panel_row(row: Row) -> PanelRow:
    limit, _, population = (row.thresholds[0] if row.thresholds else "").partition(" in ")
    return PanelRow(
        what=row.what,
        value=row.text,
        method=row.method,
        z="" if row.z is None else signed(row.z, 1),
        z_note=citation(row.z_reference).partition(",")[0]
        if row.z_reference
        else row.z_reason or "no reference",
        threshold=limit,
        population=population,
    )


def _loops(now: NowResult) -> LoopsPart:
    view, r = now.picture, now.readouts
    return LoopsPart(
        picture=Picture(
            svg=ribbon_svg(view, compact=True),
            alt=spoken(view),
            caption="Width is flow, colour is saturation. Computed from what is recorded.",
        ),
        upper_saturation=f"{_whole(r.sao2_upper_pct)} %",
        lower_saturation=f"{_whole(r.sao2_lower_pct)} %",
        sentences=_loop_sentences(r),
    )


def _loop_sentences(r: Readouts) -> tuple[str, ...]:
    return (
        f"Lungs receive {r.qp_qs.value:.1f} times the body's flow; effective flow is "
        f"{_whole(r.effective_flow_ml_min_kg)} mL/min/kg.",
        f"Left over right ventricular pressure {r.lv_rv_systolic_pressure_ratio.value:.2f} "
        f"({r.lv_rv_systolic_pressure_ratio.low:.2f} to "
        f"{r.lv_rv_systolic_pressure_ratio.high:.2f}).",
        "A lower body pinker than the upper can mean high lung resistance or a narrow arch; its "
        "absence excludes neither.",
    )


def _what_if(was: Readouts, item: Change) -> WhatIf:
    then = item.readouts
    saturation = then.sao2_upper_pct.value - was.sao2_upper_pct.value
    filling = then.la_mean_mmhg.value - was.la_mean_mmhg.value
    left = then.lv_systolic_mmhg.value - was.lv_systolic_mmhg.value
    gain = (
        f"upper saturation {signed(saturation)} points; left atrium {signed(filling)} mmHg; "
        f"left ventricle {signed(left)} mmHg (computed)"
    )
    return WhatIf(change=item.change, gain=gain, harm=item.harms[0])


def _suitability(ahead: WindowResult) -> Suitability:
    s = ahead.suitability
    return Suitability(
        standing=s.standing,
        sentence=s.sentence,
        checks=tuple(Check(name=c.name, standing=c.standing, why=c.why) for c in s.checks),
    )


def _window(ahead: WindowResult) -> WindowPart:
    view = ahead.picture
    return WindowPart(
        picture=Picture(
            svg=window_svg(view, compact=True), alt=window_spoken(view), caption=view.sentence
        ),
        sentences=ahead.sentences,
        published=tuple(_outside(row) for row in ahead.published),
        cost_of_waiting=tuple(_outside(row) for row in ahead.cost_of_waiting),
        other_limits=tuple(
            Limit(name=item.name.capitalize(), text=item.sentence) for item in ahead.other_limits
        ),
        drivers=tuple(
            Driver(name=item.name, effect=item.words) for item in ahead.drivers[:MOST_DRIVERS]
        ),
        moves=tuple(_move(item) for item in ahead.what_would_move),
        rule=tuple(
            Outside(text=row.text, population=row.population, source="common practice")
            for row in rows_on("rule_of_practice")
        ),
    )


def _move(item: Moved) -> WhatIf:
    """A change of the window: days gained with their interval, the chance then, its harm."""
    gain = f"{gain_words(item)} days; survivable {chance_words(item)}"
    told = [text for text in item.meanwhile if text.startswith(MEANWHILE)]
    meanwhile = f" Meanwhile {', '.join(told)}." if told else ""
    counted = [text for text in item.harms[1:] if len(text) <= LONGEST_HARM][:1]
    return WhatIf(
        change=item.change, gain=f"{gain}.{meanwhile}", harm=" ".join((item.harms[0], *counted))
    )


def _outside(row: Published) -> Outside:
    author = citation(row.source).partition(",")[0].strip("“”")
    # chosen: longer than this is a title, not an author
    short = author if len(author) < 25 else "conference abstract"
    return Outside(text=row.text, population=row.in_whom, source=short)


def _at_once(record: Case) -> tuple[NextMeasurement, ...]:
    """What an emergency needs, not what a window would."""
    again = NextMeasurement(
        what="Right-hand saturation, lactate and the atrial gradient, again.",
        why="They say whether what is done in the next hour has helped.",
    )
    return (again, *_lacking(record, "now"))


def _next(record: Case, ahead: WindowResult) -> tuple[NextMeasurement, ...]:
    """What narrows the window most; where nothing does, what the record lacks for it."""
    if ahead.next_measurements:
        return tuple(
            NextMeasurement(what=_sentence(item.name), why=_sentence(item.words))
            for item in ahead.next_measurements[:MOST_MEASUREMENTS]
        )
    lacking = _lacking(record, "window")
    if not lacking:
        why = f"A trend tells more; today {NOTHING_NARROWS}."
        return (NextMeasurement(what="LV mass by the same method.", why=why),)
    return lacking


def _lacking(record: Case, verb: str) -> tuple[NextMeasurement, ...]:
    """What the record lacks for a verb."""
    lacking = [item for item in check(record).missing if item.verb == verb]
    return tuple(
        NextMeasurement(what=_sentence(item.what), why=_sentence(item.cost))
        for item in lacking[:MOST_MEASUREMENTS]
    )


def _sentence(words: str) -> str:
    return f"{words[0].upper()}{words[1:]}."


def _whole(estimate: Estimate) -> str:
    if estimate.low is None or estimate.high is None:
        return f"{estimate.value:.0f}"
    return f"{estimate.value:.0f} ({estimate.low:.0f} to {estimate.high:.0f})"
