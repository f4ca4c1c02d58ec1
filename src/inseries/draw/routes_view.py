"""What the picture of the routes is told: five lanes on one axis of age, published curves apart."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from inseries.base.errors import OutputError

EventSign = Literal["band", "switch", "atrial switch", "conditioning", "support"]
Standing = Literal["possible", "not possible", "not shown"]
Counted = Literal["all operated", "survivors only", "mixed"]


@dataclass(frozen=True, slots=True, kw_only=True)
class RouteEvent:
    """Something done, at ``day`` days of age, with what is written beside its sign."""

    day: float
    label: str
    sign: EventSign


@dataclass(frozen=True, slots=True, kw_only=True)
class Lane:
    """One route.

    Attributes
    ----------
    name : str, such as ``"band, then switch"``
    standing : str, ``"possible"``, ``"not possible"`` or ``"not shown"``
    why : str, a few words
    events : tuple of RouteEvent, in order of age
    days : tuple of float, shape (n_days,), days of age, rising; empty where nothing was computed
    mass, mass_low, mass_high : tuple of float, shape (n_days,), g/m², 90 % interval
    saturation_pct : tuple of float, shape (n_days,), %, above the duct
    chance_lines : tuple of str, the chance of each tier in words, or why there is none
    note : str, written where there is no course to draw
    """

    name: str
    standing: Standing
    why: str
    events: tuple[RouteEvent, ...]
    days: tuple[float, ...]
    mass: tuple[float, ...]
    mass_low: tuple[float, ...]
    mass_high: tuple[float, ...]
    saturation_pct: tuple[float, ...]
    chance_lines: tuple[str, ...]
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """What one published series reports over years, other babies.

    Attributes
    ----------
    label : str, operation and where
    of : str, what is counted, such as ``"alive"``
    ages_y, pct : tuple of float, points as printed
    counted : str, ``"all operated"``, ``"survivors only"`` or ``"mixed"``
    note : str, number, years, and who is counted
    """

    label: str
    of: str
    ages_y: tuple[float, ...]
    pct: tuple[float, ...]
    counted: Counted
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RoutesView:
    """The routes beside one another, simulated above, published beneath.

    Attributes
    ----------
    title, sentence : str
    today_day, fold_day, last_day : float, days of age; the axis is drawn closer beyond the fold
    lanes : tuple of Lane
    strips : tuple of Strip; must not be empty
    figure_id : str, prefix of every id in the SVG
    """

    title: str
    sentence: str
    today_day: float
    fold_day: float
    last_day: float
    lanes: tuple[Lane, ...]
    strips: tuple[Strip, ...]
    figure_id: str


def check_routes(view: RoutesView) -> None:
    """Refuses a picture that says less than it must, by ``OutputError``."""
    if not view.strips:
        raise OutputError(
            "routes are never shown without what was published of them",
            code="published_missing",
            where="draw routes",
            remedy="give the view its published strips",
        )
    for lane in view.lanes:
        rows = (lane.mass, lane.mass_low, lane.mass_high, lane.saturation_pct)
        if any(len(row) != len(lane.days) for row in rows):
            raise OutputError(
                "a lane needs one value for each of its days",
                code="lengths_differ",
                where=f"draw routes: {lane.name}",
                remedy="give every row as many values as there are days",
            )
        if not lane.chance_lines:
            raise OutputError(
                "a lane says its chance, or why there is none",
                code="chance_missing",
                where=f"draw routes: {lane.name}",
                remedy="give the lane its chance in words",
            )


def spoken(view: RoutesView) -> str:
    """The picture in words, for readers who do not see it."""
    lanes = " ".join(_lane_words(lane) for lane in view.lanes)
    strips = "; ".join(
        f"{strip.label}, {strip.of}: "
        + ", ".join(
            f"{p:.0f} % at {y:.0f} years" for y, p in zip(strip.ages_y, strip.pct, strict=True)
        )
        + f" ({strip.note})"
        for strip in view.strips
    )
    return f"{view.sentence} {lanes} Published, other babies: {strips}."


def _lane_words(lane: Lane) -> str:
    events = ", ".join(event.label for event in lane.events)
    course = ""
    if lane.days:
        course = (
            f" Left ventricular mass {lane.mass[0]:.0f} g/m² on day {lane.days[0]:.0f}, "
            f"{lane.mass[-1]:.0f} on day {lane.days[-1]:.0f}; saturation "
            f"{lane.saturation_pct[0]:.0f} and {lane.saturation_pct[-1]:.0f} %."
        )
    done = f" {events}." if events else ""
    return (
        f"{lane.name}: {lane.standing}; {lane.why}.{done}{course} {'; '.join(lane.chance_lines)}."
    )
