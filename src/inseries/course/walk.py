"""The walk through days: on each step a beat, then growth."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, fields, replace
from typing import Protocol

import numpy as np

from inseries.course.laws import Individual, Law, Load
from inseries.course.walls import Floats, Wall, Walls


class Sensed(Protocol):
    """What a beat tells the walls: stresses and stretches by ventricle, arrays of shape (n,)."""

    def load(self, side: str) -> tuple[Floats, Floats, Floats]:
        """Mean stress (mmHg), filled and emptied stretch of the left or right ventricle."""
        ...


Beat = Callable[[float, Walls], Sensed]
"""Age in days and walls to what one beat tells; the walk does not know how it is found."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """How the body around the heart grows.

    Parameters
    ----------
    surface_m2 : age in days to body surface, m²; float or array, shape (n,)
    usual_volume_ml : age in days and side to the cavity of a body of that size
    """

    surface_m2: Callable[[float], Floats]
    usual_volume_ml: Callable[[float, str], Floats]


@dataclass(frozen=True, slots=True, kw_only=True)
class Pace:
    """Bounds of the slow step, days, and the largest relative change of a wall in one step."""

    # chosen: halving all three moves mass at 60 days by less than 0.5 % (tests/rooms/test_course)
    shortest_days: float = 0.1
    longest_days: float = 1.0
    largest_change: float = 0.03


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """One day at which the walk was asked to look."""

    age_days: float
    walls: Walls
    sensed: Sensed


def walk(  # noqa: PLR0913 - a walk needs its heart, law, baby, body and days, all by name
    beat: Beat,
    walls: Walls,
    *,
    law: Law,
    who: Individual,
    body: Body,
    start_days: float,
    stops_days: Iterable[float],
    breaks_days: Iterable[float] = (),
    pace: Pace | None = None,
) -> Iterable[Stop]:
    """Walls and beat at each asked day, walking from the start.

    Parameters
    ----------
    beat : what one beat tells at an age for given walls
    walls : walls at ``start_days``
    law, who, body : growth law, individual factors, growth of the body
    start_days : age at the start
    stops_days : ages to look at, ascending, not before the start
    breaks_days : ages of events, which no step may cross
    pace : bounds of the slow step

    Yields
    ------
    Stop, in order

    Holds when every member takes the same steps: the step is set by the 95th percentile of change.
    A member beyond it is kept from running away.
    """
    way = _Way(beat, law, who, body, pace or Pace())
    age = start_days
    edges = sorted({float(b) for b in breaks_days if b > start_days})
    for stop in stops_days:
        for target in [*(b for b in edges if age < b < stop), stop]:
            walls = way.to(walls, age, target)
            age = target
        yield Stop(age_days=stop, walls=walls, sensed=way.sensed(age, walls))


class _Way:
    """The steps of a walk, by the slopes at their start and middle; a beat is found once."""

    def __init__(self, beat: Beat, law: Law, who: Individual, body: Body, pace: Pace) -> None:
        self.beat, self.law, self.who, self.body, self.pace = beat, law, who, body, pace
        self._last: tuple[float, Walls, Sensed] | None = None

    def sensed(self, age: float, walls: Walls) -> Sensed:
        """What the beat at an age tells these walls."""
        last = self._last
        if last is not None and last[0] == age and last[1] is walls:
            return last[2]
        told = self.beat(age, walls)
        self._last = (age, walls, told)
        return told

    def to(self, walls: Walls, age: float, target: float) -> Walls:
        """Walls at a later age."""
        while age < target - SAME_AGE_DAYS:
            slope = self._slope(walls, age)
            step = min(_step(walls, slope, self.pace), target - age)
            middle = _moved(walls, slope, 0.5 * step)
            later = self._slope(middle, age + 0.5 * step)
            walls = _stepped(walls, slope, later, step, self.pace.largest_change)
            age += step
        return walls

    def _slope(self, walls: Walls, age: float) -> Walls:
        sensed = self.sensed(age, walls)
        surface = self.body.surface_m2(age)
        sides: dict[str, Wall] = {}
        for side in ("left", "right"):
            stress, filled, emptied = sensed.load(side)
            load = Load(
                mean_stress_mmhg=stress,
                filled_stretch=filled,
                emptied_stretch=emptied,
                surface_m2=surface,
                usual_volume_ml=self.body.usual_volume_ml(age, side),
            )
            sides[side] = self.law.rates(getattr(walls, side), load, self.who, side)
        return Walls(left=sides["left"], right=sides["right"])


# derived: ages closer than this are one age (a tenth of a second)
SAME_AGE_DAYS = 1e-6


def _step(walls: Walls, slope: Walls, pace: Pace) -> float:
    sides = ((walls.left, slope.left), (walls.right, slope.right))
    rates = [rate.mass_g / wall.mass_g for wall, rate in sides]
    rates += [rate.unloaded_volume_ml / wall.unloaded_volume_ml for wall, rate in sides]
    rates += [rate.synthesis_per_day for _, rate in sides]
    reached = np.percentile(np.abs(rates), 95, axis=1)
    # the last two: growth that sets in, mass ~ half its rate times the step squared
    fastest, setting_in = float(reached[:4].max()), float(reached[4:].max())
    wished = min(
        pace.largest_change / max(fastest, 1e-9),
        float(np.sqrt(2.0 * pace.largest_change / max(setting_in, 1e-9))),
    )
    return min(max(wished, pace.shortest_days), pace.longest_days)


def _moved(walls: Walls, slope: Walls, days: float) -> Walls:
    return Walls(
        left=_moved_wall(walls.left, slope.left, days),
        right=_moved_wall(walls.right, slope.right, days),
    )


def _stepped(walls: Walls, slope: Walls, later: Walls, days: float, change: float) -> Walls:
    return Walls(
        left=_stepped_wall(walls.left, slope.left, later.left, days, change),
        right=_stepped_wall(walls.right, slope.right, later.right, days, change),
    )


def _stepped_wall(wall: Wall, slope: Wall, later: Wall, days: float, change: float) -> Wall:
    """A step by the slopes at its start and middle: the midpoint rule.

    A state whose rate falls fast comes to rest on the way: its rate decays, and the longer the step
    the less of it is left. The midpoint rule would throw it back and forth about its rest, and the
    steps of all would stay as short as that needs.
    """
    moved: dict[str, Floats] = {}
    for item in fields(Wall):
        here: Floats = getattr(wall, item.name)
        first: Floats = getattr(slope, item.name)
        middle: Floats = getattr(later, item.name)
        lost = 1.0 - np.divide(middle, first, out=np.ones_like(first), where=first != 0.0)
        far = days * np.abs(middle) > FAR * change * np.maximum(np.abs(here), LEAST_SIZE)
        rests = (lost > HALF) & ((lost < PUSHED) | far)
        resting: Floats = first / (4.0 * np.maximum(lost, HALF))
        after: Floats = here + days * np.where(rests, resting, middle)
        if item.name in SIZES:
            after = np.clip(np.where(np.isfinite(after), after, here), here / MOST, here * MOST)
        moved[item.name] = after
    return Wall(**moved)


# chosen: no size changes by more than this factor in a step, whatever a member's beat may say
MOST = 2.0
SIZES = frozenset({"mass_g", "unloaded_volume_ml", "strength"})


# derived: share of a rate lost by the middle of a step beyond which the midpoint rule loses its
# hold; rate and slope of the rule that takes over are the same there
HALF = 0.5
# chosen: a rate that turned to three times its size the other way was pushed, unless it goes far
PUSHED = 4.0
# chosen: how many times the largest change of a step is far; least size of a state whose change is
# judged, for synthesis near none
FAR, LEAST_SIZE = 1.2, 0.05


def _moved_wall(wall: Wall, rate: Wall, days: float) -> Wall:
    return replace(
        wall,
        **{f.name: getattr(wall, f.name) + days * getattr(rate, f.name) for f in fields(Wall)},
    )
