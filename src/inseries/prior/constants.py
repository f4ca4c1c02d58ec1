"""The numbers a baby is built from, packaged or under trial by calibration."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from inseries.base.numbers import Number, read_numbers
from inseries.circuit.newborn import newborn_values
from inseries.course.laws import every_law

if TYPE_CHECKING:
    from collections.abc import Mapping


@lru_cache(maxsize=1)
def rule_numbers() -> dict[str, Number]:
    """Numbers of regulation and slow change, with their origins; fitted over packaged."""
    package = "inseries.prior"
    return read_numbers(package, "regulation.toml") | read_numbers(package, "fitted.toml")


@lru_cache(maxsize=1)
def rule_values() -> Mapping[str, float]:
    """The same without their origins."""
    return MappingProxyType({name: number.value for name, number in rule_numbers().items()})


@dataclass(frozen=True, slots=True, kw_only=True)
class Constants:
    """Numbers of the reference newborn, of regulation, and of each growth law by its name."""

    newborn: Mapping[str, float] = field(default_factory=newborn_values)
    rules: Mapping[str, float] = field(default_factory=rule_values)
    laws: Mapping[str, Mapping[str, float]] = field(default_factory=every_law)

    @property
    def law(self) -> Mapping[str, float]:
        """Those of the law by mean stress."""
        return self.laws["mean_stress"]
