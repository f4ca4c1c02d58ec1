"""Red cells by age: haemoglobin, haematocrit, the fetal share, and half-saturation pressure."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.norms.tables import at_age

if TYPE_CHECKING:
    from inseries.base.numbers import Number

TABLE = "blood.toml"


def haemoglobin_g_dl(age_days: float) -> Number:
    """Usual haemoglobin of a healthy infant, untransfused.

    Parameters
    ----------
    age_days : float, days, 0 to 60

    Returns
    -------
    Number, g/dL, with deviation. *Source* dallman

    Raises
    ------
    NormsError outside the table
    """
    return at_age(TABLE, "haemoglobin", age_days)


def haematocrit_pct(age_days: float) -> Number:
    """Usual haematocrit of a healthy infant, untransfused.

    Parameters
    ----------
    age_days : float, days, 0 to 60

    Returns
    -------
    Number, %. *Source* dallman

    Raises
    ------
    NormsError outside the table
    """
    return at_age(TABLE, "haematocrit", age_days)


def p50_mmhg(age_days: float) -> Number:
    """Oxygen pressure at which half the haemoglobin is saturated, at term and untransfused.

    Parameters
    ----------
    age_days : float, days, 0 to 6574 (18 years)

    Returns
    -------
    Number, mmHg; a straight line through published classes of age. *Source* dicom_cid3666

    Raises
    ------
    NormsError outside the table
    """
    return at_age(TABLE, "p50", age_days)


def fetal_haemoglobin(age_days: float) -> Number:
    """Share of fetal haemoglobin, untransfused.

    Parameters
    ----------
    age_days : float, days, 0 to 135

    Returns
    -------
    Number, fraction; common teaching, no primary source

    Raises
    ------
    NormsError outside the table
    """
    return at_age(TABLE, "fetal_haemoglobin", age_days)
