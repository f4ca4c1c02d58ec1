"""Sizes of a case as Z, each against a reference made with the same method."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from inseries.base.errors import NormsError
from inseries.base.findings import Estimate
from inseries.base.sources import bibliography
from inseries.case.keys import keys
from inseries.case.slips import unit_word
from inseries.case.words import method_words
from inseries.norms.growth_scores import growth_scores
from inseries.norms.size_references import items
from inseries.norms.size_scores import Child, scores

if TYPE_CHECKING:
    from inseries.case.record import Case, Value
    from inseries.norms.lms import Measure
    from inseries.norms.size_scores import Score

# A neo-aorta is a native pulmonary root in the aortic place: published series score it so.
SCORED_AS = {"neoaortic_root_mm": "aortic_root_mm"}
AS_ROOT = "against normal aortic roots; a native pulmonary root is wider from birth"
SHORT = {"who2006": "WHO 2006", "who2007": "WHO 2007", "cdc2000": "CDC 2000"}
BODY = {"weight_kg": "weight", "length_cm": "length"}


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeZ:
    """One reference's answer: its key, Z or None, what it calls usual, and what is said beside."""

    reference: str
    z: float | None
    expected: float | None
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """One size at its last measurement: value, method, and Z or the reason for none.

    Parameters
    ----------
    z, reference : the first reference's answer, or None
    reason : why there is no Z, or None
    others : what further references of the same item and method say; never averaged
    notes : what has to be said beside the first
    """

    name: str
    word: str
    value: Estimate
    age_days: float
    method: str | None
    method_words: str
    z: float | None
    reference: str | None
    reason: str | None
    others: tuple[SizeZ, ...] = ()
    notes: tuple[str, ...] = ()


def short_name(reference: str) -> str:
    """A reference in a table: first author or body, and year, such as ``Lopez 2017``."""
    if reference in SHORT:
        return SHORT[reference]
    source = bibliography()[reference]
    return f"{source.authors.removesuffix(' et al.')} {source.year or ''}".strip()


def sizes(case: Case) -> tuple[Size, ...]:
    """The last measurement of everything that has a reference, as Z.

    Parameters
    ----------
    case : Case

    Returns
    -------
    tuple of Size; weight and length first
    """
    known = keys()
    names = (*BODY, *(name for name in (*items(), *SCORED_AS) if name in known))
    last = (case.latest(name) for name in names)
    return tuple(_size(value, case) for value in last if value is not None)


def _size(value: Value, case: Case) -> Size:
    answers, reason = _answers(value, case)
    scored = [answer for answer in answers if answer.z is not None]
    first = scored[0] if scored else None
    return Size(
        name=value.key,
        word=keys()[value.key].word,
        value=Estimate(value=value.number, unit=unit_word(value.unit)),
        age_days=value.age_days,
        method=str(value.method) if value.method else None,
        method_words=method_words(value.method),
        z=first.z if first else None,
        reference=first.reference if first else None,
        reason=None if first else reason,
        others=tuple(answer for answer in answers if answer is not first),
        notes=first.notes if first else (),
    )


def _answers(value: Value, case: Case) -> tuple[tuple[SizeZ, ...], str]:
    """Every reference's answer, and why there is none where there is none."""
    try:
        return _body(value, case) if value.key in BODY else _heart(value, case)
    except NormsError as error:
        return (), error.what


def _body(value: Value, case: Case) -> tuple[tuple[SizeZ, ...], str]:
    if case.sex is None:
        return (), "sex is not stated"
    measure: Measure = "weight" if value.key == "weight_kg" else "length"
    found = growth_scores(measure, case.sex.value, value.age_days, value.number)
    made = (SizeZ(reference=each.source, z=each.z, expected=each.median) for each in found)
    return tuple(made), "beyond three deviations the growth references give no Z"


def _heart(value: Value, case: Case) -> tuple[tuple[SizeZ, ...], str]:
    if value.method is None:
        return (), "no method is stated"
    weight, length = (case.latest(n, value.age_days) for n in ("weight_kg", "length_cm"))
    if weight is None or length is None:
        return (), "needs weight and length by then"
    child = Child(
        weight_kg=weight.number,
        length_cm=length.number,
        age_days=value.age_days,
        sex=case.sex.value if case.sex else None,
    )
    item = SCORED_AS.get(value.key, value.key)
    found = scores(item, value.number, child, value.method)
    notes = (AS_ROOT,) if value.key in SCORED_AS else ()
    reason = found.not_held[0].why if found.not_held else "its reference gives no Z"
    return tuple(_answer(each, notes) for each in found.held), reason


def _answer(score: Score, notes: tuple[str, ...]) -> SizeZ:
    return SizeZ(
        reference=score.reference.made.source,
        z=score.z,
        expected=score.expected,
        notes=(*notes, *score.notes),
    )
