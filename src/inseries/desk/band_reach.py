"""Limits of readiness that no banded ventricle can meet are refused, with the nearest that one can.

Asked is the most favourable ventricle of the prior at the ceiling of growth, small and wide,
without a band and behind the tightest published one, a month and nearly a year old: where even the
best of these misses a limit, nothing can meet it.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import product
from typing import TYPE_CHECKING

import numpy as np

from inseries.base.errors import RouteNotPossible
from inseries.course.laws import every_law
from inseries.course.walls import Walls, wall
from inseries.desk.band_plan import band_numbers
from inseries.desk.band_search import tightest_lumen_mm
from inseries.desk.readiness import asked, measured
from inseries.prior.actions import LAST_DAY
from inseries.prior.baby import Baby
from inseries.prior.forecast import Day
from inseries.prior.plain import plain_story
from inseries.prior.traits import Traits, spreads
from inseries.routes import with_band

if TYPE_CHECKING:
    from collections.abc import Mapping

    from inseries.prior.traits import Floats

# chosen: deviations to the good in what a banded ventricle is judged by
FAVOURABLE = {"muscle_strength": 2.0, "echo_over_cmr": 2.0}
# chosen: deviations of cavity and of the body's pressure that are tried, small to large
EITHER_WAY = {"lv_cavity": (-2.0, 0.0, 2.0), "pressure_target": (-2.0, 0.0, 2.0)}
# chosen: ages at which it is asked, days; the last one is that of the last band
AGES_DAYS = (28.0, LAST_DAY - 28.0)
# chosen: digits of a limit in a refusal
DIGITS = 2


def refuse_beyond_reach(changes: Mapping[str, float] | None) -> None:
    """Refuses changed limits of readiness that no banded ventricle meets.

    Parameters
    ----------
    changes : limit by name of threshold, as a user gave them; known ones

    Raises
    ------
    RouteNotPossible
        code ``criteria_beyond_reach``, with the nearest limit that can be met
    """
    for item in asked(changes):
        name, limit = item.threshold.name, item.limit
        if name not in (changes or {}):
            continue
        upward = item.threshold.direction == "at_least"
        low, high = reachable()[item.threshold.quantity]
        best = high if upward else low
        if limit > best if upward else limit < best:
            raise RouteNotPossible(
                f"nothing can meet this limit of the {item.what}: the most favourable banded "
                "ventricle, grown to the ceiling, misses it",
                code="criteria_beyond_reach",
                where=name,
                value=limit,
                unit=item.threshold.limit.unit,
                remedy=f"{_nearest(best, upward=upward):g} or {'less' if upward else 'more'}; "
                f"{item.threshold.limit.value:g} is the published limit",
            )


@lru_cache(maxsize=1)
def reachable() -> Mapping[str, tuple[float, float]]:
    """Least and greatest of each quantity of readiness over the favourable ventricles."""
    found: dict[str, list[Floats]] = {}
    for age in AGES_DAYS:
        for quantity, values in _measured(age).items():
            found.setdefault(quantity, []).append(values)
    return {
        quantity: (float(np.min(values)), float(np.max(values)))
        for quantity, values in found.items()
    }


def _measured(age_days: float) -> dict[str, Floats]:
    """Every quantity without a band and behind the tightest, by member."""
    baby = Baby(_traits(), plain_story())
    walls = _grown(baby, age_days)
    bare = baby.circuit(age_days, walls)
    held = baby.regulation(age_days)
    tightest = tightest_lumen_mm(baby.story.weight_kg(age_days))
    wide = band_numbers()["widest_lumen"]
    echo = baby.traits["echo_over_cmr"]
    told: dict[str, list[Floats]] = {}
    load: Floats | None = None
    for lumen in (wide, tightest):
        seen = baby.read(with_band(bare, np.full(baby.traits.members, lumen)), held)
        load = seen.diastolic_mmhg("AoU") if load is None else load
        surface = baby.story.surface_m2(age_days)
        day = Day(age_days=age_days, surface_m2=surface, walls=walls, readings=seen)
        for quantity, values in measured(day, echo, load).items():
            told.setdefault(quantity, []).append(values)
    settled = [row for row in range(baby.traits.members) if row not in baby.tally.failed]
    return {quantity: np.array(values)[:, settled] for quantity, values in told.items()}


def _traits() -> Traits:
    """Favourable in what is given, every mixture of the rest."""
    ways = tuple(product(*EITHER_WAY.values()))
    z = np.zeros((len(ways), len(spreads())))
    for column, trait in enumerate(spreads()):
        z[:, column] = FAVOURABLE.get(trait.name, 0.0)
        if trait.name in EITHER_WAY:
            z[:, column] = [way[list(EITHER_WAY).index(trait.name)] for way in ways]
    return Traits(z=z)


def _grown(baby: Baby, age_days: float) -> Walls:
    """The left wall at the ceiling of growth, both cavities of the body's size."""
    surface = baby.story.surface_m2(age_days)
    birth, body = baby.walls_at_birth(), baby.body()
    most = max(constants["largest_mass_left"] for constants in every_law().values())
    right = birth.right.mass_g * surface / baby.story.surface_m2(0.0)
    left = np.full(baby.traits.members, most * surface)
    return Walls(
        left=wall(left, body.usual_volume_ml(age_days, "left")),
        right=wall(right, body.usual_volume_ml(age_days, "right")),
    )


def _nearest(best: float, *, upward: bool) -> float:
    """The best, rounded to the side on which it is met."""
    step = 10.0**-DIGITS
    return round((np.floor(best / step) if upward else np.ceil(best / step)) * step, DIGITS)
