"""Lower body better saturated than upper, by each of its two mechanisms.

The published newborn had a tight foramen and high lung resistance; sizes and resistance are not
given and are supposed. The second mechanism, a narrow arch, is tried by itself.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from inseries.desk.experiments.babies import baby_of, one, scenario
from inseries.prior.constants import Constants
from inseries.prior.plain import plain_story
from inseries.prior.story import constant

if TYPE_CHECKING:
    from collections.abc import Mapping

    from inseries.circuit.readouts import Readings

LUNG_ROWS = ("lung_index_late", "lung_index_first", "lung_index_second")


def reversed_differential(
    constants: Constants | None = None, inputs: Mapping[str, float] | None = None
) -> dict[str, float]:
    """Upper and lower saturation with high lung resistance, and with a narrow arch.

    Parameters
    ----------
    constants : numbers under trial; the packaged ones when not given
    inputs : supposed foramen, duct, factor of lung resistance, isthmus; the packaged ones else

    Returns
    -------
    dict of str to float, %
    """
    constants = constants or Constants()
    supposed = scenario(inputs)
    factor = supposed["reversed_lung_factor"]
    raised = {name: constants.rules[name] * factor for name in LUNG_ROWS}
    tight = replace(constants, rules=dict(constants.rules) | raised)
    lungs = _first_day(tight, supposed, constants.newborn["arch_area"])
    arch = _first_day(constants, supposed, supposed["reversed_isthmus"])
    return _told(lungs, "lungs") | _told(arch, "arch")


def _first_day(constants: Constants, supposed: Mapping[str, float], isthmus_cm2: float) -> Readings:
    story = replace(
        plain_story(),
        duct_mm=constant(supposed["reversed_duct"]),
        foramen_mm=supposed["reversed_foramen"],
        breaks_days=(),
    )
    baby = baby_of(story, constants)
    age = supposed["reversed_age"]
    circuit = baby.circuit(age, baby.walls_at_birth())
    circuit = circuit.with_area("arch", "isthmus", isthmus_cm2)
    return baby.read(circuit, baby.regulation(age))


def _told(readings: Readings, cause: str) -> dict[str, float]:
    upper, lower = one(readings.saturation_pct("AoU")), one(readings.saturation_pct("AoD"))
    return {
        f"upper_{cause}_pct": upper,
        f"lower_{cause}_pct": lower,
        f"lower_minus_upper_{cause}_pct": lower - upper,
        f"sign_{cause}_pct": lower - upper,
    }
