"""Breathing and blood pressure from birth to grown: every reference that holds, side by side."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from typing import TYPE_CHECKING, cast

from inseries.base.errors import NormsError
from inseries.base.numbers import Number, Provenance
from inseries.norms.lms import known_sex
from inseries.norms.pressure import arterial_pressure
from inseries.norms.tables import at_age, rows

if TYPE_CHECKING:
    from inseries.norms.lms import Sex

CIRCULATION = "circulation.toml"
BY_AGE = "pressure_by_age.toml"
DAYS_PER_YEAR = 365.25  # derived: twelve months of 30.4375 days
FIRST_KENT_DAY, LAST_KENT_DAY = 1.0, 28.0  # published: kent2007, day 4 held to day 28


@dataclass(frozen=True, slots=True, kw_only=True)
class BloodPressure:
    """One reference of blood pressure by cuff, mmHg.

    Parameters
    ----------
    source : str, bibliography key
    systolic, diastolic : Number, median or mean; ``high`` the 95th centile, ``sd`` where printed
    """

    source: str
    systolic: Number
    diastolic: Number


def breaths_per_min(age_days: float) -> Number:
    """Median breathing rate of healthy children.

    Parameters
    ----------
    age_days : float, days, 0 to 6574 (18 years)

    Returns
    -------
    Number, /min, ``low`` and ``high`` the 10th and 90th centile. *Source* fleming2011

    Raises
    ------
    NormsError outside the table
    """
    return at_age(CIRCULATION, "breaths", age_days)


def pressures_for(sex: Sex, age_days: float) -> tuple[BloodPressure, ...]:
    """Usual blood pressure of a healthy child, by every reference that holds at its age.

    Parameters
    ----------
    sex : ``"female"`` or ``"male"``
    age_days : float, days, 1 to 28, 30 to 274, and 1 to 17 years; from one year on a child of
        median height

    Returns
    -------
    tuple of BloodPressure, newest first; they differ by up to 4 mmHg and are not averaged.
    *Source* kent2007, gemelli1990, flynn2017, nhbpep2004

    Raises
    ------
    NormsError, code ``age_outside_table``, between and beyond those ages
    """
    years = age_days / DAYS_PER_YEAR
    found = [each for source in _sources() if (each := _by_age(source, known_sex(sex), years))]
    if FIRST_KENT_DAY <= age_days <= LAST_KENT_DAY:
        newborn = arterial_pressure(age_days)
        found.append(
            BloodPressure(source="kent2007", systolic=newborn.systolic, diastolic=newborn.diastolic)
        )
    if not found:
        raise NormsError(
            "no reference for blood pressure at this age",
            code="age_outside_table",
            where="blood pressure",
            value=age_days,
            unit="d",
            remedy="an age from 1 to 28 days, 1 to 9 months, or 1 to 17 years.",
        )
    return tuple(found)


def _sources() -> tuple[str, ...]:
    return tuple(dict.fromkeys(str(row["source"]) for row in rows(BY_AGE).values()))


def _by_age(source: str, sex: str, years: float) -> BloodPressure | None:
    systolic, diastolic = (
        _number(rows(BY_AGE)[f"{source}_{sex}_{of}"], years) for of in ("systolic", "diastolic")
    )
    if systolic is None or diastolic is None:
        return None
    return BloodPressure(source=source, systolic=systolic, diastolic=diastolic)


def _number(row: dict[str, object], years: float) -> Number | None:
    ages = _column(row, "years")
    if not ages[0] <= years <= ages[-1]:
        return None
    after = min(bisect_right(ages, years), len(ages) - 1)
    share = (years - ages[after - 1]) / (ages[after] - ages[after - 1])

    def at(name: str) -> float | None:
        if name not in row:
            return None
        values = _column(row, name)
        return values[after - 1] + share * (values[after] - values[after - 1])

    median = at("median")
    on_row = years in ages
    return Number(
        value=cast("float", median),
        unit=str(row["unit"]),
        provenance=Provenance.PUBLISHED if on_row else Provenance.DERIVED,
        because=str(row["because"]) if on_row else f"straight line between ages: {row['because']}",
        sd=at("sd"),
        high=at("p95"),
    )


def _column(row: dict[str, object], name: str) -> list[float]:
    return cast("list[float]", row[name])
