"""Each route in three sentences: what it would do, why, and how sure that is; and its harms."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from inseries.desk.readiness import WORDS
from inseries.desk.routes_plan import routes_numbers
from inseries.desk.routes_walks import lumen_mm, outer_mm
from inseries.desk.spans import span
from inseries.desk.window_curve import five
from inseries.draw.window_curve import in_fives
from inseries.evidence.rows import Topic, limits_not_lv, rows_on

if TYPE_CHECKING:
    from inseries.base.findings import Estimate
    from inseries.desk.routes_result import ChanceAt, RouteChance, RouteDay
    from inseries.desk.routes_walks import Banded

LEVEL = (
    "The level hangs on how strong and how stiff the ventricle is after bypass, the least certain "
    "numbers here; coronaries, lungs, brain and centre are not in it."
)
RECOVERY = "Bypass passes within days in this model: a middle course, without bleeding or rhythm."


def in_words(chance: Estimate) -> str:
    """A chance in steps of five with its interval."""
    low, high = five(chance.low or 0.0), five(chance.high or 0.0)
    said = in_fives(chance.value)
    return said if low == high else f"{said} ({low} to {high} %)"


def both_tiers(chance: ChanceAt | RouteChance) -> str:
    """Both tiers in words."""
    return (
        f"survivable tier {in_words(chance.survivable)}, "
        f"comfortable tier {in_words(chance.comfortable)}"
    )


# ---- wait ---------------------------------------------------------------------------------------


def wait_what(days: tuple[RouteDay, ...], chance: RouteChance | None, age_days: float) -> str:
    """What waiting does to the ventricle and to oxygen; a chance where a switch is shown."""
    first = days[0]
    then = min(days, key=lambda day: abs(day.age_days - age_days))
    told = (
        f"Nothing is done: from today to day {then.age_days:.0f} left ventricular mass goes from "
        f"{first.lv_mass_g_m2.value:.0f} to {then.lv_mass_g_m2.value:.0f} g/m² by echo "
        f"({first.lv_mass_g.value:.1f} to {then.lv_mass_g.value:.1f} g) and saturation from "
        f"{first.sao2_upper_pct.value:.0f} to {then.sao2_upper_pct.value:.0f} %."
    )
    return told if chance is None else f"{told} A switch then has {both_tiers(chance)}."


def wait_why(days: tuple[RouteDay, ...]) -> str:
    """What loads the left ventricle while waiting."""
    ratio = days[0].lv_rv_systolic_pressure_ratio.value
    later = min(days, key=lambda day: abs(day.age_days - days[0].age_days - 14.0))
    then = later.lv_rv_systolic_pressure_ratio.value
    return (
        f"Its pressure is {ratio:.2f} of the right ventricle's today and {then:.2f} two weeks on; "
        "a wall grows or shrinks to what it bears."
    )


def wait_sure(chance: RouteChance | None) -> str:
    """How the chance falls where a switch is shown, and what a course to one year is worth."""
    beyond = (
        "Beyond two months growth was compared with no published baby, and nothing that happens to "
        "babies who wait is in the course."
    )
    if chance is None:
        return beyond
    told = "; ".join(f"day {at.age_days:.0f}: {in_words(at.survivable)}" for at in chance.by_age)
    return f"Survivable chance of a later switch, {told}. {beyond}"


GONE = "The window has gone for this ventricle as it is: less than an even chance."
GONE_BANDED = "The window has gone with this band too: less than an even chance on that day."


# ---- primary switch -----------------------------------------------------------------------------


def primary_what(chance: RouteChance, days: tuple[RouteDay, ...]) -> str:
    """The chance of both tiers, and what the repaired heart comes to."""
    week = min(days, key=lambda day: abs(day.age_days - chance.age_days - 7.0))
    return (
        f"A switch at {chance.age_days:.0f} days: {both_tiers(chance)}. In the middle course the "
        f"left ventricle a week later bears {week.lv_systolic_mmhg.value:.0f} mmHg with an "
        f"ejection fraction of {week.lv_ef_pct.value:.0f} %, filled at "
        f"{week.filling_mmhg.value:.0f} mmHg."
    )


def primary_why(before: RouteDay, gone: bool) -> str:
    """What the ventricle brings to the switch; where the window has gone, what is nearest."""
    told = (
        f"On that day it has {span(before.lv_mass_g_m2)} g/m² by echo and works at "
        f"{before.lv_rv_systolic_pressure_ratio.value:.2f} of the right ventricle's pressure."
    )
    return (
        f"{GONE} {told} Nearest: look below at a band before it and at the atrial switch."
        if gone
        else told
    )


def primary_sure() -> str:
    """What the level hangs on."""
    late = rows_on(Topic.SUPPORT)[0].text
    return f"{LEVEL} {RECOVERY} Published late: {late}"


# ---- band, then switch --------------------------------------------------------------------------


def band_what(banded: Banded, chance: RouteChance, second: RouteDay) -> str:
    """The band, the second stage, and the chance then."""
    lumen = lumen_mm(banded)
    start = banded.course.before
    grown = second.lv_mass_g.value
    return (
        f"A band at {start.age_days:.0f} days, {banded.set_to} (about "
        f"{lumen:.1f} mm inside, {outer_mm(lumen):.0f} mm round, only where to start), and a "
        f"switch at {banded.second_day:.0f} days: {both_tiers(chance)}; by then the wall has "
        f"{grown:.1f} g, {second.lv_mass_g_m2.value:.0f} g/m² by echo."
    )


def band_why(banded: Banded, without: ChanceAt, gone: bool) -> str:
    """What there is without it, when the ventricle is ready, and which criteria are met."""
    told = f"{GONE_BANDED} " if gone else ""
    told += (
        f"Without a band a switch at {without.age_days:.0f} days has "
        f"{in_words(without.survivable)} in the survivable tier. "
    )
    ready = banded.ready_day
    share = float(np.isfinite(ready).mean())
    met = ", ".join(
        f"{WORDS.get(name, name)} {in_fives(value)}" for name, value in banded.met.items()
    )
    if share >= routes_numbers()["ready_share"]:
        low, high = np.quantile(ready, [0.05, 0.95], method="inverted_cdf")
        until = f"{high:.0f}" if np.isfinite(high) else "beyond four weeks"
        told += (
            "Half of the draws meet every criterion of banded ventricles by day "
            f"{np.ceil(np.quantile(ready, 0.5, method='inverted_cdf')):.0f} "
            f"({low:.0f} to {until})."
        )
    else:
        told += (
            f"Of the draws {in_fives(share)} meet every criterion of banded ventricles within "
            "four weeks."
        )
    nearest = (
        " Nearest: look at another day of the second stage and at the atrial switch."
        if gone
        else ""
    )
    return f"{told} On the day of the second stage draws that meet each: {met}.{nearest}"


def band_sure() -> str:
    """What stands behind training in days."""
    return (
        "Training within days rests on one series (Boutin 1994) that this model was fitted to; the "
        "first hours, when a ventricle may fail, are the least known. " + LEVEL
    )


# ---- conditioning -------------------------------------------------------------------------------


def conditioning_what(hours: float, gain: Estimate, before: RouteDay, after: RouteDay) -> str:
    """Mass gained in hours, and what the load does to ejection."""
    return (
        f"A band for {hours:.0f} hours in theatre adds {span(gain, 1)} % of mass in this model, a "
        "few per cent at most: it is a test of how the ventricle bears load, not training. Its "
        f"pressure goes from {before.lv_systolic_mmhg.value:.0f} to "
        f"{after.lv_systolic_mmhg.value:.0f} mmHg, its ejection fraction from "
        f"{before.lv_ef_pct.value:.0f} to {after.lv_ef_pct.value:.0f} % at once."
    )


CONDITIONING_WHY = (
    "A wall makes new muscle over days, not hours; what hours can show is whether this ventricle "
    "fails under load."
)
CONDITIONING_SURE = (
    "Evidence is thin: no series of infants was found, so no chance is given. What stays after the "
    "test is what a primary switch would have."
)
NO_CHANCE = {
    "conditioning_then_switch": "There is no evidence to hold one.",
    "atrial_switch": (
        "The left ventricle is not asked to carry the body; the right one goes on as it does "
        "today, and its tiers were compared with nothing."
    ),
}


# ---- atrial switch ------------------------------------------------------------------------------


def atrial_what(at: RouteDay, last: RouteDay) -> str:
    """One ring through the atria, the right ventricle for the body."""
    return (
        f"An atrial switch at {at.age_days:.0f} days makes one ring with the right ventricle for "
        f"the body: saturation {at.sao2_upper_pct.value:.0f} %; at one year its ejection fraction "
        f"is {last.rv_ef_pct.value:.0f} % and the left ventricle works at "
        f"{last.lv_systolic_mmhg.value:.0f} mmHg."
    )


def atrial_why(checks: str, nearest: str) -> str:
    """Why it may be there when a switch is not."""
    if checks:
        return f"Not shown: {checks}. {nearest}"
    return (
        "It asks nothing new of the left ventricle, of its outflow or of the coronaries; a narrow "
        "left outflow stays before the lungs."
    )


ATRIAL_SURE = (
    "The day of operation is without any effect of bypass, and baffle, rhythm and the tricuspid "
    "valve are not in the model: what follows over decades is in the published series alone."
)


# ---- harms --------------------------------------------------------------------------------------


def harms_of(name: str) -> tuple[str, ...]:
    """Hazards as they were published, then those that common practice knows."""
    return _HARMS[name]()


def _wait_harms() -> tuple[str, ...]:
    cost = tuple(row.text for row in rows_on(Topic.COST_OF_WAITING))
    return (*cost, *(f"{item.name.capitalize()}: {item.sentence}" for item in limits_not_lv()))


def _primary_harms() -> tuple[str, ...]:
    unseen = tuple(row.text for row in rows_on(Topic.UNSEEN_RISK))
    return (*unseen, *(row.text for row in rows_on(Topic.LATE_PRIMARY)))


def _band_harms() -> tuple[str, ...]:
    published = tuple(
        row.text
        for row in (*rows_on(Topic.TWO_STAGE), *rows_on(Topic.BAND))
        if row.id in {"two_stage_long_interval", "two_stage_root", "band_low_output"}
    )
    return (
        *published,
        "Flow to the lungs and saturation fall; often a shunt is added, with harms of its own.",
        "In the first hours the ventricle may fail; two operations in place of one.",
    )


def _conditioning_harms() -> tuple[str, ...]:
    return (
        "Hours of load on an unprepared ventricle may injure it just before it is needed.",
        "Time with an open chest, and a band that may have to come off at once.",
    )


def _atrial_harms() -> tuple[str, ...]:
    return tuple(row.text for row in rows_on(Topic.ATRIAL_SWITCH))


_HARMS = {
    "wait": _wait_harms,
    "primary_switch": _primary_harms,
    "band_then_switch": _band_harms,
    "conditioning_then_switch": _conditioning_harms,
    "atrial_switch": _atrial_harms,
}
SUPPORT_HARM = (
    "Bleeding, clots, brain injury and infection; cannulas in a small baby; not every ventricle "
    "can be weaned."
)


def support_gain(without: RouteDay, on: RouteDay, weaned: RouteDay) -> str:
    """What support takes off the ventricle, and what is there once it ends."""
    return (
        f"On support the left ventricle is filled at {on.filling_mmhg.value:.0f} mmHg in place of "
        f"{without.filling_mmhg.value:.0f} on the day of operation, the body's mean pressure "
        f"{on.aortic_mean_mmhg.value:.0f} mmHg; at {weaned.age_days - without.age_days:.0f} days, "
        f"weaned, output {span(weaned.cardiac_index_l_min_m2, 1)} L/min/m² at "
        f"{weaned.filling_mmhg.value:.0f} mmHg. It buys days of recovery, not a prepared wall."
    )
