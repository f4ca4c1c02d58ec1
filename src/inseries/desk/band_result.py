"""What the verb ``band`` tells, as records, and how they show themselves in a terminal."""

from __future__ import annotations

from collections.abc import Mapping  # noqa: TC003 - read by the schema at run time
from dataclasses import dataclass

from inseries.base.findings import Estimate  # noqa: TC001 - read by the schema at run time
from inseries.desk.answer import Shown, Table
from inseries.desk.published import Published  # noqa: TC001 - read by the schema at run time
from inseries.desk.spans import signed, span
from inseries.desk.suitability import Suitability  # noqa: TC001 - read by the schema
from inseries.desk.urgency import Urgency  # noqa: TC001 - read by the schema at run time
from inseries.desk.window_result import OtherLimit  # noqa: TC001 - read by the schema
from inseries.draw.band_terminal import band_text
from inseries.draw.band_view import BandView  # noqa: TC001 - read by the schema at run time
from inseries.draw.window_curve import in_fives


@dataclass(frozen=True, slots=True, kw_only=True)
class BandTargets:
    """Just after the band: what it is held against; millimetres are only where to start.

    Parameters
    ----------
    lv_wall_supplied_pct : share of its strength that the coronaries would let the wall keep
    short_of_blood : share of the draws in which that is less than all, a fraction
    """

    lv_rv_systolic_pressure_ratio: Estimate
    lv_systolic_mmhg: Estimate
    sao2_upper_pct: Estimate
    lv_ef_pct: Estimate
    starting_circumference_mm: Estimate
    lumen_mm: Estimate
    lv_wall_supplied_pct: Estimate
    short_of_blood: float


@dataclass(frozen=True, slots=True, kw_only=True)
class AfterBand:
    """Some hours after the band; ``lv_mass_ratio`` is against the hour of the band."""

    hours: float
    lv_mass_ratio: Estimate
    lv_ef_pct: Estimate
    lv_systolic_mmhg: Estimate
    lv_rv_systolic_pressure_ratio: Estimate
    sao2_upper_pct: Estimate
    pulmonary_flow_ml_min_kg: Estimate
    systemic_flow_ml_min_kg: Estimate
    lv_mass_g_m2: Estimate
    lv_wall_mm: Estimate
    lv_mass_to_volume_g_ml: Estimate
    lv_predicted_stress_kdyn_cm2: Estimate


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadyCriterion:
    """One criterion: the limit with whom it was found in, and by when how many draws meet it.

    Parameters
    ----------
    name, what : key and plain words
    limit, unit : in use
    threshold : the published limit, with population and method
    ready_day : days after the band, over the draws; None where half never meet it
    ready_by_7_d, ready_by_14_d, ready_by_28_d : share of the draws, fractions
    """

    name: str
    what: str
    limit: float
    unit: str
    threshold: str
    ready_day: Estimate | None
    ready_by_7_d: float
    ready_by_14_d: float
    ready_by_28_d: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchThen:
    """Simulated chance that the left ventricle carries the body after a switch at that time."""

    days_after_band: float | None
    survivable: Estimate
    comfortable: Estimate


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleOfThumb:
    """Common practice beside the answer: made to protect lungs, no check of it."""

    rule: str
    circumference_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BandResult:
    """How tight, how long, with what must stand beside it.

    Parameters
    ----------
    age_days, weight_kg : at the band, or today where there is one already
    banded_days : age at the band
    shunt_mm : diameter of a shunt put in with it, 0 none
    aimed_at, aim : what it was set by and to what; not met by the share ``not_reached``
    tighten, hours_a_day : days after the band, ratio set again then; hours of a day it is on
    before, after : without band and shunt; then from its hour on
    ready_day : days after ``age_days`` until every criterion is met; None where half never do
    ready_age_days : the same as an age
    tightest_circumference_mm : the tightest that was published, at this weight
    page : file that the printed page was written to, empty where none was asked for
    """

    age_days: float
    banded_days: float
    weight_kg: float
    urgency: Urgency
    suitability: Suitability
    shunt_mm: float
    aimed_at: str
    aim: float
    not_reached: float
    tighten: Mapping[str, float]
    hours_a_day: float
    targets: BandTargets
    before: AfterBand
    after: tuple[AfterBand, ...]
    ready_day: Estimate | None
    ready_age_days: Estimate | None
    ready_by_7_d: float
    ready_by_14_d: float
    ready_by_28_d: float
    criteria: tuple[ReadyCriterion, ...]
    switch_then: tuple[SwitchThen, ...]
    rules_of_thumb: tuple[RuleOfThumb, ...]
    tightest_circumference_mm: float
    harms: tuple[str, ...]
    published: tuple[Published, ...]
    cost_of_waiting: tuple[Published, ...]
    other_limits: tuple[OtherLimit, ...]
    what: str
    why: str
    how_sure: str
    picture: BandView
    page: str = ""

    @property
    def sentences(self) -> tuple[str, str, str]:
        """What, why, how sure."""
        return self.what, self.why, self.how_sure

    def shown(self) -> Shown:
        """Urgency first, then targets, course, readiness, harms and what was published."""
        u = self.urgency
        first = f"{u.level.upper()}: {u.headline}. Next decision within {u.hours:g} h."
        return Shown(
            sentences=(
                first,
                f"Is a switch the operation? {self.suitability.sentence}",
                *self.sentences,
                *((f"The page is in {self.page}, readable by you alone.",) if self.page else ()),
            ),
            tables=tables(self),
            picture=band_text(self.picture),
        )


