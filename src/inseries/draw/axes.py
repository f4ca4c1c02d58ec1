"""Axes of age and value, and places along them that do not collide."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor, log10

AGE_STEPS = (1, 2, 7, 14, 28, 56, 91, 182, 364)  # chosen: days between labels, weeks when it can
AGE_LABELS = 10  # chosen: at most about this many labels on an axis of age


@dataclass(frozen=True, slots=True, kw_only=True)
class Axis:
    """A straight scale from values ``low`` to ``high`` to places ``start`` to ``end``."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """Place of a value, kept on the axis."""
        share = (value - self.low) / (self.high - self.low)
        return self.start + (self.end - self.start) * min(1.0, max(0.0, share))


def age_ticks(last_day: float) -> tuple[int, ...]:
    """Ages to label from birth on, in whole weeks as soon as the axis is long enough."""
    step = next((s for s in AGE_STEPS if last_day / s <= AGE_LABELS), AGE_STEPS[-1])
    return tuple(range(0, int(last_day) + 1, step))


def value_ticks(low: float, high: float, about: int = 4) -> tuple[float, ...]:
    """Round values from at or below ``low`` to at or above ``high``."""
    rough = max((high - low) / about, 1e-6)
    unit = 10.0 ** floor(log10(rough))
    step = next(unit * m for m in (1.0, 2.0, 2.5, 5.0, 10.0) if unit * m >= rough * 0.999)
    first, last = floor(low / step + 1e-9), ceil(high / step - 1e-9)
    return tuple(round(step * i, 9) for i in range(first, max(last, first + 1) + 1))


def lanes(spans: list[tuple[float, float]], gap: float) -> list[int]:
    """For each span from left to right, the first lane where it touches no other."""
    ends: list[float] = []
    chosen: list[int] = []
    for left, right in spans:
        lane = next((i for i, end in enumerate(ends) if end + gap <= left), len(ends))
        if lane == len(ends):
            ends.append(right)
        ends[lane] = right
        chosen.append(lane)
    return chosen


def apart(wanted: list[float], height: float, low: float, high: float) -> list[float]:
    """Places as near as can be to the wanted ones, rising, ``height`` apart, within bounds."""
    placed: list[float] = []
    for place in wanted:
        placed.append(max(place, placed[-1] + height) if placed else max(place, low))
    for i in range(len(placed) - 1, -1, -1):
        limit = high if i == len(placed) - 1 else placed[i + 1] - height
        placed[i] = min(placed[i], limit)
    return placed
