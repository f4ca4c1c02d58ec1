"""What would move this baby's window: each change with its harm beside its gain.

A coarse set of the draws is walked on once as things are and once under each change; gains are
differences within the same draws.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from inseries.base.errors import RouteNotPossible
from inseries.base.findings import Estimate
from inseries.base.numbers import Provenance, read_numbers
from inseries.desk.drivers import HIGH_PCT, LOW_PCT, days_of_window
from inseries.desk.spans import signed
from inseries.evidence.rows import rows_on
from inseries.prior.actions import Action, Kind
from inseries.prior.forecast import some
from inseries.prior.importance import unheard
from inseries.prior.narrow import MOST_FAILED
from inseries.prior.window import COARSE, COARSE_DRAWS, Outlook, coarse_outlook

if TYPE_CHECKING:
    from collections.abc import Callable

    from inseries.evidence.rows import Row
    from inseries.prior.importance import Progress
    from inseries.prior.narrow import Narrowed
    from inseries.prior.operation import Tier
    from inseries.prior.story import Story
    from inseries.prior.traits import Floats

# chosen: days from today at which the chance is told
DAYS_ON = (7.0, 21.0)
# chosen: smaller computed changes are not told, in points of saturation or EF, and in mmHg
LEAST_TOLD_POINTS, LEAST_TOLD_MMHG = 2.0, 1.0
# chosen: days from today at which what a change does meanwhile is told
SOON_DAYS = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ChanceOnDay:
    """Chance of both tiers at one age, with the change and as things are."""

    day: float
    survivable: float
    survivable_as_is: float
    comfortable: float
    comfortable_as_is: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """One change, its gain and its harms.

    Parameters
    ----------
    change : in words
    gain_days : days of window gained (lost where negative), mean and 90 % interval over the draws
    chances : a week and three weeks from now, within the horizon
    meanwhile : what it does to saturation, filling and ejection soon after, computed
    harms : in words, with what was published
    sources : bibliography keys of what was published
    """

    change: str
    gain_days: Estimate
    chances: tuple[ChanceOnDay, ...]
    meanwhile: tuple[str, ...]
    harms: tuple[str, ...]
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """A change to ask about: actions from today on, or another story."""

    name: str
    harm: str
    topics: tuple[str, ...] = ()
    actions: tuple[Action, ...] = ()
    story: Story | None = None

    @property
    def rows(self) -> tuple[Row, ...]:
        """What was published of its harm."""
        return tuple(row for topic in self.topics for row in rows_on(topic))


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """What every coarse look shares."""

    tiers: tuple[Tier, ...]
    horizon_day: float
    seed: int
    digest: str
    progress: Progress | None = None

    def ahead(
        self,
        today: Narrowed,
        actions: tuple[Action, ...] = (),
        beside: Outlook | None = None,
    ) -> Outlook:
        """A coarse outlook, begun near another of the same draws."""
        return coarse_outlook(
            today,
            self.tiers,
            actions=actions,
            horizon_day=self.horizon_day,
            seed=self.seed,
            digest=self.digest,
            beside=beside,
        )


@lru_cache(maxsize=1)
def sizes() -> dict[str, float]:
    """How large each change is taken to be."""
    numbers = read_numbers("inseries.desk", "would_move.toml")
    return {name: number.value for name, number in numbers.items()}


def what_would_move(today: Narrowed, plan: Plan, draws: int = COARSE_DRAWS) -> tuple[Moved, ...]:
    """Every change that makes sense for this baby.

    Parameters
    ----------
    today : narrowed draws
    plan : criteria, horizon and seed of the window
    draws : how many of the draws are walked on

    Returns
    -------
    tuple of Moved; a change that the story rules out, or whose circuits do not settle, is left out
    """
    few = some(today, draws, COARSE)
    as_is = plan.ahead(few)
    found: list[Moved] = []
    tell, asked = plan.progress or unheard, changes(few)
    for place, change in enumerate(asked, start=1):
        tell("asking what would move it", place / (len(asked) + 1))
        base = few if change.story is None else _under(few, change.story)
        try:
            then = plan.ahead(base, change.actions, as_is)
        except RouteNotPossible:
            continue
        if base.baby.tally.unsettled <= MOST_FAILED * max(base.baby.tally.orbits, 1):
            found.append(_moved(change, few, as_is, then, plan.horizon_day))
    tell("asking what would move it", 1.0)
    return tuple(found)


def _under(today: Narrowed, story: Story) -> Narrowed:
    return replace(today, baby=today.baby.with_story(story))


def changes(today: Narrowed) -> tuple[Change, ...]:
    """The changes to ask about, for the story as it is."""
    story, age = today.baby.story, today.age_days
    return (*_duct(story, age), *_outflow(story, age), *_ventricular(story), *_band(story, age))


STENT_HARM = (
    "A catheter procedure; a wide duct floods the lungs and steals from body, gut and coronaries; "
    "the heart may fail; the later switch is harder."
)
DRUG_HARM = (
    "Apnoea, more at higher dose and low weight; low arterial pressure; rebound when it stops."
)
SELDOM = "A closed duct seldom opens again. "
HARDLY = "A duct closed for weeks hardly ever opens again. "
# chosen: a duct closed for longer is not asked to open for prostaglandin, days
LONG_CLOSED_DAYS = 14.0


def _duct(story: Story, age: float) -> tuple[Change, ...]:
    stent = (Action(kind=Kind.DUCT_STENT, age_days=age),)
    if story.duct_mm(age) > 0.0:
        return (
            Change(
                name="A stent keeps the duct open",
                actions=stent,
                harm=STENT_HARM,
                topics=("duct_stent",),
            ),
            Change(
                name="The duct closes",
                actions=(Action(kind=Kind.DUCT_CLOSES, age_days=age),),
                harm="Less mixing: saturation falls, with a tight septum at once.",
            ),
        )
    long_closed = story.duct_mm(max(age - LONG_CLOSED_DAYS, 0.0)) <= 0.0
    opened = Change(
        name="A stent in a reopened duct",
        actions=stent,
        harm=(HARDLY if long_closed else SELDOM) + STENT_HARM,
        topics=("duct_stent",),
    )
    if long_closed:
        return (opened,)
    drug = Change(
        name="Prostaglandin reopens the duct",
        actions=(Action(kind=Kind.PROSTAGLANDIN, age_days=age),),
        harm=SELDOM + DRUG_HARM,
        topics=("prostaglandin", "gut"),
    )
    return (drug, opened)


def _outflow(story: Story, age: float) -> tuple[Change, ...]:
    if story.outflow in (None, "open"):
        size = _sized("outflow_diameter", story, age)
        return (
            Change(
                name="A left outflow narrowing that stays dynamic",
                actions=(Action(kind=Kind.OUTFLOW, age_days=age, size=size),),
                harm="Nobody can make or promise one; it lowers lung flow and saturation, and one "
                "that turns fixed stays in the body's path after the switch.",
            ),
        )
    if story.outflow == "dynamic":
        return (
            Change(
                name="The narrowing of the left outflow goes",
                story=replace(story, outflow="open"),
                harm="The left ventricle loses its load and its wall begins to go.",
            ),
        )
    return ()


def _ventricular(story: Story) -> tuple[Change, ...]:
    if story.ventricular_mm <= 0.0:
        return ()
    return (
        Change(
            name="The ventricular defect closes by itself",
            story=replace(story, ventricular_mm=0.0),
            harm="The left ventricle loses its load; mixing falls.",
        ),
    )


def _band(story: Story, age: float) -> tuple[Change, ...]:
    if story.band_mm(age) > 0.0:
        return (
            Change(
                name="The band is taken off today",
                actions=(Action(kind=Kind.BAND_OFF, age_days=age),),
                harm="Another operation; the left ventricle loses its load within minutes and its "
                "wall begins to go.",
            ),
        )
    size = _sized("band_lumen", story, age)
    return (
        Change(
            name="A band round the lung artery today",
            actions=(Action(kind=Kind.BAND, age_days=age, size=size),),
            harm="An operation of its own: lung flow and saturation fall, often a shunt is added; "
            "the ventricle may fail in the first hours.",
            topics=("two_stage",),
        ),
    )


def _sized(name: str, story: Story, age: float) -> float:
    """A diameter at this baby's size, mm."""
    grown = np.sqrt(story.surface_m2(age) / sizes()["reference_surface"])
    return round(float(sizes()[name] * grown), 2)


