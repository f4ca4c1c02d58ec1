"""What the body changes between beats: tone, filling, and the resistance of a bed of its own.

Regulation is part of the map from beat to beat, so that one root is the regulated orbit. The map
knows no bounds: who moves along it keeps what is regulated within them (``within``), and a drive
beyond a bound is no change (``pressed``).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numba import njit

from inseries.circuit.kernels.lanes import COMPILED
from inseries.circuit.kernels.layout import (
    BED_FLOW,
    BODY_FLOW,
    FILLING,
    FLOW,
    GAIN,
    HIGH_OWN,
    HIGH_TONE,
    HIGH_V,
    LOW_OWN,
    LOW_TONE,
    LOW_V,
    OWN_FLOW,
    PRESSURE,
    REGULATED,
)

if TYPE_CHECKING:
    from inseries.circuit.kernels.layout import Floats

# chosen: gains of the plain iteration, small enough to settle, large enough to be quick
PRESSURE_GAIN = 0.2
FILLING_GAIN = 0.1
OWN_GAIN = 0.2


@njit(**COMPILED)
def bounds(reg: Floats, place: int) -> tuple[float, float]:
    """Bounds of what is regulated: 0 the total volume, 1 the tone, 2 a bed's own resistance."""
    if reg[REGULATED] == 0.0 or (place == 0 and reg[FILLING] == 0.0):
        return -np.inf, np.inf
    if place == 0:
        return reg[LOW_V], reg[HIGH_V]
    if place == 1:
        return reg[LOW_TONE], reg[HIGH_TONE]
    return reg[LOW_OWN], reg[HIGH_OWN]


@njit(**COMPILED)
def within(reg: Floats, place: int, value: float) -> float:
    """Brings a value of what is regulated within its bounds."""
    low, high = bounds(reg, place)
    return min(max(value, low), high)


@njit(**COMPILED)
def pressed(reg: Floats, place: int, value: float, drive: float) -> bool:
    """Whether what is regulated stands at a bound and is driven beyond it."""
    low, high = bounds(reg, place)
    return (value <= low and drive < 0.0) or (value >= high and drive > 0.0)


@njit(**COMPILED)
def next_tone(tone: float, reg: Floats, pressure: float) -> tuple[float, float, float]:
    """Tone after a beat; ``(tone, its slope by tone, by pressure)``.

    Held (gain 0): it moves until the pressure is what it should be. As a reflex: it goes to gain
    times the relative lack of pressure.
    """
    if reg[REGULATED] == 0.0:
        return tone, 0.0, 0.0
    lack, by_pressure = (reg[PRESSURE] - pressure) / reg[PRESSURE], -1.0 / reg[PRESSURE]
    after, by_tone, by_lack = tone + PRESSURE_GAIN * lack, 1.0, PRESSURE_GAIN
    if reg[GAIN] > 0.0:
        ease = PRESSURE_GAIN / (1.0 + reg[GAIN])
        after, by_tone, by_lack = (
            tone + ease * (reg[GAIN] * lack - tone),
            1.0 - ease,
            ease * reg[GAIN],
        )
    return after, by_tone, by_lack * by_pressure


@njit(**COMPILED)
def next_total(
    total: float, reg: Floats, flow: float, filling: float
) -> tuple[float, float, float, float]:
    """Total volume after a beat; ``(volume, its slope by volume, by flow, by filling)``.

    It rises until the body's flow suffices or the filling pressure is at its limit.
    """
    if reg[REGULATED] == 0.0 or reg[FILLING] == 0.0:
        return total, 0.0, 0.0, 0.0
    lack, by_flow, by_filling = (reg[FILLING] - filling) / reg[FILLING], 0.0, -1.0 / reg[FILLING]
    if reg[FLOW] > 0.0:
        wish = (reg[FLOW] - flow) / reg[FLOW]
        if wish < lack:
            lack, by_flow, by_filling = wish, -1.0 / reg[FLOW], 0.0
    if not -1.0 < lack < 1.0:
        lack, by_flow, by_filling = min(max(lack, -1.0), 1.0), 0.0, 0.0
    step = total * FILLING_GAIN
    return total + step * lack, 1.0 + FILLING_GAIN * lack, step * by_flow, step * by_filling


@njit(**COMPILED)
def next_own(own: float, reg: Floats, flow: float) -> tuple[float, float, float]:
    """Ln of a bed's own resistance factor after a beat; ``(ln, its slope by ln, by flow)``.

    It rises while the bed gets more than it needs, and falls to its bound when it gets less.
    """
    if reg[OWN_FLOW] == 0.0:
        return own, 0.0, 0.0
    return own + OWN_GAIN * (flow / reg[OWN_FLOW] - 1.0), 1.0, OWN_GAIN / reg[OWN_FLOW]


@njit(**COMPILED)
def regulate(y, reg, seen, first, beds, g):
    """Tone, total volume and own resistance after the beat, into g from place ``first``."""
    g[first] = next_total(y[first], reg, seen[BODY_FLOW], seen[1])[0]
    g[first + 1] = next_tone(y[first + 1], reg, seen[0])[0]
    if beds > 0:
        g[first + 2] = next_own(y[first + 2], reg, seen[BED_FLOW])[0]


@njit(**COMPILED)
def regulate_slopes(y, reg, seen, first, beds, slopes, J):
    """Rows of the Jacobian for what is regulated; ``slopes`` are those of what is seen."""
    n = J.shape[1]
    _, own, by_flow, by_filling = next_total(y[first], reg, seen[BODY_FLOW], seen[1])
    _, tone_own, by_pressure = next_tone(y[first + 1], reg, seen[0])
    for j in range(n):
        J[first, j] = by_flow * slopes[BODY_FLOW, j] + by_filling * slopes[1, j]
        J[first + 1, j] = by_pressure * slopes[0, j]
    J[first, first] += own
    J[first + 1, first + 1] += tone_own
    if beds > 0:
        _, bed_own, by_bed = next_own(y[first + 2], reg, seen[BED_FLOW])
        for j in range(n):
            J[first + 2, j] = by_bed * slopes[BED_FLOW, j]
        J[first + 2, first + 2] += bed_own
