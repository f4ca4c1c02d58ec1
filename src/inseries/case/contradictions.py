"""What in a record cannot all be true.

A foot saturation above the hand's is no contradiction here: with transposed great arteries it is
a sign (see ``remarks.py``).
"""

from __future__ import annotations

from itertools import combinations, pairwise
from math import hypot
from typing import TYPE_CHECKING

from inseries.base.ages import HOURS_PER_DAY, age_words
from inseries.base.findings import Finding, Severity
from inseries.case.disagreements import disagreements
from inseries.case.keys import keys
from inseries.case.record import EventKind, LvOutflow, Septum, Value
from inseries.case.slips import tell, unit_word
from inseries.case.words import method_words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from inseries.case.disagreements import Found
    from inseries.case.record import Case

AT_ONCE_DAYS = 0.25 / HOURS_PER_DAY  # chosen: within a quarter of an hour a state is the same
DISAGREE_SDS = 3.0  # chosen: three errors of the difference; few true pairs differ by more
# chosen: a newborn loses up to a tenth in the first days; more than a fifth is not weight
WEIGHT_FALL_AT_ONCE, WEIGHT_FALL_PER_DAY, WEIGHT_FALL_MOST = 0.06, 0.04, 0.20
# chosen: oedema may add this much at once and then daily; more is another baby or another scale
WEIGHT_RISE_AT_ONCE, WEIGHT_RISE_PER_DAY = 0.10, 0.04
MIXED_PCT = 60.0  # chosen: above this, transposed circulations must mix somewhere
OPEN_GRADIENT_MMHG = 20.0  # chosen: flow alone makes less than this across an open outflow


def contradictions(case: Case) -> tuple[Finding, ...]:
    """Everything in a record that cannot be true together, in plain sentences.

    Parameters
    ----------
    case : Case

    Returns
    -------
    tuple of Finding with severity ``caution``, empty where nothing contradicts
    """
    found = (
        *_weights(case),
        *_same_thing(case),
        *_no_mixing(case),
        *_order(case),
        *disagreements(case),
        *_anatomy(case),
    )
    return tuple(Finding(name=n, sentence=s, severity=Severity.CAUTION) for n, s in found)


def _weights(case: Case) -> Iterator[Found]:
    for a, b in pairwise(case.all("weight_kg")):
        days, change = b.age_days - a.age_days, b.number / a.number - 1
        fall = min(WEIGHT_FALL_AT_ONCE + WEIGHT_FALL_PER_DAY * days, WEIGHT_FALL_MOST)
        rise = WEIGHT_RISE_AT_ONCE + WEIGHT_RISE_PER_DAY * days
        if -change > fall or change > rise:
            verb = "falls" if change < 0 else "rises"
            yield (
                "weight_jump",
                f"Weight {verb} by {abs(change) * 100:.0f} % within {age_words(days)} "
                f"({tell(a.number)} to {tell(b.number)} kg at {age_words(b.age_days)}): "
                "one of the two is not this baby's weight.",
            )


def _same_thing(case: Case) -> Iterator[Found]:
    for name, key in keys().items():
        for a, b in combinations(case.all(name), 2):
            if (
                b.age_days - a.age_days > AT_ONCE_DAYS
                or _other_method(a, b)
                or _event_between(case, a, b)
            ):
                continue
            if isinstance(a.value, str) or isinstance(b.value, str):
                differ = a.value != b.value
            else:
                errors = [v.sd or key.error_of(v.number) for v in (a, b)]
                differ = abs(a.value - b.value) > DISAGREE_SDS * hypot(*errors)
            if differ:
                yield (
                    "readings_disagree",
                    f"At {age_words(b.age_days)} there are two values for {key.word}, {_told(a)} "
                    f"and {_told(b)}: they differ by more than the error of measuring.",
                )


def _event_between(case: Case, a: Value, b: Value) -> bool:
    return any(a.age_days <= e.age_days <= b.age_days for e in case.events)


def _other_method(a: Value, b: Value) -> bool:
    return a.method is not None and b.method is not None and a.method != b.method


