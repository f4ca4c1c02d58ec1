"""A narrowed baby walked on from today, with or without things done to it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from inseries.course.walk import Pace, walk
from inseries.prior.actions import with_actions
from inseries.prior.baby import Sensed
from inseries.prior.importance import Progress, unheard

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from inseries.circuit.orbit import Settings
    from inseries.circuit.readouts import Readings
    from inseries.course.walls import Walls
    from inseries.prior.actions import Action
    from inseries.prior.baby import Baby
    from inseries.prior.narrow import Narrowed


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """One day: age, body surface, walls, and the regulated beat."""

    age_days: float
    surface_m2: float
    walls: Walls
    readings: Readings


@dataclass(frozen=True, slots=True, kw_only=True)
class Forecast:
    """The draws under a story, and what they were on each asked day."""

    baby: Baby
    days: tuple[Day, ...]

    @property
    def failed_share(self) -> float:
        """Share of beats that did not settle."""
        return self.baby.tally.unsettled / max(self.baby.tally.orbits, 1)

    def after(self, today: Narrowed, place: int) -> Narrowed:
        """The draws as they stand on one of the days, to be walked on from there."""
        day = self.days[place]
        return replace(today, baby=self.baby, walls=day.walls, age_days=day.age_days)


def forecast(
    today: Narrowed,
    actions: Iterable[Action] = (),
    *,
    ages_days: Iterable[float],
    pace: Pace | None = None,
    progress: Progress | None = None,
) -> Forecast:
    """All draws walked on from today, looked at on some days.

    Parameters
    ----------
    today : narrowed draws
    actions : what is done and when
    ages_days : ages to look at, ascending, not before today; at the age of an action the beat is
        that just after it
    pace : bounds of the slow step
    progress : told the share done

    Returns
    -------
    Forecast

    Raises
    ------
    RouteNotPossible
        actions that contradict one another or the story
    """
    tell = progress or unheard
    baby = acted(today, actions)
    asked = [float(age) for age in ages_days]
    now = today.age_days
    found: list[Day] = []
    for day in days_ahead(baby, today, ages_days=asked, pace=pace):
        found.append(day)
        tell("walking through the days", (day.age_days - now) / max(asked[-1] - now, 1e-6))
    return Forecast(baby=baby, days=tuple(found))


def acted(today: Narrowed, actions: Iterable[Action]) -> Baby:
    """The draws with what is done written into their story; refuses as ``forecast``."""
    return today.baby.with_story(with_actions(today.baby.story, actions))


def days_ahead(
    baby: Baby, today: Narrowed, *, ages_days: Iterable[float], pace: Pace | None = None
) -> Iterator[Day]:
    """Each asked day as it is reached, of draws walked on from today; as ``forecast``."""
    stops = walk(
        baby.beat,
        today.walls,
        law=baby.law,
        who=baby.individual(),
        body=baby.body(),
        start_days=today.age_days,
        stops_days=ages_days,
        breaks_days=baby.story.breaks_days,
        pace=pace,
    )
    for stop in stops:
        sensed = stop.sensed
        assert isinstance(sensed, Sensed)
        yield Day(
            age_days=stop.age_days,
            surface_m2=baby.story.surface_m2(stop.age_days),
            walls=stop.walls,
            readings=sensed.readings,
        )


def some(today: Narrowed, draws: int, settings: Settings | None = None) -> Narrowed:
    """The draws thinned evenly to so many, for coarse work; all of them where there are fewer.

    Parameters
    ----------
    today : narrowed draws
    draws : how many
    settings : other steps and tolerance of a beat, or None for the same
    """
    members = today.baby.traits.members
    rows = np.unique(np.linspace(0, members - 1, min(draws, members)).round().astype(np.int64))
    few = today.baby.at(rows)
    few.settings = settings or few.settings
    return replace(
        today,
        baby=few,
        walls=today.walls.at(rows),
        effective_draws=min(today.effective_draws, float(rows.size)),
    )
