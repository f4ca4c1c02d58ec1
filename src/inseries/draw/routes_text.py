"""The routes as text for a terminal: five tracks of age, then published series, 78 columns."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.draw.routes_axis import FoldedAxis
from inseries.draw.routes_view import check_routes
from inseries.draw.terminal import COLUMNS, indented

if TYPE_CHECKING:
    from inseries.draw.routes_view import Lane, RoutesView, Strip

TRACK = 74  # chosen: columns of a track, two free on either side
LETTERS = {"band": "B", "switch": "S", "atrial switch": "A", "conditioning": "C", "support": "P"}
KEY = (
    "tracks of age: ─ two loops, ═ one ring; B band, S switch, A atrial switch, C conditioning",
    "beneath each: left ventricular mass (g/m²) and saturation of the right hand, simulated",
)
# chosen: points of a lane that are told in numbers
TOLD = 4


def routes_text(view: RoutesView) -> str:
    """The routes as text.

    Parameters
    ----------
    view : RoutesView

    Returns
    -------
    str, lines of at most 78 columns; what was published is part of it

    Raises
    ------
    OutputError, under the same conditions as ``routes_svg``
    """
    check_routes(view)
    ages = FoldedAxis(
        first=view.today_day,
        fold=view.fold_day,
        last=view.last_day,
        start=2,
        end=TRACK + 1,
        gap=2,
    )
    lines = [line for words in KEY for line in indented(words)]
    lines.append(_labels(ages))
    for lane in view.lanes:
        lines += _lane(lane, ages)
    lines.append("")
    lines += indented("published, other babies and eras, each with its own denominator:")
    for strip in view.strips:
        lines += indented(_strip(strip))
    return "\n".join(lines) + "\n"


def _labels(ages: FoldedAxis) -> str:
    row = [" "] * COLUMNS
    free = 0
    for day, label in ages.labels():
        column = round(ages.at(day))
        words = label if day > ages.fold else f"d{label}"
        if column >= free and column + len(words) <= COLUMNS:
            row[column : column + len(words)] = words
            free = column + len(words) + 1
    return "".join(row).rstrip()


def _lane(lane: Lane, ages: FoldedAxis) -> list[str]:
    lines = ["", *indented(f"{lane.name.upper()} ({lane.standing}): {lane.why}")]
    if lane.days:
        lines.append(_track(lane, ages))
        lines += indented(_numbers(lane))
    elif lane.note:
        lines += indented(lane.note)
    for chance in lane.chance_lines:
        lines += indented(chance)
    return lines


def _track(lane: Lane, ages: FoldedAxis) -> str:
    joins = [event.day for event in lane.events if event.sign in ("switch", "atrial switch")]
    ring = round(ages.at(joins[0])) if joins else COLUMNS
    row = [" ", " "] + ["═" if column >= ring else "─" for column in range(2, TRACK + 2)]
    if ages.last > ages.fold:
        row[round(ages.before_end) + 1] = "┊"
    for event in lane.events:
        row[round(ages.at(event.day))] = LETTERS[event.sign]
    return "".join(row)


def _numbers(lane: Lane) -> str:
    last = len(lane.days) - 1
    places = sorted({0, last, *(round(last * part / (TOLD - 1)) for part in range(1, TOLD - 1))})
    return "; ".join(
        f"day {lane.days[i]:.0f}: {lane.mass[i]:.0f} g/m², {lane.saturation_pct[i]:.0f} %"
        for i in places
    )


def _strip(strip: Strip) -> str:
    points = ", ".join(
        f"{p:.0f} % at {y:.0f} y" for y, p in zip(strip.ages_y, strip.pct, strict=True)
    )
    return f"{strip.label}, {strip.of}: {points} ({strip.note})"
