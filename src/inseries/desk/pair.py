"""Two routes beside one another, and an order by one thing: from an answer that is at hand.

Nothing is computed anew. The answer of ``routes`` is told of the two that a user chose, with a
table that says the same of both; the order is never a verdict.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from inseries.base.errors import CaseError
from inseries.desk.answer import Table
from inseries.desk.routes_rank import MEANINGS, ranking, refuse_unknown
from inseries.desk.routes_result import ROUTE_WORDS
from inseries.desk.routes_told import RoutesResult

if TYPE_CHECKING:
    from collections.abc import Mapping

    from inseries.desk.answer import Answer
    from inseries.desk.routes_result import Route, RouteName

# what an address calls the two routes, and the thing they are ordered by
PAIR, BY = "pair", "rank_by"
ORDERS = {
    "survivable": "chance of the survivable tier",
    "comfortable": "chance of the comfortable tier",
    "fewest_operations": "number of operations",
    "soonest_one_ring": "age at which the loops become one",
    "saturation_before_repair": "lowest saturation before a repair",
}


def choices() -> tuple[tuple[str, str], ...]:
    """Every route by name, with its words."""
    return tuple(ROUTE_WORDS.items())


def picked(answer: Answer, asked: Mapping[str, str]) -> Answer:
    """An answer of ``routes`` told of the two routes chosen, in the order chosen.

    Parameters
    ----------
    answer : of any verb; one that is not of routes stays as it is
    asked : what an address asks for; ``pair`` names two routes with a comma, ``rank_by`` one thing

    Raises
    ------
    InseriesError, for a route or an order that is not there
    """
    result = answer.result
    if not isinstance(result, RoutesResult):
        return answer
    by = asked.get(BY) or None
    refuse_unknown(by)
    two = _two(asked.get(PAIR, ""))
    chosen = [route for name in two for route in result.routes if route.name == name]
    order = ranking(result.routes, by)
    if not chosen:
        return replace(answer, result=replace(result, ranking=order))
    lanes = tuple(
        lane
        for route in chosen
        for lane in result.picture.lanes
        if lane.name == ROUTE_WORDS[route.name]
    )
    picture = replace(result.picture, title="Two routes beside one another", lanes=lanes)
    told = replace(result, routes=tuple(chosen), ranking=order, picture=picture)
    return replace(answer, result=told)


def beside(result: object) -> tuple[Table, ...]:
    """The same said of both routes; nothing unless a result holds exactly two."""
    if not isinstance(result, RoutesResult) or len(result.routes) != 2:
        return ()
    both = result.routes
    values = {by: ranking(both, by) for by in MEANINGS}
    rows: list[tuple[str, ...]] = [
        ("can it be gone", *(_standing(route) for route in both)),
        ("what is done", *(_done(route) for route in both)),
    ]
    for by, order in values.items():
        assert order is not None
        said = {row.name: row.value for row in order.rows}
        rows.append((ORDERS[by], *(said[route.name] for route in both)))
    rows.append(("why", *(route.why for route in both)))
    rows.append(("how sure", *(route.how_sure for route in both)))
    rows.append(("hazards", *(" ".join(route.harms) or "none told" for route in both)))
    title = f"{_name(both[0])} beside {_name(both[1])} (simulated for this baby; no verdict)"
    columns = ("what", *(ROUTE_WORDS[route.name] for route in both))
    return (Table(title=title, columns=columns, rows=tuple(rows)),)


def _two(told: str) -> tuple[RouteName, ...]:
    """The two names of an address; none where fewer are told."""
    names = [name for name in told.split(",") if name]
    known: list[RouteName] = [name for name in ROUTE_WORDS if name in names]
    if len(known) != len(set(names)) or len(names) > 2:
        raise CaseError(
            "these are not two of the routes",
            code="unknown_route",
            where="routes to compare",
            value=told[:64],
            remedy=", ".join(ROUTE_WORDS),
        )
    return tuple(known) if len(known) == 2 else ()


def _name(route: Route) -> str:
    words = ROUTE_WORDS[route.name]
    return f"{words[:1].upper()}{words[1:]}"


def _standing(route: Route) -> str:
    return "yes" if route.possible else "no"


def _done(route: Route) -> str:
    done = [step for step in route.timeline if step.what != "today"]
    return "; ".join(f"day {step.age_days:.0f}: {step.what}" for step in done) or "nothing"