def _moved(change: Change, today: Narrowed, as_is: Outlook, then: Outlook, horizon: float) -> Moved:
    now = today.age_days
    ages = np.concatenate([[now], np.arange(np.floor(now) + 1.0, horizon + 0.5)])
    days = [days_of_window(each.chance("survivable", ages), ages) for each in (as_is, then)]
    gain: Floats = days[1] - days[0]
    low, high = np.percentile(gain, [LOW_PCT, HIGH_PCT])
    return Moved(
        change=change.name,
        gain_days=Estimate(
            value=round(float(gain.mean()), 2),
            low=round(float(low), 2),
            high=round(float(high), 2),
            unit="d",
        ),
        chances=_chances(as_is, then, [now + on for on in DAYS_ON if now + on <= horizon]),
        meanwhile=_meanwhile(as_is, then),
        harms=(change.harm, *(row.text for row in change.rows)),
        sources=tuple(row.source for row in change.rows if row.provenance is Provenance.PUBLISHED),
    )


def _chances(as_is: Outlook, then: Outlook, ages: list[float]) -> tuple[ChanceOnDay, ...]:
    def mean(ahead: Outlook, tier: str) -> Floats:
        return ahead.chance(tier, np.array(ages)).mean(axis=0).round(4)

    columns = [
        mean(ahead, tier) for tier in ("survivable", "comfortable") for ahead in (then, as_is)
    ]
    return tuple(
        ChanceOnDay(
            day=round(age, 2),
            survivable=float(columns[0][place]),
            survivable_as_is=float(columns[1][place]),
            comfortable=float(columns[2][place]),
            comfortable_as_is=float(columns[3][place]),
        )
        for place, age in enumerate(ages)
    )


def _meanwhile(as_is: Outlook, then: Outlook) -> tuple[str, ...]:
    """What a change does to the circulation soon after, where it is worth telling."""
    place = int(np.argmin(np.abs(as_is.ages_days - as_is.ages_days[0] - SOON_DAYS)))
    pair = (as_is.days[place].readings, then.days[place].readings)
    asked: tuple[tuple[str, str, float, Callable[[int], Floats]], ...] = (
        ("upper saturation", "points", LEAST_TOLD_POINTS, lambda i: pair[i].saturation_pct("AoU")),
        ("left atrium", "mmHg", LEAST_TOLD_MMHG, lambda i: pair[i].mean_mmhg("LA")),
        ("left ventricle", "mmHg", LEAST_TOLD_MMHG, lambda i: pair[i].systolic_mmhg("LV")),
        ("LV ejection", "points", LEAST_TOLD_POINTS, lambda i: pair[i].ejection_pct("LV")),
    )
    found: list[str] = []
    for name, unit, least, values in asked:
        moved = float(np.mean(values(1) - values(0)))
        if abs(moved) >= least:
            found.append(f"{name} {signed(moved)} {unit}")
    return tuple(found)
