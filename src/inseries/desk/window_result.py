"""What the verb ``window`` tells, as records, and how they show themselves in a terminal."""

from __future__ import annotations

from collections.abc import Mapping  # noqa: TC003 - read by the schema at run time
from dataclasses import dataclass

from inseries.base.findings import Estimate  # noqa: TC001 - read by the schema at run time
from inseries.desk.answer import Shown, Table
from inseries.desk.by_law import LawCurve, LawsApart  # noqa: TC001 - read by the schema
from inseries.desk.drivers import Driver  # noqa: TC001 - read by the schema at run time
from inseries.desk.published import Published  # noqa: TC001 - read by the schema at run time
from inseries.desk.spans import signed
from inseries.desk.suitability import Suitability  # noqa: TC001 - read by the schema
from inseries.desk.three_views import ThreeViews  # noqa: TC001 - read by the schema
from inseries.desk.urgency import Urgency  # noqa: TC001 - read by the schema at run time
from inseries.desk.window_curve import five
from inseries.desk.worth import Measurement  # noqa: TC001 - read by the schema at run time
from inseries.desk.would_move import Moved  # noqa: TC001 - read by the schema at run time
from inseries.draw.terminal import window_text
from inseries.draw.views import (  # noqa: TC001 - read by the schema at run time
    LoopsView,
    WindowView,
)
from inseries.draw.window_curve import in_fives

NOTHING_NARROWS = (
    "no single reading asked about would surely narrow the days of window by a day or more"
)
OUTPUT, PRESSURE = "output at the filling limit", "arterial pressure within the bed's tone"
SHORTER = {OUTPUT: "output", PRESSURE: "pressure"}
LEAST_APART_DAYS = 2.0  # chosen: rows of the table lie this far from today at least


