"""Small pictures for a terminal: the window curve and the two loops, at most 78 columns.

Plain letters and block signs, no colour, the same text for the same view.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.draw.axes import Axis, age_ticks
from inseries.draw.loops_plan import ductal_ways
from inseries.draw.window_curve import ages_of, check_window, in_fives

if TYPE_CHECKING:
    from inseries.draw.views import Crossing, LoopsView, Station, WindowView

COLUMNS = 78  # chosen: fits a terminal of 80 columns
ROWS = 11  # chosen: one row for each ten points of chance
GUTTER = 6  # chosen: columns for the labels of the vertical axis
SIDE = 25  # chosen: columns for one loop; the middle is left for the crossings
SIGNS = {"survivable": "█", "comfortable": "○"}


def window_text(view: WindowView) -> str:
    """The window curve as text.

    Parameters
    ----------
    view : WindowView

    Returns
    -------
    str, lines of at most 78 columns; the cost of waiting is part of it

    Raises
    ------
    OutputError, under the same conditions as ``window_svg``
    """
    check_window(view)
    ages = Axis(
        low=0, high=max(view.horizon_day, view.days[-1], 1.0), start=GUTTER, end=COLUMNS - 3
    )
    rows = [[" "] * (COLUMNS - GUTTER) for _ in range(ROWS)]
    for tier in reversed(view.tiers):
        for column in range(round(ages.at(view.days[0])), round(ages.at(view.days[-1])) + 1):
            day = ages.low + (column - ages.start) / (ages.end - ages.start) * ages.high
            chance = _between(view.days, tier.chance, day)
            rows[ROWS - 1 - round(chance * (ROWS - 1))][column - GUTTER] = SIGNS[tier.name]
    lines = ["simulated chance that the left ventricle carries the body after a switch"]
    for i, row in enumerate(rows):
        label = f"{100 - 100 * i // (ROWS - 1)} %" if i % 2 == 0 else ""
        lines.append(f"{label:>5} │{''.join(row)}".rstrip()[:COLUMNS])
    lines += _age_axis(ages)
    for tier in view.tiers:
        first, last = in_fives(tier.chance[0]), in_fives(tier.chance[-1])
        words = f"day {view.days[0]:.0f} {first}, day {view.days[-1]:.0f} {last}"
        lines.append(f"  {SIGNS[tier.name]} {tier.name}: {words}")
    lines.append("published, other babies, each with its own denominator:")
    for span in view.published:
        lines += indented(f"{span.label}, {ages_of(span)}")
    lines.append("what waiting costs (published, confounded):")
    for cost in view.cost_lines:
        lines += indented(cost)
    return "\n".join(lines) + "\n"


def loops_text(view: LoopsView) -> str:
    """The two loops as text: stations down both sides, crossings between them.

    Parameters
    ----------
    view : LoopsView

    Returns
    -------
    str, lines of at most 78 columns
    """
    at = {station.code: station for station in view.stations}
    between = {crossing.site: _ways(view, crossing) for crossing in view.crossings}
    lines = [
        _three(
            f"body loop {view.body_flow_ml_min_kg:.0f}",
            f"effective {view.effective_flow_ml_min_kg:.0f} mL/min/kg",
            f"lung loop {view.lung_flow_ml_min_kg:.0f}",
        ),
        _three(_words(at.get("SV")), "", _words(at.get("PV"))),
    ]
    crossing_rows = (
        ("RA", "LA", between.get("atrial", ())),
        ("RV", "LV", between.get("ventricular", ())),
    )
    for left, right, middle in crossing_rows:
        lines += _block(_words(at.get(left)), middle, _words(at.get(right)))
    if view.topology == "series":
        lines.append(_three("", "the arteries cross: one ring", ""))
    lines.append(_three(_words(at.get("AoU")), "", ""))
    lines += _block(_words(at.get("AoD")), between.get("ductal", ()), _words(at.get("PA")))
    upper = f"right hand {view.upper_saturation_pct:.0f} %"
    lines.append(f"{upper}, foot {view.lower_saturation_pct:.0f} %")
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _ways(view: LoopsView, crossing: Crossing) -> tuple[str, ...]:
    """Name and both flows of a crossing; arrows point as on the page."""
    back, there = crossing.left_to_right_ml_min_kg, crossing.right_to_left_ml_min_kg
    if crossing.site == "ductal":
        there, back = ductal_ways(view)
    size = "" if crossing.size_mm is None else f" {crossing.size_mm:.1f} mm"
    return f"{crossing.site}{size}", f"◄── {back:.0f}   {there:.0f} ──►"


def _block(left: str, middle: tuple[str, ...], right: str) -> list[str]:
    first = _three(left, middle[0] if middle else "", right)
    return [first, *(_three("", words, "") for words in middle[1:])]


def _three(left: str, middle: str, right: str) -> str:
    room = COLUMNS - 2 * SIDE
    return f"{left[:SIDE]:<{SIDE}}{middle[:room]:^{room}}{right[:SIDE]:>{SIDE}}"


def _words(station: Station | None) -> str:
    if station is None:
        return ""
    number = f" {station.saturation_pct:.0f} %"
    return station.name[: SIDE - len(number)] + number


def _age_axis(ages: Axis) -> list[str]:
    rule, labels = ["─"] * COLUMNS, [" "] * (COLUMNS + 4)
    for day in age_ticks(ages.high):
        column = round(ages.at(day))
        rule[column] = "┬"
        labels[column : column + len(str(day))] = str(day)
    line = " " * GUTTER + "└" + "".join(rule[GUTTER + 1 :])
    return [line, "".join(labels)[:COLUMNS].rstrip(), f"{'':>{GUTTER}}age at switch (days)"]


def indented(words: str) -> list[str]:
    """Words in lines of at most 78 columns, the first two spaces in, the others four."""
    lines = ["  "]
    for word in words.split():
        for piece in (word[i : i + 70] for i in range(0, len(word), 70)):
            if len(lines[-1]) + 1 + len(piece) > COLUMNS:
                lines.append("    ")
            lines[-1] += piece + " "
    return [line.rstrip() for line in lines]


def _between(days: tuple[float, ...], values: tuple[float, ...], day: float) -> float:
    """The value at a day, on straight lines between the days given."""
    if day <= days[0]:
        return values[0]
    for i in range(1, len(days)):
        if day <= days[i]:
            part = (day - days[i - 1]) / (days[i] - days[i - 1])
            return values[i - 1] + part * (values[i] - values[i - 1])
    return values[-1]
