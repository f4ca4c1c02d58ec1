"""Blood by age: haemoglobin, haematocrit, fetal share before and after transfusion, volume."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.base.errors import NormsError
from inseries.norms.lms import known_sex
from inseries.norms.tables import at_age

if TYPE_CHECKING:
    from inseries.base.numbers import Number
    from inseries.norms.lms import Sex

TABLE = "blood.toml"
LAST_COMMON_DAY = 3287.3  # published: dallman, the middle of its last band for both sexes
LEAST_OWN_CELLS = 0.02  # chosen: what an exchange of the whole blood leaves of a child's own cells


def haemoglobin_g_dl(age_days: float, sex: Sex | None = None) -> Number:
    """Usual haemoglobin of a healthy person, untransfused.

    Parameters
    ----------
    age_days : float, days, birth to 40 years
    sex : ``"female"`` or ``"male"``, needed past nine years, where boys and girls part

    Returns
    -------
    Number, g/dL, with deviation. *Source* dallman

    Raises
    ------
    NormsError, code ``age_outside_table`` or ``sex_unknown``
    """
    if age_days <= LAST_COMMON_DAY:
        return at_age(TABLE, "haemoglobin", age_days)
    return at_age(TABLE, f"haemoglobin_{known_sex(sex or 'not stated')}", age_days)


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


def volume_ml_kg() -> Number:
    """Blood of a term newborn, per weight.

    Returns
    -------
    Number, mL/kg. *Source* brans1981
    """
    return at_age(TABLE, "volume", 0.0)


def fetal_share_after_transfusion(
    share: float, transfused_ml_kg: float, haemoglobin_g_dl: float
) -> float:
    """Share of fetal haemoglobin once adult red cells have been given.

    The donor's haemoglobin takes the place of as much of the child's own.

    Parameters
    ----------
    share : float, fraction, before
    transfused_ml_kg : float, mL/kg of packed red cells
    haemoglobin_g_dl : float, g/dL, the child's, after

    Returns
    -------
    float, fraction; a child's own cells are never all gone

    Raises
    ------
    NormsError, code ``not_positive``, for haemoglobin that is not above zero
    """
    if haemoglobin_g_dl <= 0.0 or transfused_ml_kg < 0.0:
        raise NormsError(
            "haemoglobin is above zero, and a transfusion not below it",
            code="not_positive",
            where="fetal share after transfusion",
            value=min(haemoglobin_g_dl, transfused_ml_kg),
            remedy="g/dL and mL/kg as they were given.",
        )
    given = transfused_ml_kg * at_age(TABLE, "donor_haemoglobin", 0.0).value
    own = volume_ml_kg().value * haemoglobin_g_dl
    return share * max(1.0 - given / own, LEAST_OWN_CELLS)
