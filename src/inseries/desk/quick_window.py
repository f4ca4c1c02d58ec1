"""Looks at the window that follow a finger: by few draws at once, by more a moment later.

The draws are narrowed once for each state of a case. A look takes some of them, with the readings
as they are or with another opening tried from today on.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

import numpy as np

from inseries.base.findings import Caution, Severity
from inseries.desk.answer import Answer, Shown, Table
from inseries.desk.cautions import ensemble_cautions, standing_cautions
from inseries.desk.criteria import tiers_of
from inseries.desk.now import DEFAULT_SEED, describe, refuse_after_switch
from inseries.desk.published import published
from inseries.desk.ready import Babies
from inseries.desk.run import run_record
from inseries.desk.try_opening import WORDS, tried_story
from inseries.desk.urgency import Urgency  # noqa: TC001 - read at run time by the page
from inseries.desk.window import HORIZON_DAY, LEAST_AHEAD_DAYS, WINDOW_DRAWS
from inseries.desk.window_curve import first_below, window_view
from inseries.desk.window_result import TierAnswer
from inseries.desk.window_words import what
from inseries.draw.views import WindowView  # noqa: TC001 - read at run time by the page
from inseries.evidence.rows import cost_of_waiting, limits_not_lv
from inseries.prior.forecast import some
from inseries.prior.narrow import Narrowed, narrowed
from inseries.prior.window import COARSE_DRAWS, Outlook, coarse_draws, coarse_outlook, outlook

if TYPE_CHECKING:
    from collections.abc import Mapping

    from inseries.case import Case
    from inseries.desk.answer import Progress
    from inseries.prior.traits import Floats

Depth = Literal["first", "fuller", "tried"]
# chosen: draws of each look; the second comes within two seconds on two cores
DRAWS: dict[Depth, int] = {"first": COARSE_DRAWS, "fuller": 96, "tried": WINDOW_DRAWS}
FIRST_LOOK = "A first look by few draws; the full answer follows and may differ by some points."
FULLER = "A second look by half the draws; the full answer follows and may differ by few points."
TRIED = (
    "Tried, not read: what the same draws would do with this opening from today on. Its harms, and "
    "how it could be made, are not in it."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ready:
    """A baby narrowed by all its readings, its first look, how urgent it is, how sure that is."""

    today: Narrowed
    as_is: Outlook
    urgency: Urgency
    cautions: tuple[Caution, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstLook:
    """A window by part of the draws: urgency, the curve, and what must stand beside any curve."""

    urgency: Urgency
    note: str
    tried: Mapping[str, float]
    days: tuple[float, ...]
    tiers: Mapping[str, TierAnswer]
    picture: WindowView

    def shown(self) -> Shown:
        """Urgency first, then what kind of look this is, then the chances."""
        u = self.urgency
        first = f"{u.level.upper()}: {u.headline}. Next decision within {u.hours:g} h."
        opened = " and ".join(f"{WORDS[name]} of {mm:g} mm" for name, mm in self.tried.items())
        tried = (f"Tried: {opened}. The first line is of what is recorded.",) if opened else ()
        chances = what(self.tiers, np.array(self.days), self.days[-1])
        return Shown(sentences=(first, self.note, *tried, chances), tables=(_cost(), _limits()))


READY: Babies[Ready] = Babies()


def quick_window(
    record: Case, tried: Mapping[str, float], depth: Depth, progress: Progress | None = None
) -> Answer:
    """The window by part of the draws.

    Parameters
    ----------
    record : the case as written
    tried : diameters in mm by the names of what is tried, or none
    depth : first and coarse; fuller; or all draws of what is tried
    progress : told stage and share done; what it raises ends the work

    Returns
    -------
    Answer of the verb ``window``, with a FirstLook

    Raises
    ------
    InseriesError, as ``window``
    """
    refuse_after_switch(record, "window")
    ready = READY.ready(record.digest, lambda: _ready(record, progress))
    few = _few(ready.today, tried, depth)
    known = depth == "first" and not tried
    ahead = ready.as_is if known else _ahead(record, ready, few, depth, progress)
    few.refuse_failed()
    horizon = _horizon(few)
    ages = np.concatenate([[few.age_days], np.arange(np.floor(few.age_days) + 1.0, horizon + 0.5)])
    tiers = {t.name: _tier(ahead.chance(t.name, ages), ages, horizon) for t in ahead.tiers}
    note = {"first": FIRST_LOOK, "fuller": FULLER, "tried": TRIED}[depth]
    result = FirstLook(
        urgency=ready.urgency,
        note=note,
        tried=dict(tried),
        days=tuple(float(age) for age in ages),
        tiers=tiers,
        picture=window_view(record, tiers, ages, horizon),
    )
    return Answer(
        verb="window",
        case_id=record.id,
        result=result,
        cautions=(
            *(Caution(severity=Severity.CAUTION, text=text) for text in _notes(note, tried)),
            *ready.cautions,
        ),
        run=run_record(
            record.digest,
            seed=DEFAULT_SEED,
            draws=few.baby.traits.members,
            effective_draws=few.effective_draws,
        ),
    )


def _notes(note: str, tried: Mapping[str, float]) -> tuple[str, ...]:
    return tuple(dict.fromkeys((note, TRIED) if tried else (note,)))


def _ready(record: Case, progress: Progress | None) -> Ready:
    today = narrowed(record, draws=WINDOW_DRAWS, seed=DEFAULT_SEED, progress=progress)
    few = coarse_draws(today)
    as_is = _coarse(record, few)
    few.refuse_failed()
    return Ready(
        today=today,
        as_is=as_is,
        urgency=describe(record, today)[0].urgency,
        cautions=(*standing_cautions(record), *ensemble_cautions(today)),
    )


def _horizon(today: Narrowed) -> float:
    return max(HORIZON_DAY, float(np.ceil(today.age_days + LEAST_AHEAD_DAYS)))


def _few(today: Narrowed, tried: Mapping[str, float], depth: Depth) -> Narrowed:
    """Some of the draws, with a count of their own of what did not settle."""
    few = coarse_draws(today) if depth == "first" else some(today, DRAWS[depth])
    if not tried:
        return few
    return replace(few, baby=few.baby.with_story(tried_story(few.baby.story, tried, few.age_days)))


def _ahead(
    record: Case, ready: Ready, few: Narrowed, depth: Depth, progress: Progress | None
) -> Outlook:
    if depth == "first":
        return _coarse(record, few, ready.as_is)
    return outlook(
        few,
        tiers_of(),
        horizon_day=_horizon(few),
        seed=DEFAULT_SEED,
        digest=record.digest,
        progress=progress,
    )


def _coarse(record: Case, few: Narrowed, beside: Outlook | None = None) -> Outlook:
    return coarse_outlook(
        few,
        tiers_of(),
        horizon_day=_horizon(few),
        seed=DEFAULT_SEED,
        digest=record.digest,
        beside=beside,
    )


def _cost() -> Table:
    return Table(
        title="What waiting costs (published, other babies)",
        columns=("what was found", "in whom", "beware"),
        rows=tuple(
            (row.text, row.in_whom, row.caution) for row in map(published, cost_of_waiting())
        ),
    )


def _limits() -> Table:
    return Table(
        title="Limits that are not the left ventricle's",
        columns=("limit", "why"),
        rows=tuple((item.name.replace("_", " "), item.sentence) for item in limits_not_lv()),
    )


def _tier(chance: Floats, ages: Floats, horizon: float) -> TierAnswer:
    """Means and spread by day; where a curve passes a level is left to the full answer."""
    mean = chance.mean(axis=0)
    low, high = np.percentile(chance, [5.0, 95.0], axis=0)
    below = first_below(mean, ages, 0.5, horizon)
    return TierAnswer(
        chance=tuple(mean.tolist()),
        chance_low=tuple(low.tolist()),
        chance_high=tuple(high.tolist()),
        below_90_day=first_below(mean, ages, 0.9, horizon),
        below_50_day=below,
        open_ended_for_lv_only=bool(below == horizon and mean[-1] >= 0.5),
    )
