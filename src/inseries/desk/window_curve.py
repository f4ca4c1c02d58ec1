"""The window as a record to draw, and how its days and chances are put into words."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

import numpy as np

from inseries.base.ages import age_words
from inseries.case.words import EVENT_WORDS
from inseries.desk.by_law import LAW_WORDS
from inseries.draw.views import LawLine, Mark, PublishedSpan, Tier, WindowView
from inseries.evidence.rows import cost_of_waiting, late_series

if TYPE_CHECKING:
    from collections.abc import Mapping

    from inseries.case import Case
    from inseries.desk.by_law import LawCurve
    from inseries.prior.traits import Floats

CHANCE_STEP = 5  # common practice: a reader can tell chances apart in steps of about five points
SIMULATED = "Simulated for this baby, for the left ventricle alone; the bars are other babies."
LAWS_DRAWN = "Thin lines: the survivable chance, were one law of growth alone true."
_MEANING = {
    "survivable": "the edge of low output",
    "comfortable": "output at a low filling pressure",
}


class Curve(Protocol):
    """What a curve is drawn from."""

    @property
    def chance(self) -> tuple[float, ...]:
        """Mean chance by day."""
        ...

    @property
    def chance_low(self) -> tuple[float, ...]:
        """Lower end of its interval."""
        ...

    @property
    def chance_high(self) -> tuple[float, ...]:
        """Upper end of its interval."""
        ...


def five(chance: float) -> int:
    """A chance in per cent, in steps of five."""
    return CHANCE_STEP * round(100.0 * chance / CHANCE_STEP)


def first_below(mean: Floats, ages: Floats, level: float, horizon: float) -> float | None:
    """First day below a level after a run at or above it; the horizon where the run reaches it.

    Returns
    -------
    float or None when the level is never reached
    """
    above = np.flatnonzero(mean >= level)
    if above.size == 0:
        return None
    after = np.flatnonzero((mean < level) & (np.arange(mean.size) > above[0]))
    return float(ages[after[0]]) if after.size else float(horizon)


def window_view(
    case: Case,
    tiers: Mapping[str, Curve],
    ages: Floats,
    horizon: float,
    laws: tuple[LawCurve, ...] = (),
    limiting: tuple[str, ...] = (),
) -> WindowView:
    """The window as a record to draw.

    Parameters
    ----------
    case : its readings and events are marked on the age axis
    tiers : the curves by name
    ages : days of the curves
    horizon : last day
    laws : mean curves of each growth law; drawn where there are two
    limiting : by what most failing operations fail, for each day

    Returns
    -------
    WindowView
    """
    return WindowView(
        title="Chance by age at switch",
        days=tuple(float(age) for age in ages),
        tiers=tuple(
            Tier(
                name=name,  # pyright: ignore[reportArgumentType]
                chance=curve.chance,
                low=curve.chance_low,
                high=curve.chance_high,
                meaning=_MEANING[name],
            )
            for name, curve in tiers.items()
        ),
        horizon_day=horizon,
        marks=_marks(case),
        published=_spans(horizon),
        cost_lines=("The odds of major morbidity rise with each day after day 3; see the table.",),
        sentence=" ".join((SIMULATED, *((LAWS_DRAWN,) if len(laws) > 1 else ()))),
        figure_id="window",
        laws=tuple(
            LawLine(name=LAW_WORDS[law.law], chance=law.survivable) for law in laws if len(laws) > 1
        ),
        limiting=limiting,
    )


def _marks(case: Case) -> tuple[Mark, ...]:
    masses = [
        Mark(day=value.age_days, label="LV mass", kind="reading") for value in case.all("lv_mass_g")
    ]
    events = [
        Mark(day=event.age_days, label=EVENT_WORDS.get(event.kind, event.kind.value), kind="event")
        for event in case.events
    ]
    today = Mark(day=case.age_days, label=f"today, {age_words(case.age_days)}", kind="reading")
    return (*masses[:-1], *events, today)


def _spans(horizon: float) -> tuple[PublishedSpan, ...]:
    short = {
        "late_primary_switch_14": "primary switch",
        "late_surgery_11": "switch or atrial switch",
        "late_loaded_48": "ventricle kept loaded",
        "death_after_day_6": "neonatal switch",
    }
    rows = [*late_series(), *(row for row in cost_of_waiting() if row.id in short)]
    return tuple(
        PublishedSpan(
            label=f"{short.get(row.id, row.quantity)}, n = {row.n}",
            low_day=row.age_low_days or 0.0,
            high_day=row.age_high_days,
            source_text="",
        )
        for row in rows
        if (row.age_low_days or 0.0) < horizon
    )
