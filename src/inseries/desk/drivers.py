"""What this baby's window hangs on, in days of window.

Days of window are the days from today to the horizon, each counted by its chance. What we do not
know of the baby spreads them, and so does what no one knows of the operation; here that spread is
shared out to groups of unknowns of either.
"""

from __future__ import annotations

from dataclasses import dataclass
from dataclasses import replace as altered
from typing import TYPE_CHECKING, Literal

import numpy as np

from inseries.desk.attribution import Shares, shares, weighed_anew
from inseries.prior.traits import Floats, spreads

if TYPE_CHECKING:
    from inseries.prior.narrow import Narrowed

MOST_DRIVERS = 7  # chosen: how many are named
# chosen: effects below this are not worth a line, days
LEAST_DAYS = 0.5
# chosen: fewer different draws than this share nothing out
LEAST_DRAWS = 12
# derived: a 90 % interval lies between these percentiles
LOW_PCT, HIGH_PCT = 5.0, 95.0

GROUPS: dict[str, dict[str, str]] = {
    "Weight of the left ventricle at birth": {"lv_mass": "a heavier one"},
    "Cavities and right ventricle at birth": {
        "lv_cavity": "a larger left cavity",
        "rv_cavity": "a larger right cavity",
        "rv_mass": "a heavier right ventricle",
    },
    "Strength of the muscle": {"muscle_strength": "stronger muscle"},
    "Stiffness of the left ventricle": {"stiffness": "a stiffer one"},
    "The lungs": {
        "lung_resistance": "higher lung resistance",
        "collaterals": "more collateral flow to the lungs",
    },
    "The openings": {
        "duct": "a wider duct",
        "foramen": "a wider foramen",
        "septostomy": "a wider tear",
        "atrial_defect_measured": "a wider atrial opening",
        "ventricular_defect": "a wider ventricular defect",
        "eddy_speed": "more mixing at the septum",
    },
    "The left outflow": {"outflow": "a wider outflow"},
    "What the body asks for": {
        "pressure_target": "a higher arterial pressure",
        "output_target": "a larger flow asked for",
        "filling_limit": "a fuller circulation",
        "oxygen_need": "a larger oxygen need",
        "haemoglobin": "more haemoglobin",
        "haemoglobin_unmeasured": "more haemoglobin",
    },
    "How fast the wall goes and comes": {
        "loss_rate": "faster loss",
        "gain_rate": "faster gain",
        "set_point": "a wall that asks for more load",
    },
    "Which growth law holds": {"law": "the law of the emptied stretch"},
    "What the echo reads": {"echo_over_cmr": "an echo that overrates the mass"},
}

