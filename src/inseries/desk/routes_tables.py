"""Routes as tables for a terminal."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.desk.answer import Table
from inseries.desk.routes_result import ROUTE_WORDS
from inseries.desk.routes_words import in_words

if TYPE_CHECKING:
    from inseries.desk.routes_result import Ranking, Route, RouteDay

# chosen: days of a route that its table tells
MOST_DAYS = 6


def route_tables(routes: tuple[Route, ...], ranking: Ranking | None) -> tuple[Table, ...]:
    """Standing and chance, days, harms beside, published rows; the order last, if one was asked."""
    tables = [_standings(routes), *(_days(route) for route in routes if route.by_day)]
    tables += [_options(routes), _harms(routes), _published(routes), _curves(routes)]
    if ranking is not None:
        tables.insert(0, _ranking(ranking))
    return tuple(table for table in tables if table.rows)


def paper_tables(
    routes: tuple[Route, ...], ranking: Ranking | None
) -> tuple[tuple[Table, tuple[float, ...]], ...]:
    """Tables of the printed page, each with the widths of its columns against one another."""
    chosen: list[tuple[Table, tuple[float, ...]]] = [
        (_standings(routes), (1.1, 0.5, 0.6, 1.4, 1.8)),
        (_options(routes), (0.7, 1.0, 2.4, 1.4)),
        (_harms(routes, unsaid=True), (0.8, 4.0)),
        (_published(routes), (0.7, 2.0, 1.3, 1.6)),
    ]
    if ranking is not None:
        chosen.insert(1, (_ranking(ranking), (0.4, 1.0, 1.6)))
    return tuple((table, widths) for table, widths in chosen if table.rows)


def _standings(routes: tuple[Route, ...]) -> Table:
    return Table(
        title="Routes (simulated for this baby)",
        columns=("route", "possible", "switch at", "survivable", "comfortable"),
        rows=tuple(_standing(route) for route in routes),
    )


def _standing(route: Route) -> tuple[str, ...]:
    name = ROUTE_WORDS[route.name]
    possible = "yes" if route.possible else "no"
    if route.chance is None:
        return name, possible, "", "none given", route.chance_why
    chance = route.chance
    return (
        name,
        possible,
        f"day {chance.age_days:.0f}",
        in_words(chance.survivable),
        in_words(chance.comfortable),
    )


def _days(route: Route) -> Table:
    return Table(
        title=f"{ROUTE_WORDS[route.name].capitalize()}: the course (middle of the draws)",
        columns=("age", "loops", "LV mass", "LV/RV", "LV", "mean", "sat", "CI", "EF"),
        rows=tuple(_day(day) for day in _some(route.by_day)),
    )


def _some(days: tuple[RouteDay, ...]) -> tuple[RouteDay, ...]:
    """First and last day, each change of the loops, and days between."""
    changes = {i for i in range(1, len(days)) if days[i].loops != days[i - 1].loops}
    kept = {0, len(days) - 1} | changes
    step = max(1, (len(days) - 1) // MOST_DAYS)
    kept |= set(range(0, len(days), step))
    return tuple(days[i] for i in sorted(kept))


def _day(day: RouteDay) -> tuple[str, ...]:
    age = f"d {day.age_days:.1f}" if day.age_days % 1.0 else f"d {day.age_days:.0f}"
    return (
        age,
        day.loops,
        f"{day.lv_mass_g.value:.1f} g, {day.lv_mass_g_m2.value:.0f} g/m²",
        f"{day.lv_rv_systolic_pressure_ratio.value:.2f}",
        f"{day.lv_systolic_mmhg.value:.0f}",
        f"{day.aortic_mean_mmhg.value:.0f}",
        f"{day.sao2_upper_pct.value:.0f} %",
        f"{day.cardiac_index_l_min_m2.value:.1f}",
        f"{day.lv_ef_pct.value:.0f} %",
    )


def _options(routes: tuple[Route, ...]) -> Table:
    return Table(
        title="What can be added, gain and harm beside each other",
        columns=("route", "what", "gain (computed)", "harm"),
        rows=tuple(
            (ROUTE_WORDS[route.name], option.name, option.gain, option.harm)
            for route in routes
            for option in route.options
        ),
    )


def _harms(routes: tuple[Route, ...], *, unsaid: bool = False) -> Table:
    """All hazards, or those that the published rows beside them do not say already."""
    rows: list[tuple[str, str]] = []
    for route in routes:
        said = {row.text for row in route.published} if unsaid else set[str]()
        harms = [harm for harm in route.harms if harm not in said]
        names = [ROUTE_WORDS[route.name], *[""] * len(harms)]
        rows += list(zip(names, harms, strict=False))
    return Table(
        title="Hazards in the literature and in practice",
        columns=("route", "harm"),
        rows=tuple(rows),
    )


def _published(routes: tuple[Route, ...]) -> Table:
    return Table(
        title="Published, other babies, own denominators; the cost of waiting first",
        columns=("route", "what was found", "in whom", "beware"),
        rows=tuple(
            (ROUTE_WORDS[route.name] if place == 0 else "", row.text, row.in_whom, row.caution)
            for route in routes
            for place, row in enumerate(route.published)
        ),
    )


def _curves(routes: tuple[Route, ...]) -> Table:
    curves = {curve.id: curve for route in routes for curve in route.published_curves}
    return Table(
        title="Published over decades (other babies, other eras; never joined to the simulation)",
        columns=("series", "counts", "per cent at years", "who is counted"),
        rows=tuple(
            (
                curve.label,
                curve.counts,
                ", ".join(
                    f"{p:.0f} % at {y:.0f} y" for y, p in zip(curve.years, curve.pct, strict=True)
                ),
                f"{curve.in_whom}; {curve.denominator}",
            )
            for curve in curves.values()
        ),
    )


def _ranking(ranking: Ranking) -> Table:
    return Table(
        title=f"Order asked for: {ranking.by}. {ranking.meaning}",
        columns=("place", "route", "value"),
        rows=tuple(
            ("" if row.place is None else f"{row.place}", ROUTE_WORDS[row.name], row.value)
            for row in ranking.rows
        ),
    )
