"""Pressures, heart rate and output of a healthy newborn, and the duct of the first three days."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from inseries.norms.tables import at_age

if TYPE_CHECKING:
    from inseries.base.numbers import Number

CIRCULATION = "circulation.toml"
FIRST_DAYS = "first_days.toml"


@dataclass(frozen=True, slots=True, kw_only=True)
class ArterialPressure:
    """Systolic, diastolic and mean arterial pressure, mmHg."""

    systolic: Number
    diastolic: Number
    mean: Number


def arterial_pressure(age_days: float) -> ArterialPressure:
    """Usual arterial pressure of a healthy newborn at term, by cuff.

    Parameters
    ----------
    age_days : float, days, 1 to 28; after day 4 the value of day 4 is held (chosen)

    Returns
    -------
    ArterialPressure, medians. *Source* kent2007

    Raises
    ------
    NormsError outside the table
    """
    return ArterialPressure(
        systolic=at_age(CIRCULATION, "systolic", age_days),
        diastolic=at_age(CIRCULATION, "diastolic", age_days),
        mean=at_age(CIRCULATION, "mean", age_days),
    )


def heart_rate_per_min(age_days: float) -> Number:
    """Median heart rate of healthy children.

    Parameters
    ----------
    age_days : float, days, 0 to 6574 (18 years)

    Returns
    -------
    Number, /min, ``low`` and ``high`` the 10th and 90th centile where read. *Source* fleming2011

    Raises
    ------
    NormsError outside the table
    """
    return at_age(CIRCULATION, "heart_rate", age_days)


def output_ml_min_kg(age_days: float) -> Number:
    """Usual output of one ventricle in the first week, per weight, by Doppler above 2 500 g.

    Parameters
    ----------
    age_days : float, days, 0 to 7

    Returns
    -------
    Number, mL/min/kg, with the printed limits of normal. *Source* walther1985

    Raises
    ------
    NormsError outside the table
    """
    return at_age(CIRCULATION, "output", age_days)


def pulmonary_systolic_mmhg(age_days: float) -> Number:
    """Systolic lung artery pressure of healthy newborns, 2 to 72 hours.

    Parameters
    ----------
    age_days : float, days, 0.083 to 3

    Returns
    -------
    Number, mmHg. *Source* pmc4998292

    Raises
    ------
    NormsError outside the table
    """
    return at_age(FIRST_DAYS, "pulmonary_systolic", age_days)


def pulmonary_mean_mmhg(age_days: float) -> Number:
    """Mean lung artery pressure of healthy newborns, 2 to 72 hours.

    Parameters
    ----------
    age_days : float, days, 0.083 to 3

    Returns
    -------
    Number, mmHg. *Source* pmc4998292

    Raises
    ------
    NormsError outside the table
    """
    return at_age(FIRST_DAYS, "pulmonary_mean", age_days)


def duct_mm(age_days: float) -> Number:
    """Diameter of a duct that is still open, without prostaglandin, 2 to 72 hours.

    Parameters
    ----------
    age_days : float, days, 0.083 to 3

    Returns
    -------
    Number, mm. *Source* pmc4998292

    Raises
    ------
    NormsError outside the table
    """
    return at_age(FIRST_DAYS, "duct", age_days)


def duct_closed(age_days: float) -> Number:
    """Share of healthy newborns whose duct has closed.

    Parameters
    ----------
    age_days : float, days, 1 to 3

    Returns
    -------
    Number, fraction. *Source* pmc4998292

    Raises
    ------
    NormsError outside the table
    """
    return at_age(FIRST_DAYS, "duct_closed", age_days)
