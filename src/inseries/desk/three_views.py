"""Model, rule and published series about one baby, side by side, and whether they agree.

The rule is a habit and the series are other babies with their own denominators: neither corrects
the model, and none of the three is averaged with another.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from inseries.draw.window_curve import in_fives
from inseries.evidence.rows import rows_on

if TYPE_CHECKING:
    from inseries.evidence.rows import Row
    from inseries.prior.traits import Floats

# chosen: the model goes beyond the rule where the chance so many days after it is still so high,
# and stops short of it where the chance at the rule's earlier end is already below a half
BEYOND_DAYS, STILL_GOOD, GONE = 14.0, 0.75, 0.5
# published: late_switch_tgkdc, mean age at a late primary switch, days
SERIES_MEAN_DAY = 42.0
# chosen: model and series are told to differ from so far on, as a fraction
FAR = 0.2
# derived: per cent to a fraction
PER_CENT = 100.0
# rows of evidence on late switches, of ventricles that nothing loads and of loaded ones
UNLOADED, LOADED = "late_primary_switch_14", "late_loaded_48"
AGREE = "Model, rule and late series do not contradict one another here."
KEPT_LOADED = (
    "The rule of two to three weeks and the late primary series speak of an intact septum and an "
    "open outflow, not of this baby; of ventricles kept loaded, 46 of 48 late switches survived."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """What one of the three says.

    Parameters
    ----------
    who : the model, the rule, a series
    says : in words
    beware : whom it is about, and why it may not hold here
    """

    who: str
    says: str
    beware: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ThreeViews:
    """All three, and in a sentence whether they agree about this baby."""

    agree: bool
    sentence: str
    views: tuple[View, ...]


def three_views(survivable: Floats, ages: Floats, *, loaded: bool) -> ThreeViews:
    """Model, rule and series about this baby.

    Parameters
    ----------
    survivable : mean chance by day, shape (days,)
    ages : days, shape (days,)
    loaded : a ventricular defect or a narrow left outflow keeps the ventricle at work; then rule
        and series of an intact septum do not speak of this baby, and another series does

    Returns
    -------
    ThreeViews. *Source* late_switch_tgkdc, yasui1989; the rule is common practice
    """
    rule = rows_on("rule_of_practice")[0]
    series = _series(LOADED if loaded else UNLOADED)
    low, high = rule.low or 0.0, rule.high or 0.0
    told = [] if loaded else _against(survivable, ages, low, high)
    agreed = KEPT_LOADED if loaded else AGREE
    days = [age for age in (ages[0], low, high, SERIES_MEAN_DAY) if ages[0] <= age <= ages[-1]]
    says = "; ".join(f"{in_fives(_at(survivable, ages, age))} at {age:.0f} days" for age in days)
    return ThreeViews(
        agree=not told,
        sentence=" ".join(told) or agreed,
        views=(
            View(
                who="this model, this baby",
                says=f"chance of the survivable tier {says}",
                beware="The left ventricle alone; strength and stiffness after bypass are guesses.",
            ),
            View(who="rule of practice", says=rule.text, beware=rule.caution),
            View(who="published series", says=series.text, beware=series.caution),
        ),
    )


def _series(name: str) -> Row:
    return next(row for row in rows_on("late_switch") if row.id == name)


def _against(survivable: Floats, ages: Floats, low: float, high: float) -> list[str]:
    """Where the model says otherwise than rule and series."""
    told = (_against_rule(survivable, ages, low, high), _against_series(survivable, ages))
    return [text for text in told if text]


def _against_rule(survivable: Floats, ages: Floats, low: float, high: float) -> str:
    now = float(ages[0])
    after = max(now, high + BEYOND_DAYS)
    before = max(now, low)
    if now <= high and after <= ages[-1] and _at(survivable, ages, after) >= STILL_GOOD:
        return (
            "The model gives this ventricle longer than the rule of two to three weeks does; the "
            "rule is a habit with reasons, and the model may be wrong."
        )
    if now > high and _at(survivable, ages, now) >= GONE:
        return (
            "The two to three weeks of the rule are past, and the model still gives this ventricle "
            f"{in_fives(_at(survivable, ages, now))}: the rule is a habit with reasons, and the "
            "model may be wrong."
        )
    if before <= high and _at(survivable, ages, before) < GONE:
        return (
            "The model gives this ventricle less time than the rule of two to three weeks does; "
            "neither was measured on babies like this one."
        )
    return ""


def _against_series(survivable: Floats, ages: Floats) -> str:
    row = _series(UNLOADED)
    day = max(float(ages[0]), SERIES_MEAN_DAY)
    if row.value is None or day > min(float(ages[-1]), row.age_high_days or day):
        return ""
    chance = _at(survivable, ages, day)
    if chance >= row.value / PER_CENT - FAR:
        return ""
    return (
        f"At {day:.0f} days the model gives {in_fives(chance)}, where 13 of 14 late primary "
        "switches did without mechanical support: those babies were chosen, this one was not."
    )


def _at(survivable: Floats, ages: Floats, age: float) -> float:
    return float(np.interp(age, ages, survivable))