def _told(value: Value) -> str:
    number = value.value if isinstance(value.value, str) else tell(value.value)
    return f"{number} {unit_word(value.unit)} ({method_words(value.method)})".replace("  ", " ")


def _no_mixing(case: Case) -> Iterator[Found]:
    operated = _first_age(case, EventKind.SWITCH, EventKind.ATRIAL_SWITCH)
    if case.anatomy.septum != Septum.INTACT:
        return
    for value in (*case.all("spo2_right_hand_pct"), *case.all("sao2_pct")):
        age = value.age_days
        if value.number <= MIXED_PCT or age >= operated or not _all_closed(case, age):
            continue
        yield (
            "no_mixing",
            f"At {age_words(age)} the {keys()[value.key].word} is {tell(value.number)} % although "
            "septum, atrial septum and duct are all given as closed: the two circulations must "
            "mix somewhere, so one of these cannot be.",
        )


def _all_closed(case: Case, age: float) -> bool:
    atrial = case.latest("atrial_defect_mm", age + AT_ONCE_DAYS)
    duct = case.latest("duct_mm", age + AT_ONCE_DAYS)
    closed = case.event(EventKind.DUCT_CLOSED)
    shunted = _first_age(case, EventKind.SHUNT, EventKind.DUCT_STENT) <= age
    duct_shut = (duct is not None and duct.number == 0) or (
        closed is not None and closed.age_days <= age and (duct is None or duct.number == 0)
    )
    made = case.event(EventKind.SEPTOSTOMY)
    later = made is not None and atrial is not None and atrial.age_days < made.age_days <= age
    atrial_shut = atrial is not None and atrial.number == 0 and not later
    return atrial_shut and duct_shut and not shunted


def _first_age(case: Case, *kinds: EventKind) -> float:
    return min((e.age_days for k in kinds for e in case.events_of(k)), default=float("inf"))


def _order(case: Case) -> Iterator[Found]:
    stop = _first_age(case, EventKind.PROSTAGLANDIN_STOP)
    start = _first_age(case, EventKind.PROSTAGLANDIN_START)
    if stop < start:
        yield "event_order", "Prostaglandin is stopped before it is started."
    switch = _first_age(case, EventKind.SWITCH)
    for kind, what in (
        (EventKind.SEPTOSTOMY, "A septostomy"),
        (EventKind.BAND, "A band"),
        (EventKind.ATRIAL_SWITCH, "An atrial switch"),
    ):
        if any(e.age_days > switch for e in case.events_of(kind)):
            yield "event_order", f"{what} comes after the arterial switch."
    if len(case.events_of(EventKind.SWITCH)) > 1:
        yield "event_order", "An arterial switch is written down more than once."
    shut = _first_age(case, EventKind.DUCT_CLOSED)
    stented = _first_age(case, EventKind.DUCT_STENT)
    again = next((v for v in case.all("duct_mm") if v.age_days > shut and v.number > 0), None)
    if again is not None and not shut < stented <= again.age_days:
        yield (
            "duct_reopened",
            f"The duct is closed at {age_words(shut)} and {tell(again.number)} mm wide at "
            f"{age_words(again.age_days)}.",
        )


def _anatomy(case: Case) -> Iterator[Found]:
    anatomy = case.anatomy
    hole = next((v for v in case.all("ventricular_defect_mm") if v.number > 0), None)
    if anatomy.septum == Septum.INTACT and (hole is not None or anatomy.vsd_mm):
        yield (
            "septum",
            "The ventricular septum is given as intact, and a ventricular defect is measured.",
        )
    steep = next(
        (v for v in case.all("lv_outflow_gradient_mmhg") if v.number > OPEN_GRADIENT_MMHG), None
    )
    if anatomy.lv_outflow == LvOutflow.OPEN and steep is not None:
        yield (
            "lv_outflow",
            f"The left ventricular outflow is given as open, but at {age_words(steep.age_days)} "
            f"there is a gradient of {tell(steep.number)} mmHg across it.",
        )
