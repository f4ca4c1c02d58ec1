"""The course after a band for a terminal: one line a quantity, at most 78 columns."""

from __future__ import annotations

from math import sqrt
from typing import TYPE_CHECKING

from inseries.draw.band_course import check_band
from inseries.draw.window_curve import in_fives

if TYPE_CHECKING:
    from inseries.draw.band_view import BandLine, BandView

STEPS = "▁▂▃▄▅▆▇█"  # chosen: heights of a course in one row
COLUMNS = 28  # chosen: columns of a course
WEEKS = (7.0, 14.0, 28.0)  # chosen: days after the band whose readiness is told
NAME = 24  # chosen: columns of a name


def band_text(view: BandView) -> str:
    """The course after a band as text.

    Parameters
    ----------
    view : BandView

    Returns
    -------
    str, lines of at most 78 columns
    """
    check_band(view)
    head = f"{'':<{NAME}} before  0 h to {view.days[-1]:.0f} d (as the square root)"
    rows = [head, *(_row(view.days, line) for line in view.lines)]
    if view.ready:
        told = ", ".join(
            f"{in_fives(share)} by {day:.0f} d" for day, share in view.ready if day in WEEKS
        )
        rows.append(f"ready: {told} after the band")
    return "\n".join(rows)


def _row(days: tuple[float, ...], line: BandLine) -> str:
    """Name, value before, course as blocks, first and last value."""
    low, high = min(line.before, *line.value), max(line.before, *line.value)
    last = sqrt(days[-1])
    blocks = "".join(
        STEPS[_step(_between(days, line.value, (last * i / (COLUMNS - 1)) ** 2), low, high)]
        for i in range(COLUMNS)
    )
    name = f"{line.name}, {line.unit}" if line.unit else line.name
    ends = f"{_short(line.value[0])} → {_short(line.value[-1])}"
    return f"{name[:NAME]:<{NAME}} {_short(line.before):>6}  {blocks}  {ends}".rstrip()


def _step(value: float, low: float, high: float) -> int:
    share = (value - low) / max(high - low, 1e-9)
    return min(round(share * (len(STEPS) - 1)), len(STEPS) - 1)


def _between(days: tuple[float, ...], values: tuple[float, ...], day: float) -> float:
    place = max(i for i, at in enumerate(days) if at <= day + 1e-9)
    if place == len(days) - 1:
        return values[-1]
    share = (day - days[place]) / (days[place + 1] - days[place])
    return values[place] + share * (values[place + 1] - values[place])


def _short(value: float) -> str:
    return f"{value:.2f}" if abs(value) < 10.0 else f"{value:.0f}"
