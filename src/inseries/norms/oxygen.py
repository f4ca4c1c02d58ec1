"""Oxygen: how haemoglobin binds it, and how much a resting child uses."""

from __future__ import annotations

from dataclasses import replace
from math import asinh, log, sinh, sqrt
from typing import TYPE_CHECKING, Literal

from inseries.base.errors import NormsError
from inseries.base.numbers import Provenance
from inseries.norms.tables import age_outside, at_age, nodes

if TYPE_CHECKING:
    from inseries.base.numbers import Number

TABLE = "oxygen.toml"

LINEAR = 150.0  # published: severinghaus1979, mmHg²
CUBIC = 23400.0  # published: severinghaus1979, mmHg³
ADULT_P50_MMHG = 26.857  # derived: the pressure at which the equation gives one half
# chosen: 102 (evans1978) and 133 mL/min/m2 (lundell1996) at one size are a quarter apart
SPREAD = 0.25
LAFARGE_FROM_YEARS = 3.0  # published: lafarge1970, its patients were three years or older


def saturation_pct(po2_mmhg: float, p50_mmhg: float = ADULT_P50_MMHG) -> float:
    """Haemoglobin saturation at an oxygen pressure.

    Parameters
    ----------
    po2_mmhg : float, mmHg, 0 or more
    p50_mmhg : float, mmHg. The adult curve is stretched along the pressure axis to this
        half-saturation, which keeps its shape: a modelling choice for fetal haemoglobin

    Returns
    -------
    float, %. *Holds* at 37 °C and pH 7.4; within 0.55 of the printed table. *Source*
    severinghaus1979

    Raises
    ------
    NormsError, code ``pressure_outside``
    """
    if po2_mmhg < 0.0 or p50_mmhg <= 0.0:
        raise NormsError(
            "an oxygen pressure is not below zero",
            code="pressure_outside",
            where="saturation",
            value=min(po2_mmhg, p50_mmhg),
            unit="mm[Hg]",
            remedy="the measured pressure in mmHg.",
        )
    p = po2_mmhg * ADULT_P50_MMHG / p50_mmhg
    bound = p * (p * p + LINEAR)
    return 100.0 * bound / (bound + CUBIC)


def po2_mmhg(saturation_pct: float, p50_mmhg: float = ADULT_P50_MMHG) -> float:
    """Oxygen pressure at a saturation: the exact inverse of ``saturation_pct``.

    Parameters
    ----------
    saturation_pct : float, %, from 0 to below 100
    p50_mmhg : float, mmHg

    Returns
    -------
    float, mmHg, the one real root of the cubic. The separate inverse printed by the same author
    does not close the round trip and is not used. *Source* severinghaus1979

    Raises
    ------
    NormsError, code ``saturation_outside``
    """
    if not 0.0 <= saturation_pct < 100.0:
        raise NormsError(
            "a saturation with a pressure lies from 0 to below 100",
            code="saturation_outside",
            where="oxygen pressure",
            value=saturation_pct,
            unit="%",
            remedy="a saturation in %.",
        )
    bound = CUBIC * saturation_pct / (100.0 - saturation_pct)
    half = 2.0 * sqrt(LINEAR / 3.0)
    root = half * sinh(asinh(3.0 * bound / (LINEAR * half)) / 3.0)
    return root * p50_mmhg / ADULT_P50_MMHG


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
    age_years : float, years, 3 or more
    heart_rate_per_min : float, /min

    Returns
    -------
    float, mL/min/m². *Source* lafarge1970

    Raises
    ------
    NormsError, code ``age_outside_table``, under three years: there it overestimates by
    53 ± 52 % (rutledge2010)
    """
    if age_years < LAFARGE_FROM_YEARS:
        raise NormsError(
            "this equation was made from three years on and overestimates before",
            code="age_outside_table",
            where="oxygen consumption",
            value=age_years,
            unit="a",
            remedy="a measured consumption, or the reference by age with its spread.",
        )
    slope = {"female": 17.04, "male": 11.49}[sex]
    return 138.1 - slope * log(age_years) + 0.378 * heart_rate_per_min


def binding_capacity_ml_g() -> Number:
    """Oxygen bound by one gram of saturated haemoglobin; 1.34 to 1.39 mL/g are in use.

    Returns
    -------
    Number, mL/g. *Source* dijkhuizen1977
    """
    return at_age(TABLE, "binding_capacity", 0.0)


def dissolved_ml_dl_mmhg() -> Number:
    """Oxygen dissolved in blood per pressure.

    Returns
    -------
    Number, mL/dL/mmHg; common practice
    """
    return at_age(TABLE, "dissolved", 0.0)
