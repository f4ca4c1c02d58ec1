"""What keeps the left ventricle: ventricular defect, duct, outflow stenosis, against none."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from inseries.course.laws import DEFAULT
from inseries.desk.experiments.babies import (
    SEPTOSTOMY_DAY,
    baby_of,
    course,
    left_index_g_m2,
    one,
    plain_after_septostomy,
)
from inseries.prior.story import constant

if TYPE_CHECKING:
    from inseries.prior.constants import Constants

# chosen: age at comparison
DAY = 30.0
# chosen: sizes of a large defect and of a duct kept open
DEFECT_MM, DUCT_MM = 6.0, 3.0


def protection(constants: Constants | None = None, law: str = DEFAULT) -> dict[str, float]:
    """Mass index and pressure ratio at a month with each of them, over those without any.

    Parameters
    ----------
    constants : numbers under trial; the packaged ones when not given
    law : growth law that the walls follow

    Returns
    -------
    dict of str to float, shares and ratios
    """
    plain = plain_after_septostomy()
    stories = {
        "none": plain,
        "defect": replace(plain, ventricular_mm=DEFECT_MM),
        "duct": replace(plain, duct_mm=constant(DUCT_MM), breaks_days=(SEPTOSTOMY_DAY,)),
        "outflow": replace(plain, outflow="dynamic"),
    }
    babies = {name: baby_of(story, constants, law) for name, story in stories.items()}
    days = {name: course(baby, [DAY])[0] for name, baby in babies.items()}
    mass = {name: left_index_g_m2(day) for name, day in days.items()}
    ratio = {name: one(day.readings.pressure_ratio) for name, day in days.items()}
    told = {f"{name}_mass_over_none": mass[name] / mass["none"] for name in stories}
    told |= {f"{name}_pressure_ratio": ratio[name] for name in stories}
    del told["none_mass_over_none"]
    return told
