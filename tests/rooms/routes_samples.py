"""Invented views of routes for the tests of pictures; no baby stands behind them."""

from __future__ import annotations

from inseries.draw.routes_view import Lane, RouteEvent, RoutesView, Strip

DAYS = (13.0, 14.0, 16.0, 20.0, 27.0, 42.0, 60.0, 90.0, 150.0, 240.0, 365.0)
FALLING = (33.0, 32.5, 31.4, 29.7, 27.0, 24.6, 24.7, 25.4, 26.0, 25.9, 26.4)
RISING = (33.0, 37.0, 42.0, 41.5, 41.0, 42.7, 44.0, 45.0, 46.7, 47.3, 47.8)
BLUE = (70.0, 69.0, 69.0, 68.0, 67.0, 63.0, 58.0, 54.0, 50.0, 45.0, 41.0)
PINK = (70.0, *(97.0,) * 10)


def lane(name: str, **changes: object) -> Lane:
    """One invented lane."""
    mass = FALLING if name == "wait" else RISING
    made: dict[str, object] = {
        "name": name,
        "standing": "possible",
        "why": "nothing recorded speaks against it",
        "events": (),
        "days": DAYS,
        "mass": mass,
        "mass_low": tuple(0.8 * value for value in mass),
        "mass_high": tuple(1.25 * value for value in mass),
        "saturation_pct": BLUE if name == "wait" else PINK,
        "chance_lines": ("survivable: about 85 % (60 to 100 %)", "comfortable: about 40 %"),
    }
    made.update(changes)
    return Lane(**made)  # type: ignore[arg-type]


def empty(name: str, **changes: object) -> Lane:
    """A lane without a course."""
    none: dict[str, object] = dict.fromkeys(
        ("days", "mass", "mass_low", "mass_high", "saturation_pct"), ()
    )
    return lane(name, **{**none, **changes})


LANES = (
    lane("wait", chance_lines=("survivable a week on: about 80 % (50 to 100 %)",)),
    lane("primary switch", events=(RouteEvent(day=13.0, label="switch, day 13", sign="switch"),)),
    lane(
        "band, then switch",
        why="ready by the criteria of banded ventricles at about day 22 (19 to 27)",
        events=(
            RouteEvent(day=13.0, label="band", sign="band"),
            RouteEvent(day=22.0, label="switch, day 22", sign="switch"),
        ),
    ),
    empty(
        "conditioning, then switch",
        note="Hours of banding add about 2 % of mass (1 to 4): a test of tolerance, not training.",
        chance_lines=("no chance: there is no evidence to hold it",),
    ),
    lane(
        "atrial switch",
        standing="not shown",
        why="the left outflow was not described",
        events=(RouteEvent(day=90.0, label="atrial switch, day 90", sign="atrial switch"),),
        chance_lines=("no chance: the right ventricle goes on carrying the body",),
    ),
)
STRIPS = (
    Strip(
        label="arterial switch, invented country",
        of="alive",
        ages_y=(20.0,),
        pct=(94.0,),
        counted="all operated",
        note="n = 605, invented years; all operated, early deaths (3.3 %) counted",
    ),
    Strip(
        label="atrial switch, invented survivors",
        of="alive",
        ages_y=(10.0, 20.0, 30.0),
        pct=(91.0, 88.0, 79.0),
        counted="survivors only",
        note="n = 339; early survivors only, early deaths (16 %) are not counted",
    ),
)


def routes_view(**changes: object) -> RoutesView:
    """An invented picture of routes."""
    made: dict[str, object] = {
        "title": "Five routes beside one another",
        "sentence": "Simulated for this invented baby to one year; published series stand beneath.",
        "today_day": 13.0,
        "fold_day": 60.0,
        "last_day": 365.0,
        "lanes": LANES,
        "strips": STRIPS,
        "figure_id": "routes",
    }
    made.update(changes)
    return RoutesView(**made)  # type: ignore[arg-type]
