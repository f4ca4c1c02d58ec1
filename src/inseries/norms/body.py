"""A body from birth to forty years: weight, length and surface, with the reference behind each.

No one reference covers the way, so it is walked in five pieces, each named with the body. Where one
ends and the next begins both are mixed over a stretch of time, so that no body grows or shrinks on
a birthday: see ``SEAMS``.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from inseries.base.errors import NormsError
from inseries.norms import growth
from inseries.norms.later_growth import DAYS_PER_MONTH, cdc_2000, who_2007
from inseries.norms.lms import restricted
from inseries.norms.surface import body_surface_m2

if TYPE_CHECKING:
    from inseries.norms.lms import Measure, Sex

DAYS_PER_YEAR = 365.25  # derived: twelve months of 30.4375 days
LAST_YEAR = 40.0  # chosen: as far as an outlook looks
GROWN_YEARS = 20.0  # published: cdc2000, its last row
# chosen: the 0.7 cm between lying and standing is let go over half a year, so that no child shrinks
LYING_DAYS, STANDING_DAYS = 730.0, 913.0
# chosen: WHO 2006 ends at day 1826, WHO 2007 begins a month later with less spread; half a year on
# either side a straight line leads from one to the other
LAST_WHO_2006, FIRST_WHO_2007 = 54.0 * DAYS_PER_MONTH, 66.0 * DAYS_PER_MONTH
# chosen: WHO 2007 has no weight past ten years; over the year before, both become one
MIX_FROM, MIX_TO = 108.0 * DAYS_PER_MONTH, 120.0 * DAYS_PER_MONTH

# chosen: CDC 2000 was fitted from the 3rd to the 97th centile; at +3 its curve gives a girl 146 kg
CDC_Z_LIMIT = 2.0

WHO_2006, WHO_2007, CDC_2000 = "who2006", "who2007", "cdc2000"
SEAMS = (
    "2 to 2.5 years: from lying length to standing height (WHO 2006), a straight line",
    "4.5 to 5.5 years: from WHO 2006 to WHO 2007, a straight line",
    "9 to 10 years: from WHO 2007 to CDC 2000, since WHO gives no weight past ten, mixed by age",
    "20 years: the last row of CDC 2000 is held to forty; weight that adults put on is not in it",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """Weight, length and surface at an age, and what they rest on.

    Parameters
    ----------
    weight_kg : float, kg
    length_cm : float, cm, lying to two years, standing from two and a half
    surface_m2 : float, m², by Haycock
    references : tuple of str, bibliography keys; two where two are mixed
    held : bool, whether the last row is held because the references have ended
    """

    weight_kg: float
    length_cm: float
    surface_m2: float
    references: tuple[str, ...]
    held: bool = False


def body_at(sex: Sex, age_years: float, z: float = 0.0) -> Body:
    """A usual body at an age, from birth to forty years.

    Parameters
    ----------
    sex : ``"female"`` or ``"male"``
    age_years : float, years, 0 to 40
    z : float, z-score of weight and of length alike, within ±3; past nine years within ±2

    Returns
    -------
    Body. Continuous in age; where the reference changes is in ``SEAMS`` (chosen), and which one
    was used is in ``references``. After 20 years the last row is held, and ``held`` says so.
    *Source* who2006, who2007, cdc2000, haycock1978

    Raises
    ------
    NormsError, code ``age_outside_table``, ``beyond_three_deviations``, ``beyond_two_deviations``
    or ``sex_unknown``
    """
    if not 0.0 <= age_years <= LAST_YEAR:
        raise _no_body(age_years)
    days = min(age_years, GROWN_YEARS) * DAYS_PER_YEAR
    weight, length = (_measure(what, sex, days, restricted(z)) for what in ("weight", "length"))
    return Body(
        weight_kg=weight,
        length_cm=length,
        surface_m2=body_surface_m2(weight, length),
        references=references_at(age_years),
        held=age_years > GROWN_YEARS,
    )


def references_at(age_years: float) -> tuple[str, ...]:
    """Keys of the references that a body of this age rests on, two where they are mixed."""
    days = age_years * DAYS_PER_YEAR
    if days <= LAST_WHO_2006:
        return (WHO_2006,)
    if days < FIRST_WHO_2007:
        return (WHO_2006, WHO_2007)
    if days <= MIX_FROM:
        return (WHO_2007,)
    return (WHO_2007, CDC_2000) if days < MIX_TO else (CDC_2000,)


def _measure(what: Measure, sex: Sex, days: float, z: float) -> float:
    if days <= LAST_WHO_2006:
        return _young(what, sex, days, z)
    if days < FIRST_WHO_2007:
        first = growth.lms(what, sex, LAST_WHO_2006).value(z)
        share = (days - LAST_WHO_2006) / (FIRST_WHO_2007 - LAST_WHO_2006)
        return _mix(first, who_2007(what, sex, FIRST_WHO_2007).value(z), share)
    if days <= MIX_FROM:
        return who_2007(what, sex, days).value(z)
    american = cdc_2000(what, sex, days).value(_fitted(z))
    if days >= MIX_TO:
        return american
    return _mix(
        who_2007(what, sex, days).value(z), american, (days - MIX_FROM) / (MIX_TO - MIX_FROM)
    )


def _young(what: Measure, sex: Sex, days: float, z: float) -> float:
    if what == "weight" or not LYING_DAYS < days < STANDING_DAYS:
        return growth.lms(what, sex, days).value(z)
    lying, standing = (growth.lms(what, sex, day).value(z) for day in (LYING_DAYS, STANDING_DAYS))
    return _mix(lying, standing, (days - LYING_DAYS) / (STANDING_DAYS - LYING_DAYS))


def _fitted(z: float) -> float:
    if abs(z) <= CDC_Z_LIMIT:
        return z
    raise NormsError(
        "past nine years the reference was fitted from the 3rd to the 97th centile only",
        code="beyond_two_deviations",
        where="body",
        value=z,
        remedy=f"a z-score within ±{CDC_Z_LIMIT:g}.",
    )


def _mix(before: float, after: float, share: float) -> float:
    return before + share * (after - before)


def _no_body(age_years: float) -> NormsError:
    return NormsError(
        "no reference for a body at this age",
        code="age_outside_table",
        where="body",
        value=age_years,
        unit="a",
        remedy=f"an age from birth to {LAST_YEAR:g} years; from 20 on the last row is held.",
    )
