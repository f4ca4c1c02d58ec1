"""The numbers of the repair, by name."""

from __future__ import annotations

from functools import cache

from inseries.base.numbers import Number, read_numbers


@cache
def _table() -> dict[str, Number]:
    return read_numbers("inseries.repair", "repair.toml")


def number(name: str) -> float:
    """The value of a row of the table of the repair, in the row's unit."""
    return _table()[name].value


def spread(name: str) -> float:
    """The standard deviation of a row, in the row's unit; nothing where none is held."""
    return _table()[name].sd or 0.0
