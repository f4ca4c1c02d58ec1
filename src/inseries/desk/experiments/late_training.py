"""A late left ventricle before and after months of training by a band with a shunt.

The series gives mass by echo, and neither lumen nor shunt: both are supposed. Mass here is on the
scale of magnetic resonance and is carried to that of echo by the ratio of newborn means.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.course.laws import DEFAULT
from inseries.desk.experiments.babies import (
    Day,
    baby_of,
    course,
    left_index_g_m2,
    one,
    plain_after_septostomy,
    scenario,
)
from inseries.desk.experiments.band import with_band_and_shunt

if TYPE_CHECKING:
    from collections.abc import Mapping

    from inseries.prior.baby import Baby
    from inseries.prior.constants import Constants

# published: cevik2019, mean age at the band and mean days of training of those with a shunt
AGE_DAYS, TRAINED_DAYS = 122.3, 97.7


def late_training(
    constants: Constants | None = None,
    inputs: Mapping[str, float] | None = None,
    law: str = DEFAULT,
) -> dict[str, float]:
    """Left mass index on the echo scale before and after training, and the pressure ratio.

    Parameters
    ----------
    constants : numbers under trial; the packaged ones when not given
    inputs : supposed lumen and shunt; the packaged ones when not given
    law : growth law that the walls follow

    Returns
    -------
    dict of str to float, units in the names
    """
    supposed = scenario(inputs)
    baby = baby_of(plain_after_septostomy(), constants, law)
    before = course(baby, [AGE_DAYS])[0]
    trained = with_band_and_shunt(baby, supposed["training_lumen"], supposed["training_shunt"])
    later = AGE_DAYS + TRAINED_DAYS
    after = course(trained, [later], walls=before.walls, start_days=AGE_DAYS)[0]
    return {
        "echo_mass_before_g_m2": echo_index_g_m2(baby, before),
        "echo_mass_after_g_m2": echo_index_g_m2(trained, after),
        "ratio_after": one(after.readings.pressure_ratio),
    }


def echo_index_g_m2(baby: Baby, day: Day) -> float:
    """Left mass over body surface as echo measures it."""
    return left_index_g_m2(day) * one(baby.traits["echo_over_cmr"])
