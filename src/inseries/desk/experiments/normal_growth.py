"""The healthy newborn's ventricles over four months.

The course begins at three days, the age of the reference newborn: how the right ventricle hands
the septum back in the first days is not part of the model.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.course.laws import DEFAULT
from inseries.desk.experiments.babies import baby_of, course, left_index_g_m2, one
from inseries.prior.plain import normal_story

if TYPE_CHECKING:
    from inseries.prior.constants import Constants

# chosen: age of the reference newborn, days
START_DAY = 3.0
# published: joyce2004, the left within two weeks, the right over four months
DAYS = (3.0, 14.0, 30.0, 120.0)


def normal_growth(constants: Constants | None = None, law: str = DEFAULT) -> dict[str, float]:
    """Mass index of both ventricles against that at three days.

    Parameters
    ----------
    constants : numbers under trial; the packaged ones when not given
    law : growth law that the walls follow

    Returns
    -------
    dict of str to float, shares of the index at three days
    """
    baby = baby_of(normal_story(), constants, law)
    days = course(baby, DAYS, start_days=START_DAY)
    left = [left_index_g_m2(day) for day in days]
    right = [one(day.walls.right.mass_g) / day.surface_m2 for day in days]
    return {
        "lv_share_14_d": left[1] / left[0],
        "lv_share_30_d": left[2] / left[0],
        "lv_share_120_d": left[3] / left[0],
        "rv_share_14_d": right[1] / right[0],
        "rv_share_120_d": right[3] / right[0],
    }
