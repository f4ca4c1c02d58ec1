"""What was probably meant: nearest names, units, and numbers in another unit."""

from __future__ import annotations

import difflib
from typing import TYPE_CHECKING

from inseries.base.errors import CaseError
from inseries.base.units import convert, same_quantity
from inseries.case.keys import SUFFIXES, Field, Key, fields, keys, stem

if TYPE_CHECKING:
    from collections.abc import Iterable

LONGEST_TEXT = 40  # chosen: enough to recognise what was written, short enough for one line
LONGEST_NUMBER = (
    1e15  # chosen: far beyond any value here; a number longer than this is told in words
)

UNIT_WORDS = {
    "mm[Hg]": "mmHg", "cm[H2O]": "cmH2O", "1": "", "/min": "/min", "ug/kg/min": "µg/kg/min",
    "wk": "weeks", "d": "days",
}  # fmt: skip
"""Units as a sentence writes them, where that is not the UCUM code."""


def unit_word(unit: str) -> str:
    """A unit as a sentence writes it: ``mmHg`` for ``mm[Hg]``."""
    return UNIT_WORDS.get(unit, unit)


def tell(number: float) -> str:
    """A number as a sentence writes it: four digits at most, no trailing zeros."""
    return f"{number:.4g}" if abs(number) < 10000 else f"{number:.0f}"


def told(value: object) -> str | float | bool | None:
    """A refused value as an error may print it: no dates, no tables, no long or odd text."""
    if isinstance(value, bool) or value is None:
        return value
    if isinstance(value, int | float):
        if value != value or not abs(value) < LONGEST_NUMBER:  # noqa: PLR0124 - nan
            return "nan" if value != value else "a very large number"  # noqa: PLR0124
        return int(value) if value == int(value) else value
    if not isinstance(value, str):
        return None
    text = "".join(c if c.isprintable() else "?" for c in value)
    return repr(text if len(text) <= LONGEST_TEXT else text[:LONGEST_TEXT] + "…")


def nearest(name: str, known: Iterable[str]) -> str | None:
    """The known name that looks most like a name, or None where nothing does."""
    # chosen: 0.6 is difflib's own default, and tells hemoglobin from haematocrit
    found = difflib.get_close_matches(name.lower(), list(known), n=1, cutoff=0.6)
    return found[0] if found else None


def unknown_key(name: str, value: object, table: str, known: Iterable[str]) -> CaseError:
    """The refusal of a key that is not known in a table, naming what was probably meant.

    Parameters
    ----------
    name : str, the key as written
    value : object, its value as written
    table : str, ``case``, ``anatomy``, ``readings`` or ``events``
    known : names that the table may hold
    """
    return (
        _other_unit(name, value, table)
        or _elsewhere(name, value, table)
        or CaseError(
            f"the key {name!r} is not known in [{table}]",
            code="unknown_key",
            value=_no_text(value),
            remedy=_nearest_remedy(name, known),
        )
    )


def probably_meant(key: Key | Field, value: float, low: float, high: float) -> str:
    """What to try where a number lies outside its bounds: the same digits in another unit.

    Parameters
    ----------
    key : Key
    value, low, high : float, in the key's unit
    """
    for unit in same_quantity(key.unit):
        meant = convert(value, unit, key.unit)
        if low <= meant <= high:
            word = f"in {unit_word(unit)}" if unit_word(unit) else "a fraction"
            return f"{key.name} = {tell(meant)}, if {tell(value)} was {word}."
    for factor in _SLIPS.get(key.unit, ()):
        if low <= value * factor <= high:
            what = "the point" if factor > 0.01 else "a factor of a thousand"
            return f"{key.name} = {tell(value * factor)}, if {what} slipped."
    unit = unit_word(key.unit)
    return f"a value from {tell(low)} to {tell(high)}{' ' + unit if unit else ''}."


# chosen: a point slips by one place in a size; a dose is wrong by the thousand of micro to nano.
# Shares and rates are left out: there the first guess would mislead more often than help.
_SLIPS = dict.fromkeys(("kg", "g", "cm", "mm", "mL", "mmol/L", "g/dL"), (0.1, 10.0)) | {
    "ng/kg/min": (0.001,)
}


def _no_text(value: object) -> str | float | bool | None:
    # What stands behind a key nobody knows may be a name: only numbers are said back.
    return None if isinstance(value, str) else told(value)


def _other_unit(name: str, value: object, table: str) -> CaseError | None:
    if table == "readings" and stem(name) in {"age", "at"}:
        return CaseError(
            f"an age is written as age_h, not {name}",
            code="wrong_unit",
            value=told(value),
            remedy="age_h, in hours since birth; a day has 24.",
        )
    if table != "readings":
        return None
    base = stem(name)
    key = next((k for k in keys().values() if k.stem == base), None)
    if key is None or name == key.name:
        return None
    return CaseError(
        f"{key.word} is written as {key.name}, not {name}",
        code="wrong_unit",
        value=told(value),
        remedy=_converted(key, SUFFIXES.get(name.removeprefix(base).lstrip("_"), ""), value),
    )


def _converted(key: Key, unit: str, value: object) -> str:
    number = float(value) if isinstance(value, int | float) else None
    if number is not None and unit in same_quantity(key.unit):
        return f"{key.name} = {tell(convert(number, unit, key.unit))}."
    unit = unit_word(key.unit)
    return f"{key.name}{', in ' + unit if unit else ''}."


def _elsewhere(name: str, value: object, table: str) -> CaseError | None:
    homes = {"case": fields("case"), "anatomy": fields("anatomy"), "readings": keys()}
    for home, names in homes.items():
        if name in names and home != table:
            return CaseError(
                f"the key {name!r} does not belong in [{table}]",
                code="unknown_key",
                value=told(value),
                remedy=f"move it under {'[[readings]]' if home == 'readings' else f'[{home}]'}.",
            )
    return None


def _nearest_remedy(name: str, known: Iterable[str]) -> str:
    found = nearest(name, known)
    return f"{found}." if found else "a key of the skeleton that `inseries new` writes."
