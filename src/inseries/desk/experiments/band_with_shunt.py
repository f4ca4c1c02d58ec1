"""A lung artery band with a systemic-to-pulmonary shunt, a week later.

The series had both in every child, and gives neither age nor sizes: all three are supposed, the
lumen so that the left ventricle bears about three quarters of the body's pressure at once.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.course.laws import DEFAULT
from inseries.desk.experiments.babies import baby_of, course, one, plain_after_septostomy, scenario
from inseries.desk.experiments.band import with_band_and_shunt
from inseries.desk.experiments.late_training import echo_index_g_m2

if TYPE_CHECKING:
    from collections.abc import Mapping

    from inseries.prior.constants import Constants

# published: wernovsky1992, median days from the first to the second operation
AFTER_DAYS = 7.0


def band_with_shunt(
    constants: Constants | None = None,
    inputs: Mapping[str, float] | None = None,
    law: str = DEFAULT,
) -> dict[str, float]:
    """Pressure ratio and mass a week after a band and a shunt.

    Parameters
    ----------
    constants : numbers under trial; the packaged ones when not given
    inputs : supposed age, lumen and shunt; the packaged ones when not given
    law : growth law that the walls follow

    Returns
    -------
    dict of str to float, units in the names
    """
    supposed = scenario(inputs)
    age = supposed["band_age"]
    baby = baby_of(plain_after_septostomy(), constants, law)
    before = course(baby, [age])[0]
    both = with_band_and_shunt(baby, supposed["shunted_lumen"], supposed["shunted_shunt"])
    days = [age, age + AFTER_DAYS]
    at_once, after = course(both, days, walls=before.walls, start_days=age)
    gain = one(after.walls.left.mass_g) / one(before.walls.left.mass_g) - 1.0
    return {
        "ratio_before": one(before.readings.pressure_ratio),
        "ratio_at_once": one(at_once.readings.pressure_ratio),
        "ratio_7_d": one(after.readings.pressure_ratio),
        "echo_mass_7_d_g_m2": echo_index_g_m2(both, after),
        "mass_gain_7_d_pct": 100.0 * gain,
        "la_mean_7_d_mmhg": one(after.readings.mean_mmhg("LA")),
    }