# in the order of the operation's unknowns
BYPASS: dict[str, str] = {
    "Strength after bypass": "a stronger ventricle after bypass",
    "Stiffness after bypass": "a stiffer ventricle after bypass",
    "Lung resistance after bypass": "higher lung resistance after bypass",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Operated:
    """How long a switch would succeed under what bypass may leave.

    Parameters
    ----------
    days_met : shape (n, unknowns drawn), days of window of each draw under each
    unknowns : shape (unknowns drawn, 3), in deviations
    """

    days_met: Floats
    unknowns: Floats


@dataclass(frozen=True, slots=True, kw_only=True)
class Driver:
    """A group of unknowns, and the days of window that a usual difference in it makes.

    Parameters
    ----------
    name : of the group
    of : whether it is unknown of this baby, and may be measured, or of any operation
    effect_days, low, high : days of window for a usual difference (one standard deviation of what
        is still possible for this baby), positive where more of what ``words`` names makes the
        window longer; its 90 % interval with the draws weighed anew
    share : of the spread of the days of window, by baby and operation together
    words : the same for a reader
    """

    name: str
    of: Literal["baby", "operation"]
    effect_days: float
    low: float
    high: float
    share: float
    words: str


def days_of_window(chance: Floats, ages: Floats) -> Floats:
    """Days from the first age to the last, each counted by its chance.

    Parameters
    ----------
    chance : array, shape (n, days)
    ages : array, shape (days,)

    Returns
    -------
    array, shape (n,), days
    """
    between = 0.5 * (chance[:, 1:] + chance[:, :-1])
    return (between * np.diff(ages)).sum(axis=1)


def drivers(today: Narrowed, days: Floats, operated: Operated | None = None) -> tuple[Driver, ...]:
    """Groups of unknowns that spread the days of window.

    Parameters
    ----------
    today : narrowed draws
    days : array, shape (n,), days of window of each
    operated : the same under each of the operation's unknowns; left out where not known

    Returns
    -------
    tuple of Driver, largest first; none whose error covers zero
    """
    of_baby, of_operation = _halves(operated)
    found = [
        *_of_the_baby(today, days, of_baby),
        *(_of_the_operation(today, operated, of_operation) if operated else ()),
    ]
    return tuple(sorted(found, key=lambda item: -abs(item.effect_days))[:MOST_DRIVERS])


def _halves(operated: Operated | None) -> tuple[float, float]:
    """Shares of the whole spread, the baby's and the operation's; half each of what both make."""
    if operated is None:
        return 1.0, 0.0
    days = operated.days_met
    whole = float(days.var())
    if whole <= 0.0:
        return 1.0, 0.0
    baby, operation = float(days.mean(axis=1).var()), float(days.mean(axis=0).var())
    of_baby = 0.5 * (1.0 + (baby - operation) / whole)
    return of_baby, 1.0 - of_baby


def _of_the_baby(today: Narrowed, days: Floats, half: float) -> list[Driver]:
    z, names = _told_apart(today)
    groups = _groups(z, names)
    if len(np.unique(z, axis=0)) < LEAST_DRAWS or days.std() < LEAST_DAYS or not groups:
        return []
    columns = [name for name in names if any(name in group for group in groups.values())]
    places = {name: place for place, name in enumerate(columns)}
    shared = shares(
        z[:, [names.index(name) for name in columns]],
        days,
        [[places[name] for name in group] for group in groups.values()],
    )
    found: list[Driver | None] = []
    for place, (name, group) in enumerate(groups.items()):
        leading = max(group, key=lambda trait: abs(shared.slopes[places[trait]]))
        words = (name, GROUPS[name][leading])
        found.append(_driver(words, shared.slopes[places[leading]], shared, place, half))
    return [item for item in found if item is not None]


def _of_the_operation(today: Narrowed, operated: Operated, half: float) -> list[Driver]:
    """What bypass may leave; its error also holds that the draws are few."""
    days = operated.days_met.mean(axis=0)
    draws = len(np.unique(today.baby.traits.z, axis=0))
    if draws < LEAST_DRAWS or days.std() < LEAST_DAYS:
        return []
    shared = shares(operated.unknowns, days, [[place] for place in range(len(BYPASS))])
    anew = _few_draws(today, operated.days_met) / days.var()
    shared = altered(shared, again=shared.again * anew[:, None])
    found = [
        _driver(words, shared.slopes[place], shared, place, half, "operation")
        for place, words in enumerate(BYPASS.items())
    ]
    return [item for item in found if item is not None]


def _few_draws(today: Narrowed, days_met: Floats) -> Floats:
    """Spread over the operation's unknowns with the draws weighed anew, shape (AGAIN,)."""
    once, which = np.unique(today.baby.traits.z, axis=0, return_inverse=True)
    weights = weighed_anew(len(once))[:, np.ravel(which)]
    weights /= weights.sum(axis=1, keepdims=True)
    spread: Floats = (weights @ days_met).var(axis=1)
    return spread


def _told_apart(today: Narrowed) -> tuple[Floats, list[str]]:
    """Traits of the draws by name; of the trait that only chooses a law, which one it chose."""
    names = [trait.name for trait in spreads()]
    z = today.baby.traits.z.copy()
    if "law" in names:
        z[:, names.index("law")] = np.sign(z[:, names.index("law")])
    return z, names


def _groups(z: Floats, names: list[str]) -> dict[str, dict[str, str]]:
    """The groups with their traits that vary and play a part."""
    varying = {name for column, name in enumerate(names) if z[:, column].std() > 0.0}
    kept = {
        group: {trait: words for trait, words in traits.items() if trait in varying}
        for group, traits in GROUPS.items()
    }
    return {group: traits for group, traits in kept.items() if traits}


def _driver(
    words: tuple[str, str],
    slope: float,
    shared: Shares,
    group: int,
    half: float,
    of: Literal["baby", "operation"] = "baby",
) -> Driver | None:
    """A group as a driver, or None where its error covers zero.

    Its sign is that of the trait which moves the window most.
    """
    low, high = np.percentile(shared.again[:, group], [LOW_PCT, HIGH_PCT])
    size = float(np.sqrt(max(shared.variance[group], 0.0)))
    if low <= 0.0 or size < LEAST_DAYS:
        return None
    sign = 1.0 if slope > 0.0 else -1.0
    reach = (min(float(np.sqrt(low)), size), max(float(np.sqrt(high)), size))
    ends = sorted(sign * end for end in reach)
    share = shared.variance[group] / np.maximum(shared.variance, 0.0).sum()
    name, more = words
    return Driver(
        name=name,
        of=of,
        effect_days=round(sign * size, 2),
        low=round(ends[0], 2),
        high=round(ends[1], 2),
        share=round(float(half * share), 3),
        words=_words(sign * size, ends[0], ends[1], more),
    )


def _words(effect: float, low: float, high: float, more: str) -> str:
    """Such as: about 4 days (3 to 5) longer with stronger muscle."""
    near, far = sorted((round(abs(low)), round(abs(high))))
    within = "" if near == far else f" ({near} to {far})"
    way = "longer" if effect > 0.0 else "shorter"
    return f"about {_whole(abs(effect))}{within} {way} with {more}"


def _whole(days: float) -> str:
    count = max(round(days), 1)
    return f"{count} day{'' if count == 1 else 's'}"
