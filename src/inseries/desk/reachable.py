"""Criteria that nothing can meet are refused, with the nearest that can be met.

Asked is the most favourable ventricle of the prior two days after birth, with every strength and
stiffness after bypass that may come: where even that one fails in all of them, nothing can meet
what was asked.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from inseries.base.errors import RouteNotPossible
from inseries.desk.criteria import packaged, tiers_of
from inseries.prior.baby import Baby
from inseries.prior.operation import Operation
from inseries.prior.plain import plain_story
from inseries.prior.traits import Traits, spreads

if TYPE_CHECKING:
    from collections.abc import Mapping

# chosen: two deviations to the good in what carries the body after a switch
FAVOURABLE = {"lv_mass": 2.0, "muscle_strength": 2.0, "stiffness": -2.0}
# chosen: age at which it is asked, days
AGE_DAYS = 2.0
# chosen: steps from what was asked towards the packaged criterion
STEPS = 10
# chosen: digits of a criterion in a refusal
DIGITS = 2


def refuse_unreachable(changes: Mapping[str, float] | None) -> None:
    """Refuses changed criteria that no ventricle meets.

    Parameters
    ----------
    changes : criterion to value, as a user gave them; none are never refused

    Raises
    ------
    RouteNotPossible
        code ``criteria_beyond_reach``, with the nearest criteria that can be met
    """
    if not changes or _reached(changes):
        return
    near = _nearest(changes)
    raise RouteNotPossible(
        "nothing can meet these criteria: the most favourable newborn ventricle fails them in "
        "every operation tried",
        code="criteria_beyond_reach",
        where="criteria",
        value=", ".join(f"{name}={value:g}" for name, value in changes.items()),
        remedy=", ".join(f"{name}={value:g}" for name, value in near.items()),
    )


def _reached(changes: Mapping[str, float]) -> bool:
    """Whether the most favourable ventricle meets both tiers in some operation that settles."""
    z = np.zeros((1, len(spreads())))
    for column, trait in enumerate(spreads()):
        z[0, column] = FAVOURABLE.get(trait.name, 0.0)
    baby = Baby(Traits(z=z), plain_story())
    operation = Operation(baby, tiers_of(changes), 1, "reachable")
    told = operation.on(AGE_DAYS, baby.walls_at_birth())
    settled = baby.tally.unsettled == 0
    return settled and all(float(carrying.chance[0]) > 0.0 for carrying in told.values())


def _nearest(changes: Mapping[str, float]) -> dict[str, float]:
    """The changes moved towards the packaged criteria, one alone if that is enough, else all."""
    for names in (*((name,) for name in changes), tuple(changes)):
        for step in range(1, STEPS + 1):
            nearer = {**changes, **{name: _towards(name, changes[name], step) for name in names}}
            if _reached(nearer):
                return nearer
    return dict(packaged())


def _towards(name: str, asked: float, step: int) -> float:
    usual = packaged()[name]
    return round(asked + (usual - asked) * step / STEPS, DIGITS)
