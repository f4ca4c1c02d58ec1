"""Sizes of a case as Z, each against a reference made with the same method."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from inseries.base.errors import NormsError
from inseries.base.findings import Estimate
from inseries.case.keys import keys
from inseries.case.record import Method
from inseries.case.slips import unit_word
from inseries.case.words import method_words
from inseries.norms import growth
from inseries.norms.surface import body_surface_m2
from inseries.norms.zscores import cmr_items, echo_items, echo_z, newborn_cmr_z

if TYPE_CHECKING:
    from inseries.case.record import Case, Value

GROWTH_SOURCE = "who2006"
Scored = tuple[float | None, str | None, str | None]
"""Z, key of its reference, and the reason where there is none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """One size at its last measurement: value, method, and Z or the reason for none."""

    name: str
    word: str
    value: Estimate
    age_days: float
    method: str | None
    method_words: str
    z: float | None
    reference: str | None
    reason: str | None


def sizes(case: Case) -> tuple[Size, ...]:
    """The last measurement of everything that has a reference, as Z.

    Parameters
    ----------
    case : Case

    Returns
    -------
    tuple of Size; weight and length first
    """
    names = ("weight_kg", "length_cm", *(name for name in echo_items() if name in keys()))
    last = (case.latest(name) for name in names)
    return tuple(_size(value, _scored(value, case)) for value in last if value is not None)


def _size(value: Value, scored: Scored) -> Size:
    z, reference, reason = scored
    return Size(
        name=value.key,
        word=keys()[value.key].word,
        value=Estimate(value=value.number, unit=unit_word(value.unit)),
        age_days=value.age_days,
        method=str(value.method) if value.method else None,
        method_words=method_words(value.method),
        z=z,
        reference=reference,
        reason=reason,
    )


def _scored(value: Value, case: Case) -> Scored:
    try:
        if value.key in {"weight_kg", "length_cm"}:
            return _growth(value, case)
        return _heart(value, case)
    except NormsError as error:
        return None, None, error.what


def _growth(value: Value, case: Case) -> Scored:
    if case.sex is None:
        return None, None, "sex is not stated"
    score = growth.weight_z if value.key == "weight_kg" else growth.length_z
    return score(case.sex.value, value.age_days, value.number), GROWTH_SOURCE, None


def _heart(value: Value, case: Case) -> Scored:
    if value.method is None:
        return None, None, "no method is stated"
    weight, length = (case.latest(n, value.age_days) for n in ("weight_kg", "length_cm"))
    if weight is None or length is None:
        return None, None, "needs weight and length by then"
    surface = body_surface_m2(weight.number, length.number)
    if value.method == Method.CMR and f"{value.key}_m2" in cmr_items():
        score = newborn_cmr_z(f"{value.key}_m2", value.number / surface, value.age_days)
    else:
        score = echo_z(value.key, value.number, surface, value.method)
    return score.z, score.reference_key, None
