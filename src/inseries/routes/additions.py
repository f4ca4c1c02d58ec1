"""Numbers of what can be added to a circuit, for the reference newborn's size."""

from __future__ import annotations

from functools import lru_cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from inseries.base.numbers import Number, read_numbers

if TYPE_CHECKING:
    from collections.abc import Mapping


@lru_cache(maxsize=1)
def addition_numbers() -> dict[str, Number]:
    """Numbers of coronary bed, septum, sac, support and reflex, with their origins."""
    return read_numbers("inseries.routes", "additions.toml")


@lru_cache(maxsize=1)
def addition_values() -> Mapping[str, float]:
    """The same without their origins."""
    return MappingProxyType({name: number.value for name, number in addition_numbers().items()})
