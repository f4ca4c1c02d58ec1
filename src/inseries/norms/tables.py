"""Rows of this room's tables, and how a value between two ages is read from them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from itertools import pairwise

from inseries.base.errors import NormsError
from inseries.base.numbers import Number, Provenance, read_rows


@dataclass(frozen=True, slots=True, kw_only=True)
class Node:
    """A reference value at one age."""

    age_days: float
    number: Number


@cache
def rows(table: str) -> dict[str, dict[str, object]]:
    """Raw rows of one of this room's tables, read once."""
    return read_rows("inseries.norms", table)


def number(row: dict[str, object]) -> Number:
    """The number in a row that may carry further columns."""
    return Number(
        value=real(row, "value"),
        unit=str(row["unit"]),
        provenance=Provenance(str(row["provenance"])),
        because=str(row["because"]),
        sd=optional(row, "sd"),
        low=optional(row, "low"),
        high=optional(row, "high"),
    )


def real(row: dict[str, object], name: str) -> float:
    """One column as a number; the table is ours, so anything else is a mistake in it."""
    value = row[name]
    if not isinstance(value, int | float):
        raise TypeError(f"column {name} holds {value!r}, not a number")
    return float(value)


def optional(row: dict[str, object], name: str) -> float | None:
    """One column as a number, or None where the row does not have it."""
    return real(row, name) if name in row else None


@cache
def nodes(table: str, of: str) -> tuple[Node, ...]:
    """All rows of a table for one quantity, by age."""
    found = (row for row in rows(table).values() if row["of"] == of)
    made = (Node(age_days=real(row, "age_days"), number=number(row)) for row in found)
    return tuple(sorted(made, key=lambda node: node.age_days))


def at_age(table: str, of: str, age_days: float) -> Number:
    """A reference value at an age, on the straight line between the ages of the table.

    Parameters
    ----------
    table : str, file name of the table
    of : str, quantity
    age_days : float, days

    Returns
    -------
    Number; at an age of the table the published row itself, between two ages ``derived``

    Raises
    ------
    NormsError, code ``age_outside_table``, before the first or after the last age
    """
    line = nodes(table, of)
    first, last = line[0].age_days, line[-1].age_days
    if not first <= age_days <= last:
        raise age_outside(of, age_days, first, last)
    for node in line:
        if node.age_days == age_days:
            return node.number
    before, after = next(pair for pair in pairwise(line) if pair[1].age_days > age_days)
    return _between(before, after, age_days)


def age_outside(what: str, age_days: float, first: float, last: float) -> NormsError:
    """The refusal of an age that a table does not hold."""
    return NormsError(
        f"no reference for {what.replace('_', ' ')} at this age",
        code="age_outside_table",
        where=what,
        value=age_days,
        unit="d",
        remedy=f"an age from {first:g} to {last:g} days.",
    )


def _between(before: Node, after: Node, age_days: float) -> Number:
    share = (age_days - before.age_days) / (after.age_days - before.age_days)

    def mix(a: float | None, b: float | None) -> float | None:
        return None if a is None or b is None else a + share * (b - a)

    lower, upper = before.number, after.number
    keys = dict.fromkeys((lower.because, upper.because))
    return Number(
        value=lower.value + share * (upper.value - lower.value),
        unit=lower.unit,
        provenance=Provenance.DERIVED,
        because="straight line between ages: " + ", ".join(keys),
        sd=mix(lower.sd, upper.sd),
        low=mix(lower.low, upper.low),
        high=mix(lower.high, upper.high),
    )
