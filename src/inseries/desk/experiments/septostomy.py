"""Septostomy in transposition: before, and minutes after with nothing else changed.

The duct and the foramen of the published babies are not given: both are supposed. Before, filling
and resistance are regulated; after, both stay as they were and only the defect is wider.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from inseries.circuit.orbit import find_orbit
from inseries.circuit.readouts import Readings, read
from inseries.course.laws import DEFAULT
from inseries.desk.experiments.babies import baby_of, course, one, scenario
from inseries.prior.plain import plain_story
from inseries.prior.story import constant
from inseries.routes import with_atrial_defect

if TYPE_CHECKING:
    from collections.abc import Mapping

    from inseries.prior.constants import Constants


def septostomy(
    constants: Constants | None = None,
    inputs: Mapping[str, float] | None = None,
    law: str = DEFAULT,
) -> dict[str, float]:
    """Saturation, left atrial pressure and atrial gradient before and after septostomy.

    Parameters
    ----------
    constants : numbers under trial; the packaged ones when not given
    inputs : supposed age, foramen, duct and torn defect; the packaged ones when not given
    law : growth law that the walls follow

    Returns
    -------
    dict of str to float, units in the names
    """
    supposed = scenario(inputs)
    story = replace(
        plain_story(),
        duct_mm=constant(supposed["septostomy_duct"]),
        foramen_mm=supposed["septostomy_foramen"],
        breaks_days=(),
    )
    baby = baby_of(story, constants, law)
    before = course(baby, [supposed["septostomy_age"]])[0].readings
    torn = with_atrial_defect(before.orbit.as_regulated(), supposed["septostomy_tear"])
    after = read(find_orbit(torn, settings=baby.settings))
    return _told(before, "before") | _told(after, "after")


def _told(readings: Readings, when: str) -> dict[str, float]:
    return {
        f"saturation_{when}_pct": one(readings.saturation_pct("AoU")),
        f"la_mean_{when}_mmhg": one(readings.mean_mmhg("LA")),
        f"atrial_gradient_{when}_mmhg": one(readings.atrial_gradient_mmhg),
        f"need_met_{when}_pct": 100.0 * one(readings.oxygen.need_met),
    }
