"""What opening the atrial septum did to this baby, or would do, before and after side by side."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from inseries.base.ages import age_words
from inseries.case import EventKind
from inseries.desk.figures import Figure
from inseries.desk.spans import span
from inseries.draw.switch_before_after import Pair, PairsView, pairs_svg, spoken

if TYPE_CHECKING:
    from inseries.base.findings import Estimate
    from inseries.case import Case, Event
    from inseries.case.record import Value
    from inseries.desk.now import NowResult

CHANGE = "Septostomy"
# chosen: what is looked at before and after, its words, unit, and the ends of its scale
RECORDED = (
    ("spo2_right_hand_pct", "saturation, right hand", "%", (20.0, 100.0)),
    ("atrial_defect_mm", "atrial defect", "mm", (0.0, 12.0)),
    ("atrial_gradient_mmhg", "gradient across it", "mmHg", (0.0, 15.0)),
    ("lactate_mmol_l", "lactate", "mmol/L", (0.0, 12.0)),
)
COMPUTED = (
    ("sao2_upper_pct", "saturation, arms and head", "%", (20.0, 100.0)),
    ("la_mean_mmhg", "left atrial pressure", "mmHg", (0.0, 15.0)),
    ("effective_flow_ml_min_kg", "oxygen-rich flow to the body", "mL/min/kg", (0.0, 200.0)),
    ("lv_systolic_mmhg", "left ventricular pressure", "mmHg", (0.0, 90.0)),
)
# chosen: a reading later than this after the tear tells of more than the tear, days
SOON_DAYS = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Torn:
    """What is said of septostomy, on what basis, its picture, and whether none will come."""

    says: str
    basis: str
    notes: tuple[str, ...]
    figure: Figure | None
    settled: bool = True


def septostomy(record: Case, result: NowResult | None) -> Torn:
    """Before and after: recorded where it was done, computed where it might be.

    Parameters
    ----------
    record : the case
    result : what ``now`` answered, None where it has not been asked
    """
    done = record.event(EventKind.SEPTOSTOMY)
    if done is not None:
        return _done(record, done)
    changes = () if result is None else result.what_if
    tried = next((item for item in changes if item.change == CHANGE), None)
    if result is not None and tried is not None:
        return _tried(result, tried.readouts, tried.harms)
    if result is None:
        return Torn(says="", basis="", notes=(), figure=None, settled=False)
    return Torn(
        says="None was recorded, and with the septum as open as it is none is asked about here.",
        basis="Recorded in this case.",
        notes=("Where the septum is tight, the page now computes what a tear would change.",),
        figure=None,
    )


# --- done ---------------------------------------------------------------------------------------


def _done(record: Case, done: Event) -> Torn:
    found = tuple(
        pair
        for key, words, unit, ends in RECORDED
        for pair in [_recorded(record, key, done.age_days, (words, unit), ends)]
        if pair is not None
    )
    when = age_words(done.age_days)
    said = "; ".join(f"{p.words} {p.before:g} → {p.after:g} {p.unit}" for p in found)
    return Torn(
        says=f"It was torn at {when}. {said[:1].upper()}{said[1:]}."
        if found
        else f"It was torn at {when}; what was read before and after is not recorded.",
        basis="Recorded in this case: the last reading before, the first within a day after.",
        notes=(*HARMS, "What else changed in those hours is in these readings too."),
        figure=_figure("Before and after the tear, as recorded", found),
    )


HARMS = (
    "Harm at this step: rhythm, vessels, brain; series contradict one another on brain injury.",
    "The left ventricle fills and works less afterwards, and goes on losing mass.",
)


def _recorded(
    record: Case, key: str, at_days: float, named: tuple[str, str], ends: tuple[float, float]
) -> Pair | None:
    before = record.latest(key, at_days)
    after = _first_after(record.all(key), at_days)
    if before is None or after is None:
        return None
    words, unit = named
    return Pair(
        words=words, unit=unit, before=before.number, after=after.number, low=ends[0], high=ends[1]
    )


def _first_after(values: tuple[Value, ...], at_days: float) -> Value | None:
    return next((v for v in values if at_days < v.age_days <= at_days + SOON_DAYS), None)


# --- tried --------------------------------------------------------------------------------------


def _tried(result: NowResult, after: object, harms: tuple[str, ...]) -> Torn:
    pairs: list[Pair] = []
    said: list[str] = []
    for key, words, unit, ends in COMPUTED:
        was: Estimate = getattr(result.readouts, key)
        then: Estimate = getattr(after, key)
        pairs.append(
            Pair(
                words=words,
                unit=unit,
                before=round(was.value),
                after=round(then.value),
                low=ends[0],
                high=ends[1],
            )
        )
        said.append(f"{words} {span(was)} → {span(then)} {unit}")
    return Torn(
        says=f"Tried on this baby's circuits: {'; '.join(said[:2])}.",
        basis="Computed from this case's numbers: nobody has torn anything yet.",
        notes=(*harms, *said[2:]),
        figure=_figure("Before and after a tear, computed", tuple(pairs)),
    )


def _figure(title: str, pairs: tuple[Pair, ...]) -> Figure | None:
    if not pairs:
        return None
    view = PairsView(title=title, pairs=pairs, figure_id="torn")
    return Figure(name="torn", svg=pairs_svg(view), alt=spoken(view))
