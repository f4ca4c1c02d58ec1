"""An order of routes by the one thing that the user asks for; without it there is none."""

from __future__ import annotations

from difflib import get_close_matches
from typing import TYPE_CHECKING

from inseries.base.errors import RouteNotPossible
from inseries.desk.routes_result import Ranked, Ranking
from inseries.desk.routes_words import in_words

if TYPE_CHECKING:
    from collections.abc import Callable

    from inseries.desk.routes_result import Route

MEANINGS = {
    "survivable": "chance of the survivable tier after the route's switch, highest first",
    "comfortable": "chance of the comfortable tier after the route's switch, highest first",
    "fewest_operations": "operations on the time line, fewest first",
    "soonest_one_ring": "age at which the two loops become one, earliest first",
    "saturation_before_repair": "lowest saturation on the way to a repair, highest first",
}
REPAIRED = ("one ring", "atrial switch")


def refuse_unknown(by: str | None) -> None:
    """Refuses a criterion that is not there, by ``RouteNotPossible``."""
    if by is None or by in MEANINGS:
        return
    near = get_close_matches(by, MEANINGS, n=1)
    raise RouteNotPossible(
        "routes cannot be ranked by that",
        code="unknown_criterion",
        where="rank by",
        value=by,
        remedy=near[0] if near else ", ".join(MEANINGS),
    )


def ranking(routes: tuple[Route, ...], by: str | None) -> Ranking | None:
    """Possible routes in the order asked for.

    Parameters
    ----------
    routes : all routes
    by : one of ``MEANINGS``, or None

    Returns
    -------
    Ranking, or None where nothing was asked; equal values share a place, and a route that is not
    possible, or of which the criterion says nothing, has none
    """
    if by is None:
        return None
    told = [(route, *_OF[by](route)) for route in routes]
    values = sorted({value for route, value, _ in told if route.possible and value is not None})
    rows = [
        Ranked(
            name=route.name,
            place=None if value is None or not route.possible else values.index(value) + 1,
            value=said if route.possible else "not possible",
        )
        for route, value, said in told
    ]
    last = len(rows) + 1
    return Ranking(
        by=by,
        meaning=f"By one thing you chose, {MEANINGS[by]}; not a verdict.",
        rows=tuple(sorted(rows, key=lambda row: row.place or last)),
    )


def _tier(name: str) -> Callable[[Route], tuple[float | None, str]]:
    def of(route: Route) -> tuple[float | None, str]:
        if route.chance is None:
            return None, "no chance is given"
        estimate = getattr(route.chance, name)
        return -round(20.0 * estimate.value) / 20.0, in_words(estimate)

    return of


def _operations(route: Route) -> tuple[float | None, str]:
    if route.name == "wait":
        return None, "no repair on its time line"
    count = len(route.timeline)
    return float(count), f"{count}"


def _ring(route: Route) -> tuple[float | None, str]:
    days = [day.age_days for day in route.by_day if day.loops in REPAIRED]
    if route.name == "conditioning_then_switch":
        days = [route.timeline[-1].age_days] if route.timeline else []
    return (days[0], f"at {days[0]:.0f} days") if days else (None, "not within a year")


def _lowest(route: Route) -> tuple[float | None, str]:
    days = [day.sao2_upper_pct.value for day in route.by_day if day.loops not in REPAIRED]
    if route.name == "wait" or not days:
        return None, "no repair on its time line" if route.name == "wait" else "not computed"
    return -float(round(min(days))), f"{min(days):.0f} %"


_OF: dict[str, Callable[[Route], tuple[float | None, str]]] = {
    "survivable": _tier("survivable"),
    "comfortable": _tier("comfortable"),
    "fewest_operations": _operations,
    "soonest_one_ring": _ring,
    "saturation_before_repair": _lowest,
}
