"""The window under each growth law: how far apart they lie is part of how sure we are."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from inseries.course.laws import LAWS

if TYPE_CHECKING:
    from collections.abc import Mapping

    from inseries.prior.narrow import Narrowed
    from inseries.prior.traits import Floats

# chosen: fewer effective draws of a law than this give no curve of its own
LEAST_DRAWS = 4.0
# chosen: laws further apart than this are told to disagree, as a fraction
APART = 0.10
# derived: a 90 % interval is so many standard errors either side
NINETY = 1.645

LAW_WORDS = {
    "mean_stress": "mean-stress law",
    "emptied_stretch": "emptied-stretch law",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class LawCurve:
    """The chance by day of the draws that follow one law.

    Parameters
    ----------
    law : name of the law
    effective_draws : of those draws, the ones kept more than once counted fewer
    share : of all draws, once the readings have spoken
    survivable, comfortable : mean chance by day
    """

    law: str
    effective_draws: float
    share: float
    survivable: tuple[float, ...]
    comfortable: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LawsApart:
    """Where the laws lie furthest apart in the survivable tier.

    Parameters
    ----------
    day : age at switch
    apart, low, high : first law above the second, as a fraction; 90 % interval of the error of
        finitely many draws
    """

    day: float
    apart: float
    low: float
    high: float

    @property
    def told(self) -> bool:
        """Whether they differ by more than ten points, and by more than their error."""
        return abs(self.apart) > APART and self.low * self.high > 0.0


def by_law(today: Narrowed, chances: Mapping[str, Floats]) -> tuple[LawCurve, ...]:
    """Mean chance per day of the draws of each law.

    Parameters
    ----------
    today : narrowed draws
    chances : by tier, arrays of shape (n, days)

    Returns
    -------
    tuple of LawCurve, in the order of the laws; one with too few draws is left out
    """
    found: list[LawCurve] = []
    for number, law in enumerate(LAWS):
        rows = today.baby.law_of == number
        effective = _effective(today.baby.traits.z[rows])
        if effective < LEAST_DRAWS:
            continue
        found.append(
            LawCurve(
                law=law,
                effective_draws=round(effective, 1),
                share=round(float(rows.mean()), 3),
                survivable=_mean(chances["survivable"][rows]),
                comfortable=_mean(chances["comfortable"][rows]),
            )
        )
    return tuple(found)


def laws_apart(today: Narrowed, survivable: Floats, ages: Floats) -> LawsApart | None:
    """Where two laws differ most, or None where only one has draws enough.

    Parameters
    ----------
    today : narrowed draws
    survivable : chance, shape (n, days)
    ages : days, shape (days,)
    """
    groups = [today.baby.law_of == number for number in range(len(LAWS))]
    counts = [_effective(today.baby.traits.z[rows]) for rows in groups]
    spoken = [place for place, count in enumerate(counts) if count >= LEAST_DRAWS]
    if len(spoken) < 2:
        return None
    one, other = spoken[:2]
    means = [survivable[groups[place]].mean(axis=0) for place in (one, other)]
    errors = [survivable[groups[place]].var(axis=0) / counts[place] for place in (one, other)]
    apart: Floats = means[0] - means[1]
    day = int(np.argmax(np.abs(apart)))
    reach = NINETY * float(np.sqrt(errors[0][day] + errors[1][day]))
    return LawsApart(
        day=float(ages[day]),
        apart=round(float(apart[day]), 4),
        low=round(float(apart[day]) - reach, 4),
        high=round(float(apart[day]) + reach, 4),
    )


def _effective(z: Floats) -> float:
    """Effective number of draws: those kept several times stand for one."""
    if len(z) == 0:
        return 0.0
    _, counts = np.unique(z, axis=0, return_counts=True)
    return float(counts.sum() ** 2 / (counts**2).sum())


def _mean(chance: Floats) -> tuple[float, ...]:
    return tuple(round(float(value), 4) for value in chance.mean(axis=0))
