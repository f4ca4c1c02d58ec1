"""From routes to the record that their picture is drawn from."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.desk.routes_result import ROUTE_WORDS
from inseries.desk.routes_words import in_words
from inseries.draw.routes_view import Lane, RouteEvent, RoutesView, Strip

if TYPE_CHECKING:
    from inseries.desk.published import PublishedCurve
    from inseries.desk.routes_plan import RoutesPlan
    from inseries.desk.routes_result import Route, RouteDay, RouteStep
    from inseries.draw.routes_view import EventSign, Standing

# chosen: series shown as strips, the longest of each kind and both kinds of denominator
SHOWN_STRIPS = (
    "switch_czech",
    "switch_birmingham",
    "switch_survivors",
    "switch_no_reintervention",
    "atrial_two_countries",
    "atrial_belgium",
    "mustard_rotterdam",
    "atrial_event_free_curve",
)

# the sign of what is done, by how its words begin
SIGNS: tuple[tuple[str, EventSign], ...] = (
    ("band for", "conditioning"),
    ("band", "band"),
    ("arterial", "switch"),
    ("atrial", "atrial switch"),
)


def routes_picture(routes: tuple[Route, ...], plan: RoutesPlan) -> RoutesView:
    """The picture's record.

    Parameters
    ----------
    routes : all routes
    plan : their days

    Returns
    -------
    RoutesView
    """
    curves = {curve.id: curve for route in routes for curve in route.published_curves}
    return RoutesView(
        title="Five routes beside one another",
        sentence=(
            "Simulated for this baby to one year, on a closer scale beyond day "
            f"{plan.near_day:.0f}; no route is recommended. What was published of other babies "
            "stands beneath, apart."
        ),
        today_day=plan.today,
        fold_day=plan.near_day,
        last_day=plan.last_day,
        lanes=tuple(_lane(route) for route in routes),
        strips=tuple(_strip(curves[name]) for name in SHOWN_STRIPS if name in curves),
        figure_id="routes",
    )


def _lane(route: Route) -> Lane:
    days = () if route.name == "conditioning_then_switch" else _once(route.by_day)
    return Lane(
        name=ROUTE_WORDS[route.name],
        standing=_standing(route),
        why=_short(route),
        events=_events(route),
        days=tuple(day.age_days for day in days),
        mass=tuple(day.lv_mass_g_m2.value for day in days),
        mass_low=tuple(day.lv_mass_g_m2.low or 0.0 for day in days),
        mass_high=tuple(day.lv_mass_g_m2.high or 0.0 for day in days),
        saturation_pct=tuple(day.sao2_upper_pct.value for day in days),
        chance_lines=_chance(route),
        note=route.what,
    )


def _once(days: tuple[RouteDay, ...]) -> tuple[RouteDay, ...]:
    """Days in order, each age once; the later state of an age counts."""
    by_age = {day.age_days: day for day in days}
    return tuple(by_age[age] for age in sorted(by_age))


def _standing(route: Route) -> Standing:
    if route.suitability == "not shown" and route.name != "wait":
        return "not shown"
    return "possible" if route.possible else "not possible"


def _short(route: Route) -> str:
    """The first sentence of the reason."""
    first = route.why.split(". ")[0].rstrip(".")
    return f"{first}."


def _done(route: Route) -> list[RouteStep]:
    """What is done on the time line."""
    return [step for step in route.timeline if step.what != "today"]


def _events(route: Route) -> tuple[RouteEvent, ...]:
    """What is done, in order; hours of conditioning and the switch after them are one thing."""
    done = _done(route)
    if route.name == "conditioning_then_switch" and done:
        label = f"{done[0].what}, then switch, day {done[-1].age_days:.0f}"
        return (RouteEvent(day=done[0].age_days, label=label, sign="conditioning"),)
    return tuple(_event(step.age_days, step.what) for step in done)


def _event(day: float, what: str) -> RouteEvent:
    sign: EventSign = next(kind for start, kind in SIGNS if what.startswith(start))
    return RouteEvent(day=day, label=f"{what.partition(',')[0]}, day {day:.0f}", sign=sign)


def _chance(route: Route) -> tuple[str, ...]:
    chance = route.chance
    if chance is None:
        return (f"no chance given: {_lowered(route.chance_why)}",)
    when = f" at day {chance.age_days:.0f}" if route.name == "wait" else ""
    return (
        f"survivable{when}: {in_words(chance.survivable)}",
        f"comfortable{when}: {in_words(chance.comfortable)}",
    )


def _lowered(words: str) -> str:
    first = words.split(". ", maxsplit=1)[0].rstrip(".")
    return f"{first[:1].lower()}{first[1:]}"


def _strip(curve: PublishedCurve) -> Strip:
    counted = (
        "survivors only"
        if "survivors only" in curve.denominator
        else "all operated"
        if "all operated" in curve.denominator
        else "mixed"
    )
    return Strip(
        label=curve.label,
        of=curve.counts,
        ages_y=curve.years,
        pct=curve.pct,
        counted=counted,
        note=f"{curve.in_whom.rpartition('n = ')[1]}{curve.in_whom.rpartition('n = ')[2]}; "
        f"{curve.denominator}",
    )
