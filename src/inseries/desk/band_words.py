"""The band in three sentences' worth of words, its harms, and the cautions it carries."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from inseries.base.findings import Caution, Severity
from inseries.course.laws import LAWS
from inseries.desk.band_plan import DAY_HOURS, Plan, band_numbers
from inseries.desk.band_result import BandResult, days_words
from inseries.desk.by_law import LAW_WORDS
from inseries.desk.spans import signed, span
from inseries.desk.urgency import limits
from inseries.desk.window_curve import five
from inseries.draw.window_curve import in_fives
from inseries.evidence.rows import rows_on

if TYPE_CHECKING:
    from inseries.base.findings import Estimate
    from inseries.desk.band_course import Course
    from inseries.desk.band_result import BandTargets, ReadyCriterion

# chosen: a share of draws below this is not worth a sentence
SOME = 0.05
# chosen: a wall that gains less than this in two weeks trains little
LITTLE_GAIN = 0.2
# chosen: age to which growth was compared with published babies, days
COMPARED_DAYS = 60.0


def what(plan: Plan, course: Course, targets: BandTargets, not_reached: float) -> str:
    """What the band is set by, and where the millimetres only begin."""
    t = targets
    at = (
        f"pressure {span(t.lv_rv_systolic_pressure_ratio, 2)} of the right ventricle's, "
        f"{span(t.lv_systolic_mmhg)} mmHg, saturation of the arms "
        f"{_fives(t.sao2_upper_pct)} and ejection {_fives(t.lv_ef_pct)}"
    )
    if plan.left_alone:
        age = plan.age_days - plan.banded_days
        return f"The band that is there, {age:.0f} days old, holds today: {at}."
    if plan.aimed_at == "circumference":
        return f"{plan.aim:g} mm of circumference would give, just after the band: {at}."
    told = [
        f"Tighten until pressure, saturation and function say so: {at}. "
        f"{span(t.starting_circumference_mm)} mm of circumference is only where to start."
    ]
    if not_reached > SOME:
        why = (
            f"ejection would fall to {band_numbers()['low_ejection']:g} %, or the tightest "
            "published band is reached,"
            if plan.usual
            else "the tightest published band is reached"
        )
        told.append(f"In {in_fives(not_reached)} of the draws {why} before {_aim(plan, course)}.")
    return " ".join(told)


def _aim(plan: Plan, course: Course) -> str:
    return f"{plan.aim:g} mmHg" if course.aim is None else f"a ratio of {course.aim:g}"


def why(plan: Plan, result: BandResult) -> str:
    """What the wall does behind it, and when it is ready."""
    week = min(result.after, key=lambda at: abs(at.hours - 7 * DAY_HOURS))
    dip = min(at.lv_ef_pct.value for at in result.after)
    told = [
        f"So loaded, the wall {_gain(week.lv_mass_ratio)} in a week and the pressure ratio "
        f"comes to {span(week.lv_rv_systolic_pressure_ratio, 2)}; ejection, "
        f"{_five(result.before.lv_ef_pct.value)} before, dips to {_five(dip)} and is "
        f"{_five(week.lv_ef_pct.value)} after a week."
    ]
    if plan.hours_a_day < DAY_HOURS:
        told.append(f"The band is on for {plan.hours_a_day:g} hours of each day.")
    told += [f"It is set again to {ratio:g} on day {day:g}." for day, ratio in plan.tighten]
    least = min(result.criteria, key=lambda item: item.ready_by_14_d)
    told.append(
        "Ready for the second stage, by limits made in banded ventricles and with the band two "
        f"days old or more: {in_fives(result.ready_by_7_d)} of the draws by a week, "
        f"{in_fives(result.ready_by_14_d)} by two, {in_fives(result.ready_by_28_d)} by four "
        f"({_counted(plan)}: {days_words(result.ready_day)}).{_lacks(least)}"
    )
    return " ".join(told)


def _counted(plan: Plan) -> str:
    return "days after the band" if plan.since_days is None else "days from today"


def _lacks(least: ReadyCriterion) -> str:
    if least.ready_by_14_d > 1.0 - SOME:
        return ""
    return f" What most lack is {least.what}."


def how_sure(plan: Plan, course: Course) -> str:
    """How far the growth laws lie apart, and what nothing was checked against."""
    week = course.at(7.0).walls.left.mass_g / course.before.walls.left.mass_g
    which = course.today.baby.law_of
    by_law = [
        f"{signed(100.0 * (float(np.median(week[which == place])) - 1.0))} % under the "
        f"{LAW_WORDS[name]}"
        for place, name in enumerate(LAWS)
        if (which == place).any()
    ]
    told = [
        f"Two growth laws share the draws, and neither is known to be true: mass after a week "
        f"{' and '.join(by_law)}.",
        "Lumens and circumferences of the published bands were not printed, a ventricle that "
        "fails behind a band was tested on nobody, and the rules of thumb protect lungs: function "
        "at the table decides.",
    ]
    if plan.shunt_mm > 0.0:
        told.append("With a shunt the computed gain is above what was published: direction only.")
    return " ".join(told)


def harms(plan: Plan, result: BandResult) -> tuple[str, ...]:
    """What it costs, computed and published."""
    then, before = result.after[0], result.before
    flow = then.pulmonary_flow_ml_min_kg.value / before.pulmonary_flow_ml_min_kg.value - 1.0
    counted = {row.id: row.text for row in (*rows_on("band"), *rows_on("two_stage"))}
    shunt = (
        (
            f"With the shunt of {plan.shunt_mm:g} mm both ventricles carry more volume, and blood "
            "runs off the aorta in diastole.",
        )
        if plan.shunt_mm > 0.0
        else ()
    )
    points = then.sao2_upper_pct.value - before.sao2_upper_pct.value
    return (
        f"Computed, at once: lung flow {_changed(5 * round(20.0 * flow), '%')}, saturation of the "
        f"arms {_changed(points, 'points')}.",
        _failing(result.targets),
        *shunt,
        counted["band_low_output"],
        counted["two_stage_long_interval"],
        counted["two_stage_root"],
        "A second operation, with scars round the great arteries and the coronaries.",
    )


def _failing(t: BandTargets) -> str:
    """What is computed of a ventricle that fails behind the band, and what is not."""
    short = in_fives(t.short_of_blood) if t.short_of_blood > 0.0 else "none"
    return (
        "The left ventricle may fail in the first hours. Computed for the beat just after the "
        f"band: its ejection ({_fives(t.lv_ef_pct)}), and what its coronaries can bring against "
        f"what its work asks ({span(t.lv_wall_supplied_pct)} %; short in {short} of the draws). "
        "Not computed: the failure. No pressure, output or growth told here falls because of it. "
        "Be ready to loosen."
    )


def _changed(by: float, unit: str) -> str:
    whole = signed(by)
    if whole == "0":
        return "hardly changes"
    return f"{whole} {unit.removesuffix('s') if abs(round(by)) == 1 else unit}"


def cautions(plan: Plan, course: Course, result: BandResult) -> tuple[Caution, ...]:
    """What this band meets in this baby."""
    found: list[str] = []
    if result.urgency.level == "emergency":
        found.append("This is an emergency now: its page comes before this one.")
    strong = result.switch_then[0].survivable.value
    if strong >= band_numbers()["strong_chance"]:
        found.append(
            "The ventricle is still strong: without any band the simulated chance of a survivable "
            f"switch is {in_fives(strong)}. A band would only add its harms."
        )
    if result.suitability.standing != "shown":
        found.append(result.suitability.sentence)
    found += [*_function(result), *_gains(plan, course, result)]
    if course.today.baby.story.ventricular_mm > 0.0:
        found.append("A ventricular defect keeps the ventricle at pressure already.")
    if course.today.age_days + band_numbers()["watched_days"] > COMPARED_DAYS:
        found.append("Growth beyond two months was compared with no published baby.")
    return (
        *(Caution(severity=Severity.CAUTION, text=text) for text in found),
        Caution(severity=Severity.NOTE, text=MASS_TO_VOLUME_UNKNOWN),
    )


MASS_TO_VOLUME_UNKNOWN = (
    "Mass to volume is told and not asked for: no limit of it made in banded ventricles was found, "
    "and that of corrected transposition is another population's."
)


def _function(result: BandResult) -> list[str]:
    """Too tight: ejection, oxygen."""
    found: list[str] = []
    low = band_numbers()["low_ejection"]
    then = result.targets.lv_ef_pct.value
    if then < low:
        found.append(
            f"Too tight for function: ejection just after it is {_five(then)}; a week after "
            f"published training bands it was above {low:g} % in nearly all."
        )
    if result.targets.short_of_blood > SOME:
        found.append(
            f"In {in_fives(result.targets.short_of_blood)} of the draws the wall's work outruns "
            "what its coronaries could bring just after the band. That sum was tested on nobody; "
            "watch ejection and loosen."
        )
    lowest = min(at.sao2_upper_pct.value for at in result.after)
    if lowest < limits()["urgent_saturation"]:
        found.append(
            f"Saturation of the arms comes down to {_five(lowest)}: a shunt or a wider atrial "
            "defect may have to come with the band."
        )
    return found


def _gains(plan: Plan, course: Course, result: BandResult) -> list[str]:
    """Too loose, or set by something else than what was asked."""
    found: list[str] = []
    if plan.usual and course.aim is not None and course.aim > plan.aim:
        found.append(
            f"A ratio of {plan.aim:g} is there without a band: {course.aim:g} was taken instead."
        )
    fortnight = min(result.after, key=lambda at: abs(at.hours - 14 * DAY_HOURS))
    if fortnight.lv_mass_ratio.value < 1.0 + LITTLE_GAIN:
        found.append(
            "Too loose to train: in two weeks the wall "
            f"{_gain(fortnight.lv_mass_ratio)}. Tighter, tightened again, or no band at all."
        )
    return found


def _gain(ratio: Estimate) -> str:
    low = ratio.value if ratio.low is None else ratio.low
    high = ratio.value if ratio.high is None else ratio.high
    middle, least, most = (five(x - 1.0) for x in (ratio.value, low, high))
    if middle == 0:
        return f"keeps its mass (between {signed(least)} and {signed(most)} %)"
    if middle < 0:
        return f"loses about {-middle} % (between {signed(least)} and {signed(most)} %)"
    return f"gains about {middle} % ({least} to {most} %)"


def _five(percent: float) -> str:
    return f"about {five(percent / 100.0)} %"


def _fives(estimate: Estimate) -> str:
    return _five(estimate.value)
