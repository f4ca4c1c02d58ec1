"""Oxygen consumption by every published equation that holds for a child, side by side."""

from __future__ import annotations

from dataclasses import dataclass
from math import log
from typing import TYPE_CHECKING, cast

from inseries.base.errors import NormsError
from inseries.base.numbers import Number
from inseries.norms.oxygen import (
    TABLE,
    consumption_at_catheter_ml_min_m2,
    consumption_ml_min_kg,
)
from inseries.norms.tables import number, rows

if TYPE_CHECKING:
    from collections.abc import Callable

    from inseries.norms.size_scores import Child

LAST_REST_DAY = 60.0  # published: hill_robinson1968, its last age
LAST_CATHETER_DAY = 365.0  # published: lundell1996, its last age class
UNIT = "mL/min/m2"


@dataclass(frozen=True, slots=True, kw_only=True)
class Consumption:
    """One answer to how much oxygen a child uses.

    Parameters
    ----------
    sources : tuple of str, bibliography keys
    people : str, whom it was made in
    per_surface : Number, mL/min/m², with ``sd`` where printed
    """

    sources: tuple[str, ...]
    people: str
    per_surface: Number


def consumptions_for(
    child: Child,
    heart_rate_per_min: float,
    *,
    single_ventricle: bool = False,
    critically_ill: bool = False,
) -> tuple[Consumption, ...]:
    """Oxygen consumption by every reference that holds at this age.

    Parameters
    ----------
    child : Child
    heart_rate_per_min : float, /min
    single_ventricle, critically_ill : bool, terms of one of the equations

    Returns
    -------
    tuple of Consumption; in a newborn they span from about 100 to 160, so the need of one child is
    a spread and never a constant. LaFarge's equation is not among them under three years.
    *Source* evans1978, hill_robinson1968, lundell1996, lafarge1970, seckeler2015

    Raises
    ------
    NormsError, code ``not_positive`` or ``age_outside_table``
    """
    if heart_rate_per_min <= 0.0:
        raise NormsError(
            "a heart rate is above zero",
            code="not_positive",
            where="oxygen consumption",
            value=heart_rate_per_min,
            unit="/min",
            remedy="the measured rate.",
        )
    terms = _terms(child, heart_rate_per_min, single_ventricle, critically_ill)
    found = (*_measured(child), *_equations(child, terms))
    if found:
        return tuple(found)
    raise NormsError(
        "no reference for oxygen consumption at this age",
        code="age_outside_table",
        where="oxygen consumption",
        value=child.age_days,
        unit="d",
        remedy="a measured consumption, or an age from birth to 59 years.",
    )


def _measured(child: Child) -> list[Consumption]:
    """What was measured at rest and at catheterisation, per age class."""
    found: list[Consumption] = []
    if 0.0 <= child.age_days <= LAST_REST_DAY:
        rest = consumption_ml_min_kg(child.age_days)
        per_surface = child.weight_kg / child.surface_m2()
        spread = (rest.sd or 0.0) * per_surface
        moved = Number(
            value=rest.value * per_surface,
            unit=UNIT,
            provenance=rest.provenance,
            because=rest.because,
            sd=spread,
        )
        found.append(_answer(("hill_robinson1968", "evans1978"), "healthy infants at rest", moved))
    if 0.0 <= child.age_days <= LAST_CATHETER_DAY:
        at_catheter = consumption_at_catheter_ml_min_m2(child.age_days)
        found.append(_answer(("lundell1996",), "infants with heart disease, measured", at_catheter))
    return found


def _equations(child: Child, terms: dict[str, Callable[[], float]]) -> list[Consumption]:
    found: list[Consumption] = []
    for row in rows(TABLE).values():
        if row["of"] == "equation" and _holds(row, child):
            factors = cast("dict[str, float]", row["terms"])
            value = sum(factor * terms[name]() for name, factor in factors.items())
            made = number({**row, "value": value})
            found.append(_answer((made.because,), str(row["people"]), made))
    return found


def _holds(row: dict[str, object], child: Child) -> bool:
    first, last = cast("list[float]", row["ages"])
    return first <= child.age_years <= last and row.get("sex", child.sex) == child.sex


def _terms(
    child: Child, heart_rate_per_min: float, single_ventricle: bool, critically_ill: bool
) -> dict[str, Callable[[], float]]:
    return {
        "constant": lambda: 1.0,
        "heart_rate": lambda: heart_rate_per_min,
        "length_cm": lambda: child.length_cm,
        "weight_kg": lambda: child.weight_kg,
        "surface_m2": child.surface_m2,
        "log_age_years": lambda: log(child.age_years),
        "log_weight_kg": lambda: log(child.weight_kg),
        "single_ventricle": lambda: float(single_ventricle),
        "critically_ill": lambda: float(critically_ill),
    }


def _answer(sources: tuple[str, ...], people: str, per_surface: Number) -> Consumption:
    return Consumption(sources=sources, people=people, per_surface=per_surface)