def tables(r: BandResult) -> tuple[Table, ...]:
    """Every table of the answer, in reading order."""
    return (
        _target_table(r),
        Table(
            title="Harm beside the gain",
            columns=("what a band costs",),
            rows=tuple((harm,) for harm in r.harms),
        ),
        _course_table(r),
        _ready_table(r),
        _switch_table(r.switch_then),
        _published_table(r),
        _found_table(
            "The published cost of waiting, weeks under a band included", r.cost_of_waiting
        ),
        Table(
            title="Limits that are not the left ventricle's",
            columns=("limit", "why"),
            rows=tuple((item.name, item.sentence) for item in r.other_limits),
        ),
    )


def days_words(estimate: Estimate | None) -> str:
    """A day of readiness in words; open where some draws never come to it."""
    if estimate is None:
        return f"not in half of the draws within {WATCHED_WORDS}"
    if estimate.high is None:
        return f"{estimate.value:.0f} ({estimate.low:.0f} to beyond {WATCHED_WORDS})"
    return "from the start" if estimate.high == 0.0 else span(estimate)


WATCHED_WORDS = "four weeks"


def _target_table(r: BandResult) -> Table:
    t = r.targets
    rules = tuple(
        (f"beside it: {rule.rule}", f"{rule.circumference_mm:.0f} mm") for rule in r.rules_of_thumb
    )
    return Table(
        title="What it is held against, just after the band (90 % interval)",
        columns=("what", "value"),
        rows=(
            ("pressure, left to right ventricle", span(t.lv_rv_systolic_pressure_ratio, 2)),
            ("left ventricle systolic", f"{span(t.lv_systolic_mmhg)} mmHg"),
            ("saturation of the arms", f"{span(t.sao2_upper_pct)} %"),
            ("ejection", f"{span(t.lv_ef_pct)} %"),
            ("wall supplied by its coronaries (untested)", f"{span(t.lv_wall_supplied_pct)} %"),
            ("circumference, only to start", f"{span(t.starting_circumference_mm)} mm"),
            ("never below (none tighter was published)", f"{r.tightest_circumference_mm:.1f} mm"),
            *rules,
        ),
    )


def _course_table(r: BandResult) -> Table:
    def row(label: str, at: AfterBand) -> tuple[str, ...]:
        return (
            label,
            span(at.lv_systolic_mmhg),
            span(at.lv_rv_systolic_pressure_ratio, 2),
            f"{signed(100.0 * (at.lv_mass_ratio.value - 1.0))} %",
            span(at.lv_ef_pct),
            span(at.sao2_upper_pct),
        )

    return Table(
        title="Dip and recovery (computed; 90 % interval)",
        columns=("after", "LV, mmHg", "LV/RV", "mass", "EF, %", "arms, %"),
        rows=(
            row("before", r.before),
            *(row(_hours_words(at.hours), at) for at in r.after),
        ),
    )


def _hours_words(hours: float) -> str:
    if hours == 0.0:
        return "at once"
    return f"{hours:g} h" if hours < 48.0 else f"{hours / 24.0:g} d"


def _ready_table(r: BandResult) -> Table:
    rows = [
        (
            f"{item.what}: {item.threshold}",
            days_words(item.ready_day),
            in_fives(item.ready_by_14_d),
        )
        for item in r.criteria
    ]
    every = ("all of them", days_words(r.ready_day), in_fives(r.ready_by_14_d))
    told = (MASS_TO_VOLUME, _ratios(r), "not asked for")
    return Table(
        title="Ready for the second stage, by limits of banded ventricles",
        columns=("criterion", "days after the band", "draws, by 14 d"),
        rows=(*rows, every, told),
    )


# No series of banded ventricles that was read prints a limit, and the limit of corrected
# transposition (norms/thresholds.toml) was made in another population.
MASS_TO_VOLUME = "mass to volume, g/mL: told only, no limit of banded ventricles was found"


def _ratios(r: BandResult) -> str:
    """Mass to volume before the band and as it is followed, days looked at that far apart."""
    kept = [at for at in r.after if at.hours >= 7.0 * 24.0]
    told = [f"before {span(r.before.lv_mass_to_volume_g_ml, 2)}"]
    told += [f"{_hours_words(at.hours)} {span(at.lv_mass_to_volume_g_ml, 2)}" for at in kept]
    return "; ".join(told)


def _switch_table(then: tuple[SwitchThen, ...]) -> Table:
    return Table(
        title="Simulated chance after a switch (the left ventricle alone)",
        columns=("switch", "survivable", "comfortable"),
        rows=tuple(
            (
                "now, no band"
                if item.days_after_band is None
                else f"{item.days_after_band:g} d after the band",
                in_fives(item.survivable.value),
                in_fives(item.comfortable.value),
            )
            for item in then
        ),
    )


# What stands in the terminal only where it was asked for; in JSON all of it.
_ADJUSTED = ("band_adjusted_again", "band_adjusted_by_telemetry")
_OFF_AND_ON = ("band_intermittent_lambs", "band_intermittent_goats")


def _published_table(r: BandResult) -> Table:
    hidden = {"band_rule_of_thumb", "band_acute_limit"}
    hidden |= set() if r.tighten else set(_ADJUSTED)
    hidden |= set() if r.hours_a_day < 24.0 else set(_OFF_AND_ON)
    rows = tuple(row for row in r.published if row.id not in hidden)
    return _found_table("Bands and two stages (published, other patients)", rows)


def _found_table(title: str, rows: tuple[Published, ...]) -> Table:
    return Table(
        title=title,
        columns=("found", "in whom", "source"),
        rows=tuple((row.text, f"{row.in_whom}; {row.denominator}", row.source) for row in rows),
    )
