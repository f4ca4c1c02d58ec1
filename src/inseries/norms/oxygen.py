"""How much oxygen a resting child uses."""

from __future__ import annotations

from dataclasses import replace
from math import log
from typing import TYPE_CHECKING, Literal, cast

from inseries.base.errors import NormsError
from inseries.base.numbers import Provenance
from inseries.norms.lms import known_sex
from inseries.norms.tables import age_outside, at_age, nodes, rows

if TYPE_CHECKING:
    from inseries.base.numbers import Number

TABLE = "oxygen.toml"

# chosen: 102 (evans1978) and 133 mL/min/m2 (lundell1996) at one size are a quarter apart
SPREAD = 0.25
LAFARGE_YEARS = (3.0, 40.0)  # published: rutledge2010, the ages it was made for


def consumption_ml_min_kg(age_days: float) -> Number:
    """Oxygen that a healthy infant uses at rest and warm, per weight.

    Parameters
    ----------
    age_days : float, days, 0 to 60

    Returns
    -------
    Number, mL/min/kg; sd is a quarter of the value, since two sources differ by as much at one
    size: the need of one baby is a spread, never a constant. *Source* hill_robinson1968, evans1978

    Raises
    ------
    NormsError outside the table
    """
    rest = at_age(TABLE, "consumption", age_days)
    return replace(
        rest,
        sd=SPREAD * rest.value,
        provenance=Provenance.DERIVED,
        because=f"{rest.because}; spread of a quarter chosen",
    )


def consumption_at_catheter_ml_min_m2(age_days: float) -> Number:
    """Oxygen consumption as measured in infants with heart disease, per body surface.

    Parameters
    ----------
    age_days : float, days, 0 to 365; one value to 3 months, one to 12 months

    Returns
    -------
    Number, mL/min/m². *Source* lundell1996

    Raises
    ------
    NormsError outside the table
    """
    classes = nodes(TABLE, "at_catheter")
    for span in classes:
        if 0.0 <= age_days <= span.age_days:
            return span.number
    raise age_outside("oxygen consumption at catheter", age_days, 0.0, classes[-1].age_days)


def lafarge_ml_min_m2(
    sex: Literal["female", "male"], age_years: float, heart_rate_per_min: float
) -> float:
    """Oxygen consumption from age and heart rate, from three years on.

    Parameters
    ----------
    sex : ``"female"`` or ``"male"``
    age_years : float, years, 3 to 40
    heart_rate_per_min : float, /min

    Returns
    -------
    float, mL/min/m². *Source* lafarge1970

    Raises
    ------
    NormsError, code ``age_outside_table``, past 40 years and under three: there it
    overestimates by 53 ± 52 % (rutledge2010)
    """
    if not LAFARGE_YEARS[0] <= age_years <= LAFARGE_YEARS[1]:
        raise NormsError(
            "this equation was made from three to forty years, and overestimates before",
            code="age_outside_table",
            where="oxygen consumption",
            value=age_years,
            unit="a",
            remedy="a measured consumption, or the reference by age with its spread.",
        )
    terms = cast("dict[str, float]", rows(TABLE)[f"lafarge_{known_sex(sex)}"]["terms"])
    at_rest = terms["constant"] + terms["log_age_years"] * log(age_years)
    return at_rest + terms["heart_rate"] * heart_rate_per_min
