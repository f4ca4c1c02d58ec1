"""A question put to the desk for a page: a first look by few draws, the full answer, the paper.

The first look at the window is the coarse one, for a finger that moves; others ask fewer draws.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

import numpy as np

from inseries.base.findings import Caution, Severity
from inseries.desk.answer import Answer, Shown, Table
from inseries.desk.cautions import ensemble_cautions, standing_cautions
from inseries.desk.criteria import tiers_of
from inseries.desk.handles import COARSE, parted
from inseries.desk.now import DEFAULT_SEED, NOW_DRAWS, describe, refuse_after_switch
from inseries.desk.published import published
from inseries.desk.run import run_record
from inseries.desk.try_opening import try_openings
from inseries.desk.urgency import Urgency  # noqa: TC001 - read at run time by the page
from inseries.desk.verbs import VERBS, load
from inseries.desk.window import HORIZON_DAY, LEAST_AHEAD_DAYS
from inseries.desk.window_curve import first_below, window_view
from inseries.desk.window_result import TierAnswer
from inseries.draw.views import WindowView  # noqa: TC001 - read at run time by the page
from inseries.evidence.rows import cost_of_waiting, limits_not_lv
from inseries.prior.narrow import narrowed
from inseries.prior.window import coarse_draws, coarse_outlook

if TYPE_CHECKING:
    from collections.abc import Mapping

    from inseries.case import Case
    from inseries.desk.answer import Progress
    from inseries.prior.traits import Floats

FIRST_LOOK = "A first look by few draws; the full answer follows and may differ by some points."


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstLook:
    """The coarse window: urgency, the curve, and what must stand beside any curve."""

    urgency: Urgency
    days: tuple[float, ...]
    tiers: Mapping[str, TierAnswer]
    picture: WindowView

    def shown(self) -> Shown:
        """Urgency first, then what kind of look this is."""
        u = self.urgency
        first = f"{u.level.upper()}: {u.headline}. Next decision within {u.hours:g} h."
        return Shown(sentences=(first, FIRST_LOOK), tables=(_cost(), _limits()))


def first_look(
    verb: str, record: Case, asked: Mapping[str, float], progress: Progress | None = None
) -> Answer:
    """A verb's answer by few draws.

    Parameters
    ----------
    verb : one of those in ``COARSE``
    record : the case as written
    asked : numbers by the names of the page's handles
    progress : told stage and share done; what it raises ends the work

    Returns
    -------
    Answer; of the window, with a FirstLook

    Raises
    ------
    InseriesError, as the verb itself
    """
    if verb == "window":
        return _window(record, progress)
    return full(verb, record, asked, progress, draws=COARSE[verb])


def full(
    verb: str,
    record: Case,
    asked: Mapping[str, float],
    progress: Progress | None = None,
    *,
    draws: int | None = None,
) -> Answer:
    """A verb's answer, as the command line gives it for the same case and options."""
    tries, options = parted(asked)
    if tries:
        return try_openings(record, tries, draws or NOW_DRAWS, progress)
    names: dict[str, object] = dict(options)
    known = VERBS[verb]
    if draws is not None and "draws" in known.takes:
        names["draws"] = draws
    if progress is not None and "progress" in known.takes:
        names["progress"] = progress
    if "out_path" not in known.takes:
        return load(known)(record, **names)
    with TemporaryDirectory(prefix="inseries-") as folder:
        # a page looks, and leaves no file: the printed page is asked for by itself
        return load(known)(record, **names, out_path=Path(folder) / f"{record.id}-{verb}.pdf")


def paper(
    verb: str, record: Case, asked: Mapping[str, float], progress: Progress | None = None
) -> bytes:
    """The printed page of a verb as PDF: its own where it has one, else the team brief."""
    takes = VERBS[verb].takes
    own = verb if {"page_path", "out_path"} & set(takes) else "brief"
    name = "page_path" if "page_path" in VERBS[own].takes else "out_path"
    options = parted(asked)[1]
    with TemporaryDirectory(prefix="inseries-") as folder:
        target = Path(folder) / "page.pdf"
        names: dict[str, object] = {k: v for k, v in options.items() if k in VERBS[own].takes}
        names[name] = target
        if progress is not None and "progress" in VERBS[own].takes:
            names["progress"] = progress
        load(VERBS[own])(record, **names)
        return target.read_bytes()


def _window(record: Case, progress: Progress | None) -> Answer:
    refuse_after_switch(record, "window")
    today = narrowed(record, draws=COARSE["window"], seed=DEFAULT_SEED, progress=progress)
    seen, _ = describe(record, today)
    horizon = max(HORIZON_DAY, float(np.ceil(today.age_days + LEAST_AHEAD_DAYS)))
    few = coarse_draws(today)
    ahead = coarse_outlook(
        few, tiers_of(), horizon_day=horizon, seed=DEFAULT_SEED, digest=record.digest
    )
    ages = np.concatenate(
        [[today.age_days], np.arange(np.floor(today.age_days) + 1.0, horizon + 0.5)]
    )
    tiers = {t.name: _tier(ahead.chance(t.name, ages), ages, horizon) for t in ahead.tiers}
    result = FirstLook(
        urgency=seen.urgency,
        days=tuple(float(age) for age in ages),
        tiers=tiers,
        picture=window_view(record, tiers, ages, horizon),
    )
    note = Caution(severity=Severity.CAUTION, text=FIRST_LOOK)
    return Answer(
        verb="window",
        case_id=record.id,
        result=result,
        cautions=(note, *standing_cautions(record), *ensemble_cautions(today)),
        run=run_record(
            record.digest,
            seed=DEFAULT_SEED,
            draws=COARSE["window"],
            effective_draws=today.effective_draws,
        ),
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
