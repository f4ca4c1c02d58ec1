"""From what was typed into a field, with or without its unit, to what the case file holds."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from inseries.base.errors import CaseError, InseriesError
from inseries.base.units import convert, same_quantity
from inseries.case.keys import companions, fields, keys
from inseries.case.rewrite import literal
from inseries.case.slips import unit_word
from inseries.desk.plain import ucum

if TYPE_CHECKING:
    from inseries.case.keys import Field, Key

_NUMBER = re.compile(r"^([+\-−]?(?:\d+(?:[.,]\d*)?|[.,]\d+))\s*(\D.*)?$")
_WORDS = {"yes": "true", "no": "false"}
# derived: hours in each unit of time
HOURS = {"": 1.0, "h": 1.0, "hours": 1.0, "d": 24.0, "days": 24.0, "min": 1.0 / 60.0}
SIGNIFICANT = 6  # chosen: digits kept of a value that was typed in another unit


def as_written(table: str, key: str, typed: str) -> str | None:
    """What a field shall hold, as TOML; None where the field was emptied.

    Parameters
    ----------
    table, key : which field
    typed : ``3.4``, ``3,4 kg``, ``3400 g``, ``yes``, a word

    Raises
    ------
    CaseError, for a unit that the field cannot take; anything else is left to the reader of cases
    """
    told = " ".join(typed.split())
    if not told:
        return None
    if key == "age_h":
        return _hours(told)
    if key in {"at", "born"}:
        return literal(told.replace(" ", "T", 1), quoted=False)
    known = _known(table, key)
    if known is None:
        return literal(told, quoted=not key.endswith("_sd"))
    kind = getattr(known, "kind", "number" if not known.choices else "choice")
    if kind == "number":
        return _number(known, told)
    if kind == "flag":
        return literal(_WORDS.get(told.lower(), told.lower()), quoted=False)
    if kind == "list":
        return "[" + ", ".join(literal(w, quoted=True) for w in told.split(",")) + "]"
    return literal(told, quoted=True)


def _known(table: str, key: str) -> Key | Field | None:
    if table == "readings":
        return None if key in companions() else keys().get(key)
    return fields({"events": "event"}.get(table, table)).get(key)


def _number(known: Key | Field, told: str) -> str:
    found = _NUMBER.match(told)
    if found is None:
        return literal(told, quoted=True)  # the reader refuses it in its own words
    number = found[1].replace(",", ".").replace("−", "-")
    unit = (found[2] or "").strip()
    if unit in {"", known.unit, unit_word(known.unit)}:
        return literal(f"{float(number):.12g}", quoted=False)
    return f"{_converted(known, float(number), unit):.{SIGNIFICANT}g}"


def _converted(known: Key | Field, number: float, unit: str) -> float:
    try:
        return convert(number, ucum(unit), known.unit)
    except InseriesError as error:
        units = [unit_word(u) for u in (known.unit, *same_quantity(known.unit)) if u]
        raise CaseError(
            f"this {known.word} cannot be told in this unit",
            code="unit_slip",
            where=known.name,
            value=f"{number:g} {unit}",
            remedy=f"{', '.join(units) or 'no unit'}.",
        ) from error


def _hours(told: str) -> str:
    found = _NUMBER.match(told)
    unit = (found[2] or "").strip().rstrip(".") if found else ""
    if found is None or unit not in HOURS:
        return literal(told, quoted=True)
    return f"{float(found[1].replace(',', '.').replace('−', '-')) * HOURS[unit]:.8g}"
