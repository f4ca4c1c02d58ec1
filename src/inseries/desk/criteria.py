"""The criteria of the two tiers, packaged and as a user changes them."""

from __future__ import annotations

from difflib import get_close_matches
from functools import lru_cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from inseries.base.errors import RouteNotPossible
from inseries.base.numbers import read_numbers
from inseries.prior.operation import Tier

if TYPE_CHECKING:
    from collections.abc import Mapping

NAMES = ("survivable", "comfortable")


@lru_cache(maxsize=1)
def packaged() -> Mapping[str, float]:
    """The packaged criteria by name."""
    numbers = read_numbers("inseries.desk", "criteria.toml")
    return MappingProxyType({name: number.value for name, number in numbers.items()})


def tiers_of(changes: Mapping[str, float] | None = None) -> tuple[Tier, ...]:
    """Both tiers, with some criteria changed.

    Parameters
    ----------
    changes : criterion to value, such as ``{"survivable_la_mean_max": 16}``

    Returns
    -------
    tuple of Tier

    Raises
    ------
    RouteNotPossible
        an unknown criterion, or a value that is not above zero
    """
    values = dict(packaged())
    for name, value in (changes or {}).items():
        _refuse_unknown(name, value, tuple(values))
        values[name] = value
    return tuple(
        Tier(
            name=name,
            cardiac_index_min_l_min_m2=values[f"{name}_cardiac_index_min"],
            la_mean_max_mmhg=values[f"{name}_la_mean_max"],
            arterial_mean_min_mmhg=values[f"{name}_arterial_mean_min"],
        )
        for name in NAMES
    )


def laxer_comfort(tiers: tuple[Tier, ...]) -> bool:
    """Whether the comfortable tier asks less than the survivable one in some criterion."""
    low, high = tiers
    return (
        high.cardiac_index_min_l_min_m2 < low.cardiac_index_min_l_min_m2
        or high.la_mean_max_mmhg > low.la_mean_max_mmhg
        or high.arterial_mean_min_mmhg < low.arterial_mean_min_mmhg
    )


def _refuse_unknown(name: str, value: float, known: tuple[str, ...]) -> None:
    if name not in known:
        near = get_close_matches(name, known, n=1)
        raise RouteNotPossible(
            "there is no such criterion",
            code="unknown_criterion",
            where="criteria",
            value=name,
            remedy=near[0] if near else ", ".join(known),
        )
    if not value > 0.0:
        raise RouteNotPossible(
            "a criterion must be above zero",
            code="criterion_not_positive",
            where=name,
            value=value,
            remedy="a positive number",
        )
