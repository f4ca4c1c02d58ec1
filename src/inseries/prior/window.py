"""The switch tried on days from now to a horizon: at most sixteen, the rest read between them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from inseries.course.walk import walk
from inseries.prior.baby import Sensed
from inseries.prior.curve import MOST_NODES, monotone, refined
from inseries.prior.importance import Progress, unheard
from inseries.prior.operation import Carrying, Operation, Tier

if TYPE_CHECKING:
    from collections.abc import Callable

    from inseries.circuit.readouts import Readings
    from inseries.course.walls import Walls
    from inseries.prior.narrow import Narrowed
    from inseries.prior.traits import Floats

# chosen: candidate days lie this far apart
DAYS_BETWEEN = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """One candidate day: its age, walls, and the beat before any switch."""

    age_days: float
    walls: Walls
    readings: Readings


@dataclass(frozen=True, slots=True, kw_only=True)
class Outlook:
    """The window of n draws.

    Parameters
    ----------
    days : every candidate day, in order
    nodes : indices of the days on which the switch was tried
    carrying : by node, then by tier
    tiers : the criteria
    """

    days: tuple[Day, ...]
    nodes: tuple[int, ...]
    carrying: dict[int, dict[str, Carrying]]
    tiers: tuple[Tier, ...]

    @property
    def ages_days(self) -> Floats:
        """Ages of all days."""
        return np.array([day.age_days for day in self.days])

    @property
    def node_ages_days(self) -> Floats:
        """Ages at which the switch was tried."""
        return self.ages_days[list(self.nodes)]

    def chance(self, tier: str, ages_days: Floats) -> Floats:
        """Chance of every draw at some ages, shape (n, ages)."""
        return self.between(lambda carrying: carrying.chance, tier, ages_days)

    def between(self, of: Callable[[Carrying], Floats], tier: str, ages_days: Floats) -> Floats:
        """Any quantity of a tier at some ages, shape (n, ages), monotone between nodes."""
        at_nodes = np.stack([of(self.carrying[node][tier]) for node in self.nodes])
        return monotone(self.node_ages_days, at_nodes, ages_days).T


def outlook(
    today: Narrowed,
    tiers: tuple[Tier, ...],
    *,
    horizon_day: float,
    seed: int,
    digest: str,
    progress: Progress | None = None,
) -> Outlook:
    """The switch tried from today to a horizon.

    Parameters
    ----------
    today : narrowed draws
    tiers : criteria
    horizon_day : last age, days
    seed, digest : of the run and the case
    progress : told stage and share done

    Returns
    -------
    Outlook
    """
    tell = progress or unheard
    days = tuple(_days(today, horizon_day, tell))
    operation = Operation(today.baby, tiers, seed, digest)
    carrying: dict[int, dict[str, Carrying]] = {}

    def tried(node: int) -> Floats:
        """Mean chance of each tier on one day."""
        day = days[node]
        carrying[node] = operation.on(day.age_days, day.walls)
        tell("trying the switch", len(carrying) / MOST_NODES)
        return np.array([carrying[node][tier.name].chance.mean() for tier in tiers])

    refined(tried, np.array([day.age_days for day in days]))
    return Outlook(days=days, nodes=tuple(sorted(carrying)), carrying=carrying, tiers=tiers)


def _days(today: Narrowed, horizon_day: float, tell: Progress) -> list[Day]:
    """Walls today and on whole days after it, the horizon included."""
    baby, now = today.baby, today.age_days
    whole = np.arange(horizon_day, now, -DAYS_BETWEEN)[::-1]
    ages = [now, *whole]
    found: list[Day] = []
    stops = walk(
        baby.beat,
        today.walls,
        law=baby.law,
        who=baby.individual(),
        body=baby.body(),
        start_days=now,
        stops_days=[float(age) for age in ages],
        breaks_days=baby.story.breaks_days,
    )
    for stop in stops:
        sensed = stop.sensed
        assert isinstance(sensed, Sensed)
        found.append(Day(age_days=stop.age_days, walls=stop.walls, readings=sensed.readings))
        tell("walking through the days", (stop.age_days - now) / max(horizon_day - now, 1.0))
    return found
