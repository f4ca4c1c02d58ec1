"""Months in few beats: an implicit walk for the time when walls have all but come to rest.

Near rest a wall answers within a day while body and lungs change over months; explicit steps must
then stay below about two days. Here each step is one of the implicit Euler method, solved by
Newton's: how stress and stretch answer to mass, cavity and strength is measured by three beats and
kept for some steps; how rates answer to stress and stretch is asked of the law each time.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING

import numpy as np

from inseries.course.laws import Load
from inseries.course.walk import SAME_AGE_DAYS, Stop
from inseries.course.walls import Floats, Wall, Walls

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from inseries.course.laws import Individual, Law
    from inseries.course.walk import Beat, Body, Sensed

SIDES = ("left", "right")
STATE = tuple(item.name for item in fields(Wall))
# derived: the places of the state that a beat feels; synthesis it does not
FELT = 3
# chosen: relative step of the differences; truncation and the beat's tolerance both stay small
NUDGE = 0.02
# chosen: least scale of a state's difference, for synthesis near none
LEAST_SCALE = 0.05
# chosen: Newton's steps at most, and the relative change at which they end, 95 of 100 members
MOST_NEWTON, SETTLED = 4, 0.008
# chosen: no mass, cavity or strength changes by more than this share in one step; near rest a
# larger change is an excursion of Newton's method
MOST_CHANGE = 0.15
# chosen: answers to mass, cavity and strength are measured again after so many steps
MEASURED_AGAIN = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Stride:
    """Steps of a glide, days: the first, how much longer each next one, the longest."""

    # chosen: mass at a year stays within 1 % of that of short steps (tests/rooms/test_course_glide)
    first_days: float = 1.0
    growth: float = 1.4  # chosen: steps lengthen as walls come to rest
    longest_days: float = 15.0  # chosen: body and lungs change little within it


def glide(  # noqa: PLR0913 - as for a walk: heart, law, baby, body and days, all by name
    beat: Beat,
    walls: Walls,
    *,
    law: Law,
    who: Individual,
    body: Body,
    start_days: float,
    stops_days: Iterable[float],
    stride: Stride | None = None,
) -> Iterator[Stop]:
    """Walls and beat at each asked day, in long steps.

    Parameters
    ----------
    beat, walls, law, who, body, start_days, stops_days : as for ``walk``
    stride : lengths of the steps

    Yields
    ------
    Stop, in order

    Holds where nothing happens at once between start and last stop, and growth under way is slow
    against the first step. Medians keep within 2 % of ``walk`` while a wall bears load and 5 %
    while an unloaded one falls; a single member may stray by more for some steps and comes back.
    """
    stride = stride or Stride()
    way = _Implicit(beat, law, who, body)
    age, step = start_days, stride.first_days
    state = _array(walls)
    for stop in stops_days:
        while age < stop - SAME_AGE_DAYS:
            left = stop - age
            taken = left if left <= 1.2 * step else min(step, 0.5 * left)
            state = way.stepped(state, age, taken)
            age += taken
            step = min(max(step, taken) * stride.growth, stride.longest_days)
        age = stop
        here = _walls(state)
        yield Stop(age_days=stop, walls=here, sensed=beat(age, here))


class _Implicit:
    """Implicit steps; arrays have shape (2 sides, 4 of the state, n)."""

    def __init__(self, beat: Beat, law: Law, who: Individual, body: Body) -> None:
        self.beat, self.law, self.who, self.body = beat, law, who, body
        self._answers: Floats | None = None
        self._steps = 0

    def stepped(self, start: Floats, age: float, step: float) -> Floats:
        """The state one step later."""
        later = age + step
        if self._answers is None or self._steps % MEASURED_AGAIN == 0:
            self._answers = self._measured(start, later)
        self._steps += 1
        state = start
        for _ in range(MOST_NEWTON):
            loads = _loads(self.beat(later, _walls(state)))
            rates = self._rates(state, loads, later)
            slopes = self._slopes(state, loads, rates, later)
            change = _solved(slopes, start + step * rates - state, step)
            before, state = state, _bounded(start, state + change)
            if float(np.percentile(_moved(before, state), 95)) < SETTLED:
                break
        return state

    def _measured(self, state: Floats, age: float) -> Floats:
        """How loads answer to mass, cavity and strength: shape (2, 3 loads, 3, n)."""
        base = _loads(self.beat(age, _walls(state)))
        answers = np.zeros((len(SIDES), base.shape[1], FELT, state.shape[2]))
        for place in range(FELT):
            nudged = state.copy()
            nudged[:, place] *= 1.0 + NUDGE
            moved = _loads(self.beat(age, _walls(nudged))) - base
            answers[:, :, place] = moved / (NUDGE * state[:, place])[:, None]
        return answers

    def _rates(self, state: Floats, loads: Floats, age: float) -> Floats:
        """Rates of the state by the law."""
        walls = _walls(state)
        surface = self.body.surface_m2(age)
        found: list[Floats] = []
        for place, side in enumerate(SIDES):
            load = Load(
                mean_stress_mmhg=loads[place, 0],
                filled_stretch=loads[place, 1],
                emptied_stretch=loads[place, 2],
                surface_m2=surface,
                usual_volume_ml=self.body.usual_volume_ml(age, side),
            )
            rates = self.law.rates(getattr(walls, side), load, self.who, side)
            found.append(np.stack([getattr(rates, name) for name in STATE]))
        return np.stack(found)

    def _slopes(self, state: Floats, loads: Floats, rates: Floats, age: float) -> Floats:
        """How rates answer to the state of their own side: shape (2, n, 4, 4)."""
        assert self._answers is not None
        count = state.shape[2]
        slopes = np.zeros((len(SIDES), count, len(STATE), len(STATE)))
        for place in range(len(STATE)):
            size = NUDGE * np.maximum(np.abs(state[:, place]), LEAST_SCALE)
            nudged = state.copy()
            nudged[:, place] += size
            felt = loads
            if place < FELT:
                felt = loads + self._answers[:, :, place] * size[:, None]
            moved = (self._rates(nudged, felt, age) - rates) / size[:, None]
            slopes[:, :, :, place] = moved.transpose(0, 2, 1)
        return slopes


def _solved(slopes: Floats, short: Floats, step: float) -> Floats:
    """Newton's change of the state, each side of each member by itself."""
    matrix = np.eye(len(STATE)) - step * slopes
    change = np.linalg.solve(matrix, short.transpose(0, 2, 1)[..., None])[..., 0]
    return change.transpose(0, 2, 1).astype(np.float64)


def _bounded(start: Floats, after: Floats) -> Floats:
    """A state in which no size is further than a share from the start of the step."""
    most = MOST_CHANGE * np.abs(start[:, :FELT])
    kept = after.copy()
    kept[:, :FELT] = np.clip(after[:, :FELT], start[:, :FELT] - most, start[:, :FELT] + most)
    return kept


def _moved(before: Floats, after: Floats) -> Floats:
    """Relative changes of mass, cavity and strength, shape (2, 3, n)."""
    sizes: Floats = np.maximum(np.abs(after[:, :FELT]), LEAST_SCALE)
    return np.abs((after[:, :FELT] - before[:, :FELT]) / sizes)


def _loads(sensed: Sensed) -> Floats:
    return np.stack([np.stack(sensed.load(side)) for side in SIDES])


def _array(walls: Walls) -> Floats:
    return np.stack(
        [np.stack([getattr(getattr(walls, side), name) for name in STATE]) for side in SIDES]
    )


def _walls(state: Floats) -> Walls:
    left, right = (
        Wall(**{name: state[place, row] for row, name in enumerate(STATE)}) for place in (0, 1)
    )
    return Walls(left=left, right=right)
