"""What the verb ``routes`` tells, as records."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from inseries.base.findings import Estimate  # noqa: TC001 - read by the schema at run time
from inseries.desk.published import Published, PublishedCurve  # noqa: TC001 - read by the schema at run time

RouteName: TypeAlias = Literal[
    "wait", "primary_switch", "band_then_switch", "conditioning_then_switch", "atrial_switch"
]
Suits: TypeAlias = Literal["shown", "not shown", "not asked"]
Loops: TypeAlias = Literal["two loops", "two loops, banded", "one ring", "atrial switch"]

ROUTE_WORDS: dict[RouteName, str] = {
    "wait": "wait",
    "primary_switch": "primary switch",
    "band_then_switch": "band, then switch",
    "conditioning_then_switch": "conditioning, then switch",
    "atrial_switch": "atrial switch",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class RouteStep:
    """One thing on a route's time line, at an age in days."""

    age_days: float
    what: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RouteDay:
    """One day of a route; ``draws`` says how many it rests on, masses are on the echo scale."""

    age_days: float
    loops: Loops
    draws: int
    lv_mass_g: Estimate
    lv_mass_g_m2: Estimate
    lv_systolic_mmhg: Estimate
    rv_systolic_mmhg: Estimate
    lv_rv_systolic_pressure_ratio: Estimate
    aortic_mean_mmhg: Estimate
    filling_mmhg: Estimate
    sao2_upper_pct: Estimate
    cardiac_index_l_min_m2: Estimate
    lv_ef_pct: Estimate
    rv_ef_pct: Estimate


@dataclass(frozen=True, slots=True, kw_only=True)
class ChanceAt:
    """Chance of each tier after a switch at one age: mean and 90 % interval over the draws."""

    age_days: float
    survivable: Estimate
    comfortable: Estimate


@dataclass(frozen=True, slots=True, kw_only=True)
class RouteChance:
    """Chance of each tier after the route's switch; ``by_age`` on other days it was tried."""

    age_days: float
    survivable: Estimate
    comfortable: Estimate
    by_age: tuple[ChanceAt, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RouteOption:
    """Something that can be added to a route, with its computed effect and its harm."""

    name: str
    gain: str
    harm: str
    by_day: tuple[RouteDay, ...]
    published: tuple[Published, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Route:
    """One route: whether it can be gone, what it would do, what it costs, what was published.

    ``chance`` is None where nothing can hold one; ``chance_why`` then says why.
    """

    name: RouteName
    possible: bool
    suitability: Suits
    what: str
    why: str
    how_sure: str
    timeline: tuple[RouteStep, ...]
    by_day: tuple[RouteDay, ...]
    chance: RouteChance | None
    chance_why: str
    harms: tuple[str, ...]
    options: tuple[RouteOption, ...]
    published: tuple[Published, ...]
    published_curves: tuple[PublishedCurve, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ranked:
    """One route in the order asked for; ``place`` is None where the criterion says nothing."""

    name: RouteName
    place: int | None
    value: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Ranking:
    """An order by one thing that the user chose; never a verdict."""

    by: str
    meaning: str
    rows: tuple[Ranked, ...]
