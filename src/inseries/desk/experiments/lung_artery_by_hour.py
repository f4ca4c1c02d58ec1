"""Lung artery pressure of the healthy newborn by the hour, with the duct of that hour.

At birth the right ventricle bears the body's pressure side by side with the left and the septum
works for both; until the duct has narrowed (12 h) it is given the wall and strength of the right
ventricle of parallel circulations, afterwards the free wall that CMR measures in the first week.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from inseries.course.walls import Walls, wall
from inseries.desk.experiments.babies import baby_of, one
from inseries.prior.constants import Constants
from inseries.prior.plain import normal_story

# published: pmc4998292, hours of the series
HOURS = (2, 6, 12, 24, 48, 72)
# chosen: last hour at which the right ventricle keeps the wall it had at birth
LAST_BIRTH_WALL_H = 12
# derived: hours in a day
DAY_H = 24.0


def lung_artery_by_hour(constants: Constants | None = None) -> dict[str, float]:
    """Mean and systolic lung artery pressure at 2, 6, 12, 24, 48 and 72 hours.

    Parameters
    ----------
    constants : numbers under trial; the packaged ones when not given

    Returns
    -------
    dict of str to float, mmHg
    """
    constants = constants or Constants()
    baby = baby_of(normal_story(), constants)
    told: dict[str, float] = {}
    for hour in HOURS:
        age = hour / DAY_H
        walls = baby.walls_at_birth()
        if hour <= LAST_BIRTH_WALL_H:
            walls = _birth_right(walls, constants)
        readings = baby.read(baby.circuit(age, walls), baby.regulation(age))
        told[f"mean_{hour}_h_mmhg"] = one(readings.mean_mmhg("PA"))
        told[f"systolic_{hour}_h_mmhg"] = one(readings.systolic_mmhg("PA"))
    return told


def _birth_right(walls: Walls, constants: Constants) -> Walls:
    values = constants.newborn
    share = values["parallel_rv_mass"] / values["rv_mass"]
    right = wall(walls.right.mass_g * share, walls.right.unloaded_volume_ml)
    strength = np.full_like(right.mass_g, values["parallel_rv_strength"])
    return Walls(left=walls.left, right=replace(right, strength=strength))
