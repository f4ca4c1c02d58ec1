"""Skewness, median and variation of a growth reference, and what may be done with them."""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, log
from typing import Literal

from inseries.base.errors import NormsError

Sex = Literal["female", "male"]
Measure = Literal["weight", "length"]

Z_LIMIT = 3.0  # published: who2006, centiles by LMS are restricted to three deviations


@dataclass(frozen=True, slots=True, kw_only=True)
class Lms:
    """Skewness, median and coefficient of variation at one age."""

    skewness: float
    median: float
    variation: float

    def value(self, z: float) -> float:
        """The measurement at a z-score."""
        if self.skewness == 0.0:
            return self.median * exp(self.variation * z)
        return self.median * (1.0 + self.skewness * self.variation * z) ** (1.0 / self.skewness)

    def z(self, value: float) -> float:
        """The z-score of a measurement."""
        ratio = value / self.median
        if self.skewness == 0.0:
            return log(ratio) / self.variation
        return (ratio**self.skewness - 1.0) / (self.skewness * self.variation)


def between(before: Lms, after: Lms, share: float) -> Lms:
    """The values on the straight line between two ages."""

    def mix(a: float, b: float) -> float:
        return a + share * (b - a)

    return Lms(
        skewness=mix(before.skewness, after.skewness),
        median=mix(before.median, after.median),
        variation=mix(before.variation, after.variation),
    )


def restricted(z: float) -> float:
    """A z-score within three deviations; beyond them it is refused."""
    if abs(z) <= Z_LIMIT:
        return z
    raise NormsError(
        "beyond three deviations the growth standard gives no z-score by its equation",
        code="beyond_three_deviations",
        where="growth",
        value=round(z, 2),
        remedy="say 'beyond 3 SD', and check weight, age and gestation.",
    )


def positive(what: str, value: float, unit: str) -> float:
    """A measurement above zero; anything else is refused."""
    if value > 0.0:
        return value
    raise NormsError(
        f"a {what} is above zero",
        code="not_positive",
        where="growth",
        value=value,
        unit=unit,
        remedy="the measured value.",
    )


def known_sex(sex: str) -> str:
    """A girl or a boy; the references have no third table."""
    if sex in {"female", "male"}:
        return sex
    raise NormsError(
        "the growth standards are for girls and for boys",
        code="sex_unknown",
        where="growth",
        value=sex,
        remedy="female or male.",
    )
