"""Stories of babies nobody has measured: the usual body, the usual blood, the usual duct."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from inseries.norms.blood import fetal_haemoglobin, haemoglobin_g_dl
from inseries.norms.growth import length_cm, weight_kg
from inseries.norms.oxygen import consumption_ml_min_kg
from inseries.norms.surface import body_surface_m2
from inseries.prior.story import Story, Track, constant

if TYPE_CHECKING:
    from collections.abc import Callable

    from inseries.norms.growth import Sex

# chosen: ages at which usual tracks are tabulated, days
NODES_DAYS = (
    0.0,
    1.0,
    2.0,
    3.0,
    5.0,
    7.0,
    10.0,
    14.0,
    21.0,
    28.0,
    42.0,
    60.0,
    90.0,
    120.0,
    180.0,
    270.0,
    365.0,
)
# published: pmc4998292, hours 2 to 72, in days and mm; closed by the fourth day
CLOSING_DUCT = Track(
    ages_days=(0.083, 0.25, 0.5, 1.0, 2.0, 3.0, 4.0),
    values=(4.60, 3.37, 2.47, 1.89, 1.61, 1.20, 0.0),
)
# chosen: days a duct takes to close once prostaglandin stops
CLOSING_DAYS = 2.0
# common practice: air, and arterial blood of a settled newborn
USUAL_INSPIRED_FRACTION, USUAL_CARBON_DIOXIDE_MMHG, USUAL_PH = 0.21, 40.0, 7.4
# chosen: age to which the fetal share is tabulated, days; it stays as it is from there
LAST_FETAL_DAY = 120.0
# chosen: in cyanosis the physiological fall of haemoglobin is taken to stop here, g/dL
CYANOTIC_FLOOR_G_DL = 15.0
# chosen: heart rate at rest, /min; the reference newborn's, falling with weight to this power
RATE_AT_REFERENCE, RATE_WEIGHT_POWER, REFERENCE_KG = 148.0, -0.15, 3.5


def plain_story(sex: Sex = "female", weight_z: float = 0.5) -> Story:
    """A term baby with parallel circulations, septum intact, duct closing, nothing done yet.

    Parameters
    ----------
    sex : ``"female"`` or ``"male"``, for the growth standard
    weight_z : weight and length for age, standard deviations, kept all along

    Returns
    -------
    Story
    """
    weight = _tabled(lambda age: weight_kg(sex, age, weight_z))
    length = _tabled(lambda age: length_cm(sex, age, weight_z))
    return Story(
        weight_kg=weight,
        surface_m2=_surface(weight, length),
        heart_rate_per_min=usual_rate(weight),
        haemoglobin_g_dl=cyanotic_haemoglobin(),
        consumption_ml_min_kg=usual_consumption(),
        fetal_share=usual_fetal_share(),
        inspired_fraction=constant(USUAL_INSPIRED_FRACTION),
        carbon_dioxide_mmhg=constant(USUAL_CARBON_DIOXIDE_MMHG),
        ph=constant(USUAL_PH),
        duct_mm=CLOSING_DUCT,
        breaks_days=(4.0,),
    )


def normal_story(sex: Sex = "female", weight_z: float = 0.5) -> Story:
    """A healthy term newborn."""
    cyanosed = plain_story(sex, weight_z)
    return replace(cyanosed, topology="normal", haemoglobin_g_dl=usual_haemoglobin())


def usual_haemoglobin() -> Track:
    """Usual haemoglobin by age, g/dL."""
    return _tabled(lambda age: haemoglobin_g_dl(min(age, 60.0)).value, 60.0)


def cyanotic_haemoglobin() -> Track:
    """Haemoglobin by age in cyanosis, g/dL: as usual, but it stops falling."""
    usual = usual_haemoglobin()
    return replace(usual, values=tuple(max(g, CYANOTIC_FLOOR_G_DL) for g in usual.values))


def usual_consumption() -> Track:
    """Usual oxygen need by age, mL/min/kg."""
    return _tabled(lambda age: consumption_ml_min_kg(min(age, 60.0)).value, 60.0)


def usual_fetal_share() -> Track:
    """Usual fetal share of haemoglobin by age, untransfused."""
    return _tabled(lambda age: fetal_haemoglobin(age).value, LAST_FETAL_DAY)


def usual_rate(weight: Track) -> Track:
    """Heart rate by age for a weight, /min."""
    rates = tuple(
        RATE_AT_REFERENCE * (kg / REFERENCE_KG) ** RATE_WEIGHT_POWER for kg in weight.values
    )
    return Track(ages_days=weight.ages_days, values=rates)


def _tabled(of: Callable[[float], float], last: float = NODES_DAYS[-1]) -> Track:
    ages = tuple(age for age in NODES_DAYS if age <= last)
    return Track(ages_days=ages, values=tuple(of(age) for age in ages))


def _surface(weight: Track, length: Track) -> Track:
    pairs = zip(weight.values, length.values, strict=True)
    return Track(
        ages_days=weight.ages_days,
        values=tuple(body_surface_m2(kg, cm) for kg, cm in pairs),
    )
