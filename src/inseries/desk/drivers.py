"""What the window hangs on, in days, and what to measure again."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from inseries.prior.traits import Floats, spreads

if TYPE_CHECKING:
    from inseries.prior.narrow import Narrowed
    from inseries.prior.forecast import Day

# chosen: how many are named
MOST_DRIVERS, MOST_MEASUREMENTS = 5, 3
# chosen: effects below these are not worth a line: days, share of the spread explained
LEAST_DAYS, LEAST_SHARE = 1.0, 0.03

WORDS = {
    "lv_mass": "the left ventricle were 10 % heavier",
    "lv_cavity": "the left cavity were 10 % larger",
    "muscle_strength": "the muscle were 8 % stronger",
    "stiffness": "the left ventricle were 20 % stiffer",
    "lung_resistance": "lung resistance were 40 % higher",
    "pressure_target": "arterial pressure were held 8 % higher",
    "output_target": "the body asked for 12 % more flow",
    "set_point": "the wall kept its mass only at 8 % more stress",
    "loss_rate": "the wall lost mass half as fast again",
    "echo_over_cmr": "echo overrated the mass by 10 % more",
    "duct": "the duct were 20 % wider",
    "outflow": "the left outflow were 30 % wider",
    "rv_mass": "the right ventricle were 12 % heavier",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Driver:
    """One thing that moves the window (days for a usual difference between babies)."""

    name: str
    effect_days: float
    words: str


def drivers(today: Narrowed, chance: Floats, ages: Floats, horizon: float) -> tuple[Driver, ...]:
    """Traits that move the day at which half would be lost, by linear regression over draws.

    Parameters
    ----------
    today : narrowed draws
    chance : array, shape (n, days), one tier
    ages, horizon : days

    Returns
    -------
    tuple of Driver, largest first; the effect is for one prior standard deviation of the trait
    """
    days = _half_days(chance, ages, horizon)
    z = today.baby.traits.z
    slopes = _slopes(z, days)
    found = [
        Driver(name=WORDS[trait.name], effect_days=float(slope), words=_days_words(float(slope)))
        for trait, slope in zip(spreads(), slopes, strict=True)
        if trait.name in WORDS and abs(slope) >= LEAST_DAYS
    ]
    return tuple(sorted(found, key=lambda item: -abs(item.effect_days))[:MOST_DRIVERS])


def next_measurements(
    today: Narrowed, chance: Floats, ages: Floats, day: Day
) -> tuple[Driver, ...]:
    """Bedside quantities whose spread over the draws goes with the window's own spread.

    Parameters
    ----------
    today : narrowed draws
    chance : array, shape (n, days), one tier
    ages : days
    day : today's walls and beat

    Returns
    -------
    tuple of Driver; ``effect_days`` is how far one standard deviation of the quantity goes with
    the day at which half would be lost
    """
    days = _half_days(chance, ages, float(ages[-1]))
    r, walls = day.readings, day.walls
    asked = {
        "LV mass by echo": walls.left.mass_g * today.baby.traits["echo_over_cmr"],
        "LV mass by CMR": walls.left.mass_g,
        "LV to RV pressure ratio (septal position, Doppler)": r.pressure_ratio,
        "LV end-diastolic volume": r.end_diastolic_ml("LV"),
        "LV ejection fraction": r.ejection_pct("LV"),
        "left atrial pressure": r.mean_mmhg("LA"),
        "lung artery pressure": r.mean_mmhg("PA"),
    }
    found: list[tuple[float, Driver]] = []
    for name, values in asked.items():
        share, slope = _goes_with(values, days)
        if share >= LEAST_SHARE:
            text = f"explains about {5 * max(round(20 * share), 1)} % of the spread"
            found.append((share, Driver(name=name, effect_days=slope, words=text)))
    found.sort(key=lambda pair: -pair[0])
    return tuple(driver for _, driver in found[:MOST_MEASUREMENTS])


def _half_days(chance: Floats, ages: Floats, horizon: float) -> Floats:
    """Day at which each draw's own chance falls below one half; the horizon where it does not."""
    below = chance < 0.5
    first = np.where(below.any(axis=1), below.argmax(axis=1), -1)
    return np.where(first >= 0, ages[first], horizon)


def _slopes(z: Floats, days: Floats) -> Floats:
    design: Floats = z - z.mean(axis=0)
    normal: Floats = design.T @ design + np.eye(z.shape[1])
    pull: Floats = design.T @ (days - days.mean())
    return np.linalg.solve(normal, pull).astype(np.float64)


def _goes_with(values: Floats, days: Floats) -> tuple[float, float]:
    if values.std() == 0.0 or days.std() == 0.0:
        return 0.0, 0.0
    together = float(np.corrcoef(values, days)[0, 1])
    return together**2, together * float(days.std())


def _days_words(days: float) -> str:
    way = "later" if days > 0.0 else "earlier"
    return f"about {abs(round(days))} days {way}"
