"""Draws of one baby at the age of its last reading, narrowed by its readings.

``narrowed`` carries every draw from birth through all readings; ``snapshot`` looks at the last
day's readings only and is quick.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from inseries.base.errors import PriorError
from inseries.case.record import Case, EventKind
from inseries.circuit.orbit import QUICK, Settings
from inseries.course.walk import Pace, walk
from inseries.course.walls import Wall, Walls
from inseries.prior.baby import Baby, Sensed
from inseries.prior.from_case import story_of
from inseries.prior.importance import Carried, Progress, Weighed, resampled, weighed_draws
from inseries.prior.observe import Observed, observed
from inseries.prior.traits import Floats, Traits, law_of, middle_by_law

if TYPE_CHECKING:
    from inseries.prior.story import Story

# chosen: above this share of unsettled circuits there is no answer
MOST_FAILED = 0.10
# chosen: readings of the last so many days count as now, unless an event has come between
NOW_DAYS = 1.0
# chosen: draws of each fit for a snapshot, whose answers bend little
SNAPSHOT_FIT_DRAWS = (80, 96)
# chosen: slow steps while narrowing; over the whole prior, mass errs by 0.4 % on average and what
# readings see by 0.01 of their sd, 0.8 at most
NARROW_PACE = Pace(shortest_days=0.5, longest_days=3.0, largest_change=0.1)
# chosen: slow steps of the middle babies of a snapshot; mass at 12 days errs by 0.3 % on average
SNAPSHOT_PACE = Pace(shortest_days=0.5, longest_days=3.0, largest_change=0.10)
# chosen: steps and tolerance of a beat where draws only propose others; pressures err by 0.3 mmHg
ROUGH = Settings(steps=96, tolerance_ml=5e-3)
# derived: events that change the circulation at once
CHANGING = (
    EventKind.SEPTOSTOMY,
    EventKind.DUCT_STENT,
    EventKind.DUCT_CLOSED,
    EventKind.SHUNT,
    EventKind.BAND,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Narrowed:
    """Equally weighted draws of a baby at one age.

    Parameters
    ----------
    baby : the draws, warm at that age
    walls : their walls at that age
    age_days : the age
    effective_draws : of the weighted samples they were taken from
    narrowing_failed : share of samples whose beat did not settle; they weighed nothing
    readings_used : how many readings narrowed them
    """

    baby: Baby
    walls: Walls
    age_days: float
    effective_draws: float
    narrowing_failed: float
    readings_used: int

    @property
    def failed_share(self) -> float:
        """Share that did not settle: draws while narrowing or beats since, the larger of both."""
        since = self.baby.tally.unsettled / max(self.baby.tally.orbits, 1)
        return max(self.narrowing_failed, since)

    def refuse_failed(self) -> None:
        """Refuses an answer when too many circuits did not settle."""
        if self.failed_share > MOST_FAILED:
            raise PriorError(
                "too many of the circuits that fit this baby find no steady beat",
                code="too_many_failed",
                where="draws",
                value=round(100.0 * self.failed_share),
                unit="%",
                remedy="look at `check` for sizes that contradict others, or ask for more draws",
            )


def narrowed(case: Case, *, draws: int, seed: int, progress: Progress | None = None) -> Narrowed:
    """Draws of a baby carried from birth through all its readings.

    Parameters
    ----------
    case : Case with a weight
    draws : how many to keep
    seed : of the run
    progress : told the share done

    Returns
    -------
    Narrowed

    Raises
    ------
    PriorError
        no weight; or fewer than 40 effective draws
    """
    story, seen = story_of(case), observed(case)
    best = weighed_draws(
        lambda traits: _walked(story, case.age_days, seen, traits),
        seen,
        draws=draws,
        seed=seed,
        digest=case.digest,
        rough=lambda traits: _walked(story, case.age_days, seen, traits, SNAPSHOT_PACE, ROUGH),
        progress=progress,
    )
    return _kept(case, best, draws, len(seen))


def snapshot(case: Case, *, draws: int, seed: int, progress: Progress | None = None) -> Narrowed:
    """Draws of a baby as it is now, from the last day's readings.

    Walls are those of a middle baby of each law at that age, spread by the traits and narrowed like
    the rest.

    Parameters, returns and errors as in ``narrowed``.
    """
    story, seen = story_of(case), recent(case)
    centre = _walked(story, case.age_days, (), middle_by_law(), SNAPSHOT_PACE)
    best = weighed_draws(
        lambda traits: _seen_once(case.age_days, seen, traits, centre),
        seen,
        draws=draws,
        seed=seed,
        digest=case.digest,
        fits=SNAPSHOT_FIT_DRAWS,
        progress=progress,
    )
    return _kept(case, best, draws, len(seen))


def recent(case: Case) -> tuple[Observed, ...]:
    """The last reading of each kind within a day, and not before the last change."""
    changes = [event.age_days for event in case.events if event.kind in CHANGING]
    since = max([case.age_days - NOW_DAYS, *changes])
    last = {item.key: item for item in observed(case) if item.age_days >= since}
    return tuple(last.values())


def _walked(
    story: Story,
    age_days: float,
    seen: tuple[Observed, ...],
    traits: Traits,
    pace: Pace = NARROW_PACE,
    settings: Settings = QUICK,
) -> Carried:
    """Walks every draw from birth and notes the model's side of each reading on the way."""
    baby = Baby(traits, story, settings=settings)
    answers = np.zeros((traits.members, len(seen)))
    walls = baby.walls_at_birth()
    stops = walk(
        baby.beat,
        walls,
        law=baby.law,
        who=baby.individual(),
        body=baby.body(),
        start_days=0.0,
        stops_days=sorted({item.age_days for item in seen} | {age_days}),
        breaks_days=story.breaks_days,
        pace=pace,
    )
    for stop in stops:
        walls, sensed = stop.walls, stop.sensed
        assert isinstance(sensed, Sensed)
        for column, item in enumerate(seen):
            if item.age_days == stop.age_days:
                answers[:, column] = item.predict(sensed.readings, walls, traits)
    return Carried(baby=baby, walls=walls, answers=answers)


