"""Packaged constants of a law, fitted ones over starting ones, those of all laws beneath."""

from __future__ import annotations

from functools import lru_cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from inseries.base.numbers import read_numbers

if TYPE_CHECKING:
    from collections.abc import Mapping

_PACKAGE = "inseries.course"
SHARED = ("cavity", "strength")


@lru_cache(maxsize=8)
def law_constants(name: str) -> Mapping[str, float]:
    """Every constant of one law.

    Parameters
    ----------
    name : str, the law's file: ``mean_stress`` or ``emptied_stretch``

    Returns
    -------
    mapping of str to float; those of cavity and strength, which all laws share, with its own
    """
    numbers = {
        row: number
        for table in law_tables(name)
        for row, number in read_numbers(_PACKAGE, table).items()
    }
    return MappingProxyType({row: number.value for row, number in numbers.items()})


def law_tables(name: str) -> tuple[str, ...]:
    """File names of a law's tables in ``inseries.course``, a later one over an earlier one."""
    tables = (*SHARED, name)
    return tuple(f"{prefix}{table}.toml" for table in tables for prefix in ("", "fitted_"))
