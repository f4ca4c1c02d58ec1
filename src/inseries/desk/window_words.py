"""The window in three sentences' worth of words: what, why, how sure."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from inseries.desk.by_law import LAW_WORDS
from inseries.desk.drivers import HIGH_PCT, LOW_PCT
from inseries.desk.window_curve import five
from inseries.desk.window_result import in_words, reason_of
from inseries.draw.window_curve import in_fives

if TYPE_CHECKING:
    from collections.abc import Mapping

    from inseries.desk.by_law import LawsApart
    from inseries.desk.drivers import Driver
    from inseries.desk.window_result import Limiting, TierAnswer
    from inseries.prior.forecast import Day
    from inseries.prior.narrow import Narrowed
    from inseries.prior.story import Story
    from inseries.prior.traits import Floats

# chosen: drivers named in a sentence
MOST_NAMED = 2
# chosen: above this pressure against the right ventricle the left is told to be loaded
LOADED_RATIO = 0.7
# chosen: an opening below this is not told to load the ventricle, mm
LEAST_OPENING_MM = 1.0
# chosen: chances above this have no reason to fail that is worth a sentence
HARDLY_FAILS = 0.95
# chosen: a smaller share of what is unknown is not worth a sentence
WORTH_SAYING = 0.1
# derived: a fraction to points
POINTS = 100.0


def what(tiers: Mapping[str, TierAnswer], ages: Floats, horizon: float) -> str:
    """The chance today, in a week and in three, in both tiers; never a last day."""
    now = float(ages[0])

    def at(name: str, age: float) -> str:
        return in_words(tiers[name], int(np.argmin(np.abs(ages - age))))

    told = [
        "Chance that the left ventricle carries the body after a switch, today: survivable tier "
        f"{at('survivable', now)}; comfortable tier {at('comfortable', now)}."
    ]
    told += [
        f"{later} on: survivable {at('survivable', age)}; comfortable {at('comfortable', age)}."
        for later, age in (("A week", now + 7.0), ("Three weeks", now + 21.0))
        if age <= horizon
    ]
    return " ".join(told)


def why(
    today: Narrowed, day: Day, limiting: tuple[Limiting, ...], survivable: TierAnswer,
    moves: tuple[Driver, ...],
) -> str:  # fmt: skip
    """What loads the ventricle or does not, what would fail, what the window hangs on."""
    told = [_load(today.baby.story, today.age_days, day, today)]
    if survivable.chance[-1] < HARDLY_FAILS:
        told.append(f"Where a switch would fail, it is mostly by {reason_of(limiting[-1])}.")
    return " ".join([*told, *_hangs_on(moves)])


def _hangs_on(moves: tuple[Driver, ...]) -> list[str]:
    """What is unknown of this baby, and how much of the spread is the operation's own."""
    told: list[str] = []
    own = [item for item in moves if item.of == "baby"][:MOST_NAMED]
    if own:
        named = "; ".join(f"{item.name[0].lower()}{item.name[1:]}" for item in own)
        told.append(f"How long there is hangs most on what we do not know of this baby: {named}.")
    theirs = [item for item in moves if item.of == "operation"]
    share = sum(item.share for item in theirs)
    if share >= WORTH_SAYING:
        told.append(
            f"{theirs[0].name}, which no reading before it tells, makes {in_fives(share)} of all "
            "that is unknown."
        )
    return told


def _load(story: Story, age: float, day: Day, today: Narrowed) -> str:
    ratio = float(np.median(day.readings.pressure_ratio))
    traits = today.baby.traits
    index = float(np.median(day.walls.left.mass_g * traits["echo_over_cmr"] / day.surface_m2))
    loads = _loads(story, age, traits["duct"])
    wall = f"its wall about {index:.0f} g/m² by echo, its pressure {ratio:.2f} of the right's"
    if loads and ratio >= LOADED_RATIO:
        verb = "keeps" if len(loads) == 1 else "keep"
        return f"{' and '.join(loads).capitalize()} {verb} the left ventricle at work: {wall}."
    if loads:
        return f"Despite {' and '.join(loads)} the left ventricle works little: {wall}."
    if ratio >= LOADED_RATIO:
        return f"The left ventricle is still loaded by the lungs: {wall}."
    return f"Nothing loads the left ventricle any more: {wall}."


def _loads(story: Story, age: float, duct: Floats) -> list[str]:
    """What keeps the left ventricle at work in this story."""
    found: list[str] = []
    if story.ventricular_mm >= LEAST_OPENING_MM:
        found.append(f"a ventricular defect of {story.ventricular_mm:g} mm")
    if story.outflow not in (None, "open"):
        found.append(f"a {story.outflow} narrowing of the left outflow")
    if story.band_mm(age) > 0.0:
        found.append("a band round the lung artery")
    if story.shunt_mm(age) >= LEAST_OPENING_MM:
        found.append("a shunt to the lung artery")
    if float(np.median(story.duct_mm(age) * duct)) >= LEAST_OPENING_MM:
        found.append("an open duct")
    return found


def how_sure(days: Floats, ages: Floats, apart: LawsApart | None) -> str:
    """How far babies that fit the readings differ, what laws say, and what sets the level."""
    low, high = (f"{end:.0f}" for end in np.percentile(days, [LOW_PCT, HIGH_PCT]))
    have = f"{low} to {high}" if low != high else f"about {low}"
    told = [
        f"Babies that fit these readings have {have} days of window (each of the "
        f"{ages[-1] - ages[0]:.0f} days looked at, counted by its chance)."
    ]
    if apart is not None and apart.told:
        told.append(_apart(apart))
    told.append(
        "This is the left ventricle alone, in a model; possible late is not good late. The level "
        "hangs on how strong and how stiff it is after bypass, the least certain numbers here."
    )
    return " ".join(told)


def _apart(apart: LawsApart) -> str:
    first, second = (LAW_WORDS[name] for name in ("mean_stress", "emptied_stretch"))
    hopeful, other = (first, second) if apart.apart > 0.0 else (second, first)
    return (
        f"Two laws of growth disagree: at {apart.day:.0f} days the {hopeful} gives a survivable "
        f"chance about {five(abs(apart.apart))} points higher than the {other}; both are in the "
        "interval."
    )
