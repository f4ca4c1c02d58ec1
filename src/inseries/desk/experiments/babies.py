"""Babies and courses that several situations share: every trait at its middle, one member."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from inseries.base.numbers import Number, read_numbers
from inseries.course.laws import DEFAULT, law_named
from inseries.course.walk import walk
from inseries.desk.readouts import shell_thickness_mm
from inseries.prior.baby import Baby
from inseries.prior.constants import Constants
from inseries.prior.plain import plain_story
from inseries.prior.traits import middle

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from inseries.circuit.network import Floats
    from inseries.circuit.readouts import Readings
    from inseries.course.walls import Walls
    from inseries.prior.story import Story

# chosen: septostomy half a day after birth in courses that do not say otherwise
SEPTOSTOMY_DAY = 0.5
# published: pmc4998292 sees 95 % of ducts closed by 72 h; ours close on the fourth day
DUCT_SHUT_DAY = 4.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """One baby on one day: age, body surface, walls, and its regulated beat read."""

    age_days: float
    surface_m2: float
    walls: Walls
    readings: Readings


@lru_cache(maxsize=1)
def scenario_numbers() -> dict[str, Number]:
    """What a publication leaves open of its patients and an experiment has to suppose."""
    package = "inseries.desk.experiments"
    return read_numbers(package, "scenarios.toml") | read_numbers(package, "fitted.toml")


def scenario(inputs: Mapping[str, float] | None = None) -> dict[str, float]:
    """Supposed inputs by name; those given take the place of the packaged ones."""
    packaged = {name: number.value for name, number in scenario_numbers().items()}
    return packaged | dict(inputs or {})


def plain_after_septostomy() -> Story:
    """Parallel circulations, intact septum, torn on the first day, duct closing by itself."""
    return replace(
        plain_story(), septostomy_day=SEPTOSTOMY_DAY, breaks_days=(SEPTOSTOMY_DAY, DUCT_SHUT_DAY)
    )


def baby_of(story: Story, constants: Constants | None, law: str = DEFAULT) -> Baby:
    """The middle baby of a story under one growth law."""
    numbers = constants or Constants()
    return Baby(middle(), story, constants=numbers, law=law_named(law, numbers.laws[law]))


def course(
    baby: Baby, stops_days: Iterable[float], *, walls: Walls | None = None, start_days: float = 0.0
) -> list[Day]:
    """The baby on each asked day, its walls following their load from the start.

    Parameters
    ----------
    baby : Baby, one member
    stops_days : ages to look at, ascending
    walls : walls at the start; those at birth when not given
    start_days : age at the start

    Returns
    -------
    list of Day, one a stop
    """
    stops = walk(
        baby.beat,
        walls or baby.walls_at_birth(),
        law=baby.law,
        who=baby.individual(),
        body=baby.body(),
        start_days=start_days,
        stops_days=stops_days,
        breaks_days=baby.story.breaks_days,
    )
    return [day_of(baby, stop.age_days, stop.walls) for stop in stops]


def day_of(baby: Baby, age_days: float, walls: Walls) -> Day:
    """The baby at an age with given walls."""
    return Day(
        age_days=age_days,
        surface_m2=baby.story.surface_m2(age_days),
        walls=walls,
        readings=baby.read(baby.circuit(age_days, walls), baby.regulation(age_days)),
    )


def one(value: Floats) -> float:
    """The number of the only member."""
    return float(np.ravel(value)[0])


def left_index_g_m2(day: Day) -> float:
    """Left ventricular mass over body surface."""
    return one(day.walls.left.mass_g) / day.surface_m2


def unloaded_wall_mm(day: Day) -> float:
    """Wall of the left ventricle at its unloaded cavity, as a heart at autopsy shows it."""
    left = day.walls.left
    return one(shell_thickness_mm(left.mass_g, left.unloaded_volume_ml))
