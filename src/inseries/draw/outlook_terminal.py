"""An outlook for a terminal: the gradient of each repair by age, at most 78 columns."""

from __future__ import annotations

from math import sqrt
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from inseries.draw.outlook_view import AgeLine, OutlookView

STEPS = "▁▂▃▄▅▆▇█"  # chosen: heights of a course in one row
COLUMNS = 26  # chosen: columns of a course
NAME = 26  # chosen: columns of a name


def outlook_text(view: OutlookView) -> str:
    """Gradient above the valve by age, all repairs on one scale.

    Parameters
    ----------
    view : OutlookView

    Returns
    -------
    str, lines of at most 78 columns
    """
    most = max(value for line in view.gradients for value in line.value)
    head = f"{'gradient, mmHg':<{NAME}} operation to 40 y, as its root"
    return "\n".join([head, *(_row(view.years, line, most) for line in view.gradients)])


def _row(years: tuple[float, ...], line: AgeLine, most: float) -> str:
    span = sqrt(years[-1] - years[0])
    blocks = "".join(
        STEPS[_step(_between(years, line.value, years[0] + (span * i / (COLUMNS - 1)) ** 2), most)]
        for i in range(COLUMNS)
    )
    ends = f"{line.value[0]:.0f} → {line.value[-1]:.0f} ({line.low[-1]:.0f} to {line.high[-1]:.0f})"
    return f"{line.name[:NAME]:<{NAME}} {blocks}  {ends}"


def _step(value: float, most: float) -> int:
    return min(round(value / max(most, 1e-9) * (len(STEPS) - 1)), len(STEPS) - 1)


def _between(years: tuple[float, ...], values: tuple[float, ...], year: float) -> float:
    place = max(i for i, at in enumerate(years) if at <= year + 1e-9)
    if place == len(years) - 1:
        return values[-1]
    share = (year - years[place]) / (years[place + 1] - years[place])
    return values[place] + share * (values[place + 1] - values[place])
