"""Whether a banded ventricle is ready for the second stage, by thresholds of banded ventricles.

Every threshold asked for was made in ventricles prepared by a band (``norms.thresholds``); none of
an unbanded newborn or of corrected transposition is used. Computed values stand in for the method a
threshold was made with: masses and walls on the scale of echo, pressures as a catheter would read.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from inseries.base.errors import RouteNotPossible
from inseries.desk.readouts import predicted_stress_kdyn_cm2, shell_thickness_mm
from inseries.norms.thresholds import Population, Threshold, thresholds_for

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

    from inseries.prior.forecast import Day
    from inseries.prior.traits import Floats

# chosen: a pressure ratio says nothing in the first days after a band, when the wall has not grown
LEAST_BAND_DAYS = 2.0
WORDS: Mapping[str, str] = {
    "pressure_ratio_0_83": "pressure against the right ventricle",
    "predicted_stress_120": "stress if it bore the body's pressure",
    "wall_4_mm": "thickness of the wall",
    "banded_mass_49_g_m2": "mass of the wall",
    "banded_ef_52_pct": "ejection",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """One criterion: the threshold, in plain words, and the limit that is used."""

    threshold: Threshold
    what: str
    limit: float


@lru_cache(maxsize=1)
def usual_limits() -> Mapping[str, float]:
    """Limit of every criterion by the name of its threshold."""
    return {item.name: item.limit.value for item in _banded()}


def asked(limits: Mapping[str, float] | None = None) -> tuple[Asked, ...]:
    """Criteria of readiness.

    Parameters
    ----------
    limits : limits by name of threshold, in place of the published ones

    Returns
    -------
    tuple of Asked

    Raises
    ------
    RouteNotPossible
        an unknown criterion, or a limit that is not above zero
    """
    for name, limit in (limits or {}).items():
        _refuse_unknown(name, limit)
    used = {**usual_limits(), **(limits or {})}
    return tuple(
        Asked(threshold=item, what=WORDS.get(item.name, item.name), limit=used[item.name])
        for item in _banded()
    )


def ready_by_criterion(
    days: Sequence[Day],
    criteria: tuple[Asked, ...],
    *,
    echo_over_cmr: Floats,
    load_mmhg: Floats,
    banded_day: float,
) -> dict[str, NDArray[np.bool_]]:
    """Whether each draw meets each criterion on each day.

    Parameters
    ----------
    days : days of a forecast under a band
    criteria : from ``asked``
    echo_over_cmr : array, shape (n,), carries masses to the scale of echo
    load_mmhg : array, shape (n,), diastolic pressure of the body that the ventricle is to bear;
        taken before a shunt, which lowers it and will be closed
    banded_day : age at the band, days

    Returns
    -------
    dict of name of threshold to array of bool, shape (days, n); in the first two days after the
    band the pressure ratio does not count
    """
    found: dict[str, list[NDArray[np.bool_]]] = {item.threshold.name: [] for item in criteria}
    for day in days:
        values = measured(day, echo_over_cmr, load_mmhg)
        for item in criteria:
            value = values[item.threshold.quantity]
            upward = item.threshold.direction == "at_least"
            met = value >= item.limit if upward else value <= item.limit
            early = day.age_days - banded_day < LEAST_BAND_DAYS
            if early and item.threshold.quantity == "lv_rv_systolic_pressure_ratio":
                met = np.zeros_like(met)
            found[item.threshold.name].append(met)
    return {name: np.array(rows) for name, rows in found.items()}


def measured(day: Day, echo_over_cmr: Floats, load_mmhg: Floats) -> dict[str, Floats]:
    """What thresholds of banded ventricles speak of, by quantity; arrays, shape (n,)."""
    mass = day.walls.left.mass_g * echo_over_cmr
    cavity = day.readings.end_diastolic_ml("LV")
    wall = shell_thickness_mm(mass, cavity)
    return {
        "lv_rv_systolic_pressure_ratio": day.readings.pressure_ratio,
        "lv_wall_mm": wall,
        "lv_predicted_stress_kdyn_cm2": predicted_stress_kdyn_cm2(load_mmhg, cavity, wall),
        "lv_mass_g_m2": mass / day.surface_m2,
        "lv_ef_pct": day.readings.ejection_pct("LV"),
    }


def first_days(met: NDArray[np.bool_], ages_days: Sequence[float]) -> Floats:
    """First age at which a draw meets what is asked; infinite where it never does.

    Parameters
    ----------
    met : array of bool, shape (days, n)
    ages_days : ages of the days

    Returns
    -------
    array, shape (n,)
    """
    first = np.argmax(met, axis=0)
    return np.where(met.any(axis=0), np.asarray(ages_days, dtype=np.float64)[first], np.inf)


def _refuse_unknown(name: str, limit: float) -> None:
    if name not in usual_limits():
        raise RouteNotPossible(
            "there is no such criterion of readiness",
            code="unknown_criterion",
            where="criteria",
            value=name,
            remedy=", ".join(usual_limits()),
        )
    if not limit > 0.0:
        raise RouteNotPossible(
            "a criterion must be above zero",
            code="criterion_not_positive",
            where=name,
            value=limit,
            remedy="a positive number",
        )


def _banded() -> tuple[Threshold, ...]:
    return thresholds_for(Population.PREPARED_AFTER_BAND)