@dataclass(frozen=True, slots=True, kw_only=True)
class TierAnswer:
    """One tier: the chance on every day, and where the curve passes 90 and 50 %.

    Parameters
    ----------
    chance, chance_low, chance_high : fractions, mean and 90 % interval over the draws, by day
    below_90_day, below_50_day : first day below after a run at or above; the horizon where the
        run reaches it; None if never reached
    open_ended_for_lv_only : the run at or above 50 % reaches the horizon
    """

    chance: tuple[float, ...]
    chance_low: tuple[float, ...]
    chance_high: tuple[float, ...]
    below_90_day: float | None
    below_50_day: float | None
    open_ended_for_lv_only: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Limiting:
    """On one day: of the cases that fail a tier, the share that fails by each criterion."""

    day: float
    survivable: Mapping[str, float]
    comfortable: Mapping[str, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class AfterSwitch:
    """On one day: what the left ventricle would do filled to each tier's limit, and was before."""

    day: float
    cardiac_index_at_survivable_filling_l_min_m2: Estimate
    cardiac_index_at_comfortable_filling_l_min_m2: Estimate
    lv_ef_pct: Estimate
    lv_mass_before_g: Estimate
    lv_mass_before_g_m2: Estimate
    lv_rv_ratio_before: Estimate
    sao2_upper_before_pct: Estimate


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherLimit:
    """A limit of waiting that is not the left ventricle's."""

    name: str
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WindowResult:
    """The window in two tiers, with what must stand beside it."""

    age_days: float
    horizon_day: float
    urgency: Urgency
    suitability: Suitability
    days: tuple[float, ...]
    tiers: Mapping[str, TierAnswer]
    criteria: Mapping[str, Mapping[str, float]]
    limiting: tuple[Limiting, ...]
    after_switch: tuple[AfterSwitch, ...]
    by_law: tuple[LawCurve, ...]
    laws_apart: LawsApart | None
    days_of_window: Estimate
    drivers: tuple[Driver, ...]
    drivers_tier: str
    next_measurements: tuple[Measurement, ...]
    what_would_move: tuple[Moved, ...]
    three_views: ThreeViews
    cost_of_waiting: tuple[Published, ...]
    published: tuple[Published, ...]
    other_limits: tuple[OtherLimit, ...]
    what: str
    why: str
    how_sure: str
    sentences: tuple[str, ...]
    picture: WindowView
    picture_after: LoopsView

    def shown(self) -> Shown:
        """Urgency first, then the curve with its company."""
        u = self.urgency
        first = f"{u.level.upper()}: {u.headline}. Next decision within {u.hours:g} h."
        return Shown(
            sentences=(
                first,
                f"Is a switch the operation? {self.suitability.sentence}",
                *self.sentences,
            ),
            tables=(
                _curve_table(self),
                _published_table(
                    "What waiting costs (published, other babies)", self.cost_of_waiting
                ),
                _published_table("Late operations (published, other babies)", self.published),
                Table(
                    title="Limits that are not the left ventricle's",
                    columns=("limit", "why"),
                    rows=tuple((item.name, item.sentence) for item in self.other_limits),
                ),
                _driver_table(self),
                _moved_table(self.what_would_move),
                _harm_table(self.what_would_move),
                _views_table(self.three_views),
            ),
            picture=window_text(self.picture),
        )


def in_words(tier: TierAnswer, place: int) -> str:
    """A tier's chance on one of its days, with its interval, in steps of five points."""
    low, high = five(tier.chance_low[place]), five(tier.chance_high[place])
    said = in_fives(tier.chance[place])
    return said if low == high else f"{said} ({low} to {high} %)"


def _curve_table(result: WindowResult) -> Table:
    first, last = result.days[0], result.days[-1]
    weeks = (age for age in result.days[1:-1] if age % 7 == 0 and age - first >= LEAST_APART_DAYS)
    places = [result.days.index(age) for age in (first, *weeks, last)]
    return Table(
        title=(
            "Chance that the left ventricle carries the body (computed; 90 % interval); of the "
            "operations that fail the survivable tier, the criterion by which most do"
        ),
        columns=("age at switch", "survivable", "comfortable", "fails by"),
        rows=tuple(
            (
                f"{'today, ' if place == 0 else ''}day {result.days[place]:.0f}",
                in_words(result.tiers["survivable"], place),
                in_words(result.tiers["comfortable"], place),
                _reason_cell(reason_at(result.limiting, result.days[place])),
            )
            for place in places
        ),
    )


def reason_at(limiting: tuple[Limiting, ...], day: float) -> Limiting:
    """What limits on the day on which the switch was tried that lies nearest."""
    return min(limiting, key=lambda item: abs(item.day - day))


def reason_of(item: Limiting) -> str:
    """The criterion by which most operations fail that miss the survivable tier."""
    return max(item.survivable, key=item.survivable.__getitem__)


def _reason_cell(item: Limiting) -> str:
    name = reason_of(item)
    share = item.survivable[name]
    return f"{SHORTER[name]}, {five(share)} %" if share > 0.0 else "none fails"


def _published_table(title: str, rows: tuple[Published, ...]) -> Table:
    return Table(
        title=title,
        columns=("what was found", "in whom", "beware"),
        rows=tuple((row.text, row.in_whom, row.caution) for row in rows),
    )


def _driver_table(result: WindowResult) -> Table:
    rows = [(_whose(item), item.words) for item in result.drivers]
    rows += [(f"measure next: {item.name}", item.words) for item in result.next_measurements]
    if not result.next_measurements:
        rows.append(("measure next", NOTHING_NARROWS))
    return Table(
        title="What the window hangs on, in days of window, and what to measure next",
        columns=("what", "how much"),
        rows=tuple(rows),
    )


def _whose(item: Driver) -> str:
    return item.name if item.of == "baby" else f"{item.name} (of any operation, not of this baby)"


def _moved_table(changes: tuple[Moved, ...]) -> Table:
    return Table(
        title="What would move it (computed; 90 % interval between the babies that fit)",
        columns=("change", "days of window", "survivable then", "meanwhile"),
        rows=tuple(
            (item.change, gain_words(item), chance_words(item), "; ".join(item.meanwhile) or "-")
            for item in changes
        ),
    )


def _harm_table(changes: tuple[Moved, ...]) -> Table:
    return Table(
        title="And its harm (published, other babies; what was never published is said in words)",
        columns=("change", "harm"),
        rows=tuple((item.change, " ".join(item.harms)) for item in changes),
    )


def _views_table(three: ThreeViews) -> Table:
    return Table(
        title="Model, rule and series side by side",
        columns=("who", "what it says", "beware"),
        rows=tuple((view.who, view.says, view.beware) for view in three.views),
    )


def gain_words(item: Moved) -> str:
    """Days of window gained or lost, in whole days with their interval."""
    gain = item.gain_days
    assert gain.low is not None
    assert gain.high is not None
    return f"{signed(gain.value)} ({signed(gain.low)} to {signed(gain.high)})"


def chance_words(item: Moved) -> str:
    """The survivable chance with and without a change, in steps of five points."""
    return ", ".join(
        f"{_both(_short(chance.survivable), _short(chance.survivable_as_is))} at "
        f"{chance.day:.0f} days"
        for chance in item.chances
    )


def _both(then: str, as_is: str) -> str:
    return f"{then} either way" if then == as_is else f"{then} instead of {as_is}"


def _short(chance: float) -> str:
    return in_fives(chance).removeprefix("about ")
