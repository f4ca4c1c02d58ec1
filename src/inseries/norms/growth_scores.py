"""Weight and length of a child against every growth reference that holds at its age."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from inseries.base.errors import NormsError
from inseries.norms import growth
from inseries.norms.later_growth import DAYS_PER_MONTH, cdc_2000_curve, who_2007_curve
from inseries.norms.lms import Lms, known_sex, positive, restricted

if TYPE_CHECKING:
    from inseries.norms.lms import Measure, Sex

FIRST_CDC_DAY = 24.0 * DAYS_PER_MONTH  # published: cdc2000, its first row
UNITS = {"weight": "kg", "length": "cm"}


@dataclass(frozen=True, slots=True, kw_only=True)
class GrowthScore:
    """One reference's answer.

    Parameters
    ----------
    source : str, bibliography key
    z : float or None where the reference has none beyond three deviations
    median : float, in kg or cm
    """

    source: str
    z: float | None
    median: float


def growth_scores(
    measure: Measure, sex: Sex, age_days: float, value: float
) -> tuple[GrowthScore, ...]:
    """Z of a weight or length by every reference that holds, the WHO's first.

    Parameters
    ----------
    measure : ``"weight"`` (kg) or ``"length"`` (cm; lying to day 730, standing from day 731)
    sex : ``"female"`` or ``"male"``
    age_days : float, days, birth to 20 years
    value : float, in kg or cm

    Returns
    -------
    tuple of GrowthScore: one to two years, two from then on where both have a table; they are never
    averaged. Weight has no WHO answer past ten years. *Source* who2006, who2007, cdc2000

    Raises
    ------
    NormsError, code ``age_outside_table``, ``sex_unknown`` or ``not_positive``
    """
    positive(measure, value, UNITS[measure])
    found = _holding(measure, sex, age_days)
    if found:
        return tuple(
            GrowthScore(source=source, z=_z(lms, value), median=lms.median)
            for source, lms in found.items()
        )
    raise NormsError(
        "no growth reference at this age",
        code="age_outside_table",
        where=measure,
        value=age_days,
        unit="d",
        remedy="an age from birth to 20 years; past that, say the value itself.",
    )


def _holding(measure: Measure, sex: Sex, age_days: float) -> dict[str, Lms]:
    """LMS of every reference at an age."""
    known_sex(sex)
    found: dict[str, Lms] = {}
    if 0.0 <= age_days <= growth.LAST_DAY:
        found["who2006"] = growth.lms(measure, sex, age_days)
    if age_days < FIRST_CDC_DAY:
        return found  # without reading the tables of older children
    for source, curve in (
        ("who2007", who_2007_curve(measure, sex)),
        ("cdc2000", cdc_2000_curve(measure, sex)),
    ):
        if curve.ages[0] <= age_days <= curve.ages[-1]:
            found[source] = curve.at(age_days, measure)
    return found


def _z(lms: Lms, value: float) -> float | None:
    try:
        return restricted(lms.z(value))
    except NormsError:
        return None
