"""The switch tried on days from now to a horizon: at most sixteen, the rest read between them."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from inseries.circuit.orbit import Settings
from inseries.course.walk import Pace
from inseries.prior.curve import MOST_NODES, monotone, refined
from inseries.prior.forecast import Day, acted, days_ahead, forecast, some
from inseries.prior.importance import Progress, unheard
from inseries.prior.operation import NOWHERE, Carrying, Operation, Tier

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping
    from concurrent.futures import Future

    from inseries.prior.actions import Action
    from inseries.prior.narrow import Narrowed
    from inseries.prior.traits import Floats

# chosen: candidate days lie this far apart, for so long and after it
DAYS_BETWEEN, SOON_DAYS, LATER_DAYS_BETWEEN = 2.0, 16.0, 3.0
# chosen: slow steps of a window; mass at 60 days errs by 0.6 % on average
WINDOW_PACE = Pace(longest_days=3.0, largest_change=0.045)
# chosen: a coarse look: draws, days, power that draws days nearer to today; between its days
# chances err by 7 points at most (seven invented babies, three openings each)
COARSE_DRAWS, COARSE_NODES, COARSE_BEND = 24, 7, 1.8
# chosen: steps and tolerance of its beats; chances err by 2.5 points at most. Few members gain less
# from a second thread than the walk and the operations do from running beside each other
COARSE = Settings(steps=72, tolerance_ml=1e-2, threads=1)
# chosen: its slow steps
COARSE_PACE = Pace(shortest_days=0.25, longest_days=4.0, largest_change=0.12)


@dataclass(frozen=True, slots=True, kw_only=True)
class Outlook:
    """The window of n draws.

    Parameters
    ----------
    days : every candidate day, in order
    nodes : indices of the days on which the switch was tried
    carrying : by node, then by tier
    tiers : the criteria
    unknowns : shape (unknowns drawn, 3), what bypass leaves, in deviations; the same for all draws
    starts : where the operation's orbits of another story may begin, by age
    """

    days: tuple[Day, ...]
    nodes: tuple[int, ...]
    carrying: dict[int, dict[str, Carrying]]
    tiers: tuple[Tier, ...]
    unknowns: Floats
    starts: Mapping[float, Floats]

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

    def days_met(self, tier: str) -> Floats:
        """Days from first to last on which a tier is met, shape (n, unknowns drawn)."""
        met = np.stack([self.carrying[node][tier].met for node in self.nodes])
        between = np.diff(self.node_ages_days)
        return np.tensordot(between, 0.5 * (met[1:] + met[:-1].astype(np.float64)), axes=1)


def outlook(  # noqa: PLR0913 - a window needs its baby, criteria, plan, days and draws, by name
    today: Narrowed,
    tiers: tuple[Tier, ...],
    *,
    horizon_day: float,
    seed: int,
    digest: str,
    actions: Iterable[Action] = (),
    most_nodes: int = MOST_NODES,
    progress: Progress | None = None,
) -> Outlook:
    """The switch tried from today to a horizon.

    Parameters
    ----------
    today : narrowed draws
    tiers : criteria
    horizon_day : last age, days
    seed, digest : of the run and the case
    actions : what is done before the switch
    most_nodes : on how many days at most the switch is tried
    progress : told stage and share done

    Returns
    -------
    Outlook
    """
    tell = progress or unheard
    ahead = forecast(
        today,
        actions,
        ages_days=_candidates(today.age_days, horizon_day),
        pace=WINDOW_PACE,
        progress=progress,
    )
    days = ahead.days
    operation = Operation(ahead.baby, tiers, seed, digest)
    carrying: dict[int, dict[str, Carrying]] = {}

    def tried(node: int) -> Floats:
        """Mean chance of each tier on one day."""
        day = days[node]
        carrying[node] = operation.on(day.age_days, day.walls)
        tell("trying the switch", min(len(carrying) / most_nodes, 1.0))
        return np.array([carrying[node][tier.name].chance.mean() for tier in tiers])

    refined(tried, np.array([day.age_days for day in days]), most_nodes)
    today.baby.tally.add(ahead.baby.tally)
    return Outlook(
        days=days,
        nodes=tuple(sorted(carrying)),
        carrying=carrying,
        tiers=tiers,
        unknowns=operation.z,
        starts=operation.starts,
    )


def coarse_outlook(
    today: Narrowed,
    tiers: tuple[Tier, ...],
    *,
    horizon_day: float,
    seed: int,
    digest: str,
    actions: Iterable[Action] = (),
    beside: Outlook | None = None,
) -> Outlook:
    """A quick look at the window, for a finger that moves: few draws, few days, coarse beats.

    Parameters
    ----------
    today : narrowed draws, thinned to ``COARSE_DRAWS`` with ``COARSE`` beats by ``coarse_draws``
    tiers, horizon_day, seed, digest, actions : as in ``outlook``
    beside : a coarse look at the same draws and days under another story, to begin near it

    Returns
    -------
    Outlook with the switch tried on ``COARSE_NODES`` days, nearer ones closer together
    """
    shares = np.linspace(0.0, 1.0, COARSE_NODES) ** COARSE_BEND
    ages = today.age_days + (horizon_day - today.age_days) * shares
    starts = NOWHERE if beside is None else beside.starts
    # two babies: each counts its own work, as the operations of days gone by run beside the walk
    walking, waiting = acted(today, actions), acted(today, actions)
    operation = Operation(waiting, tiers, seed, digest, bent=False, beside=starts)
    days: list[Day] = []
    with ThreadPoolExecutor(1) as thread:
        asked: list[Future[dict[str, Carrying]]] = []
        for day in days_ahead(walking, today, ages_days=ages, pace=COARSE_PACE):
            days.append(day)
            asked.append(thread.submit(operation.on, day.age_days, day.walls))
        carrying = {node: each.result() for node, each in enumerate(asked)}
    for baby in (walking, waiting):
        today.baby.tally.add(baby.tally)
    return Outlook(
        days=tuple(days),
        nodes=tuple(carrying),
        carrying=carrying,
        tiers=tiers,
        unknowns=operation.z,
        starts=operation.starts,
    )


def coarse_draws(today: Narrowed) -> Narrowed:
    """The draws as a coarse look takes them."""
    return some(today, COARSE_DRAWS, COARSE)


def _candidates(now: float, horizon_day: float) -> list[float]:
    """Today, days after it in which those to come soon lie closer together, and the horizon."""
    soon = np.arange(now, min(now + SOON_DAYS, horizon_day), DAYS_BETWEEN)
    later = np.arange(horizon_day, soon[-1] + DAYS_BETWEEN, -LATER_DAYS_BETWEEN)[::-1]
    last = later if later.size else np.array([horizon_day])
    return [float(age) for age in (*soon, *last)]
