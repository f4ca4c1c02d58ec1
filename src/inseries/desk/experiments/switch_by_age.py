"""The switch on the middle baby at several ages: how the chance goes, never how high it is.

The level hangs on contractility and stiffness after bypass, which nothing here was fitted to.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.base.numbers import read_numbers
from inseries.course.laws import DEFAULT
from inseries.desk.experiments.babies import baby_of, course, plain_after_septostomy
from inseries.prior.operation import Operation, Tier

if TYPE_CHECKING:
    from inseries.prior.constants import Constants

# chosen: a neonatal switch, the edge of common practice, and the mean age of late_switch_tgkdc
DAYS = (7.0, 21.0, 42.0)
NAMES = ("survivable", "comfortable")
# chosen: any seed; the operation's unknowns are drawn from it
SEED, DIGEST = 1, "switch by age"


def usual_tiers() -> tuple[Tier, ...]:
    """Both tiers with the packaged criteria."""
    asked = {
        name: row.value for name, row in read_numbers("inseries.desk", "criteria.toml").items()
    }
    return tuple(
        Tier(
            name=name,
            cardiac_index_min_l_min_m2=asked[f"{name}_cardiac_index_min"],
            la_mean_max_mmhg=asked[f"{name}_la_mean_max"],
            arterial_mean_min_mmhg=asked[f"{name}_arterial_mean_min"],
        )
        for name in NAMES
    )


def switch_by_age(constants: Constants | None = None, law: str = DEFAULT) -> dict[str, float]:
    """Chance by age that the left ventricle carries the body, in both tiers.

    Parameters
    ----------
    constants : numbers under trial; the packaged ones when not given
    law : growth law that the walls follow

    Returns
    -------
    dict of str to float, %
    """
    baby = baby_of(plain_after_septostomy(), constants, law)
    operation = Operation(baby, usual_tiers(), SEED, DIGEST)
    told: dict[str, float] = {}
    for day in course(baby, DAYS):
        for name, carrying in operation.on(day.age_days, day.walls).items():
            told[f"{name}_{day.age_days:.0f}_d_pct"] = 100.0 * float(carrying.chance[0])
    for name in NAMES:
        told[f"{name}_fall_7_to_42_d"] = told[f"{name}_7_d_pct"] - told[f"{name}_42_d_pct"]
    return told
