"""Strength, which both laws treat alike: it seeks what the stretch at the end of ejection asks for.

A ventricle that cannot empty gains strength; one that bears little ejects too far and is turned
down. With e = λ_ES/λ_ES* - 1: dT/dt = (T* - T)/τ_T and T* = 1 + s e, within T_low and T_high. It
seeks a value and does not add up: a wall that grew a little too far would else sink to the floor.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Mapping

    from inseries.course.laws.interface import Individual, Load
    from inseries.course.walls import Floats, Wall


def off_set_point(load: Load, who: Individual, side: str, constants: Mapping[str, float]) -> Floats:
    """How far the emptied stretch is from its usual value, relative, shape (n,)."""
    usual = constants[f"set_emptied_{side}"] * who.set_point ** constants["set_point_power"]
    return load.emptied_stretch / usual - 1.0


def strength_rate(wall: Wall, off: Floats, constants: Mapping[str, float]) -> Floats:
    """Rate of the contractile state, per day, shape (n,)."""
    sought = 1.0 + constants["strength_gain"] * off
    sought = np.clip(sought, constants["weakest"], constants["strongest"])
    return (sought - wall.strength) / constants["strength_days"]