def _seen_once(
    age_days: float, seen: tuple[Observed, ...], traits: Traits, centre: Carried
) -> Carried:
    """One beat a draw, started from that of the middle baby that follows the same law."""
    rows = law_of(traits)
    baby = centre.baby.with_traits(traits, rows)
    birth, now = centre.baby.walls_at_birth().at(rows), centre.walls.at(rows)
    own = Walls(
        left=_spread(now.left, birth.left, traits, "lv"),
        right=_spread(now.right, birth.right, traits, "rv"),
    )
    readings = baby.beat(age_days, own).readings
    columns = [item.predict(readings, own, traits) for item in seen]
    answers = np.column_stack(columns) if columns else np.zeros((traits.members, 0))
    return Carried(baby=baby, walls=own, answers=answers)


def _spread(wall: Wall, birth: Wall, traits: Traits, prefix: str) -> Wall:
    """A middle wall spread by traits: what it lost since birth goes with the rate of loss."""
    ratio = wall.mass_g / birth.mass_g
    kept: Floats = np.where(ratio < 1.0, ratio ** traits["loss_rate"], ratio)
    return replace(
        wall,
        mass_g=birth.mass_g * kept * traits[f"{prefix}_mass"],
        unloaded_volume_ml=wall.unloaded_volume_ml * traits[f"{prefix}_cavity"],
    )


def _kept(case: Case, weighed: Weighed, draws: int, readings: int) -> Narrowed:
    rows = resampled(weighed.weights, draws)
    run = weighed.run
    return Narrowed(
        baby=run.baby.at(rows),
        walls=run.walls.at(rows),
        age_days=case.age_days,
        effective_draws=min(weighed.effective, float(draws)),
        narrowing_failed=len(run.baby.tally.failed) / run.baby.traits.members,
        readings_used=readings,
    )
