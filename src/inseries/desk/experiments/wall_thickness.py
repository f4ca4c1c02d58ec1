"""Thickness of the unloaded left wall, as at autopsy: transposition with and without a defect."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from inseries.course.laws import DEFAULT
from inseries.desk.experiments.babies import (
    baby_of,
    course,
    left_index_g_m2,
    plain_after_septostomy,
    unloaded_wall_mm,
)
from inseries.desk.experiments.normal_growth import START_DAY
from inseries.prior.plain import normal_story

if TYPE_CHECKING:
    from inseries.prior.constants import Constants

# published: bano_rodrigo1980 finds the difference after four months
LATE_DAY = 120.0
# chosen: the series' defects are not sized
DEFECT_MM = 6.0


def wall_thickness(constants: Constants | None = None, law: str = DEFAULT) -> dict[str, float]:
    """Thickness and mass index at four months against birth and against normal.

    Parameters
    ----------
    constants : numbers under trial; the packaged ones when not given
    law : growth law that the walls follow

    Returns
    -------
    dict of str to float, shares
    """
    plain = plain_after_septostomy()
    holed = replace(plain, ventricular_mm=DEFECT_MM)
    birth, intact = course(baby_of(plain, constants, law), [0.0, LATE_DAY])
    defect = course(baby_of(holed, constants, law), [LATE_DAY])[0]
    healthy = baby_of(normal_story(), constants, law)
    normal = course(healthy, [LATE_DAY], start_days=START_DAY)[0]
    return {
        "intact_late_over_birth": unloaded_wall_mm(intact) / unloaded_wall_mm(birth),
        "intact_over_normal_late": unloaded_wall_mm(intact) / unloaded_wall_mm(normal),
        "defect_over_normal_late": unloaded_wall_mm(defect) / unloaded_wall_mm(normal),
        "intact_mass_over_normal_late": left_index_g_m2(intact) / left_index_g_m2(normal),
    }
