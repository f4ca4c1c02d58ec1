"""Steps to the root of g(y) - y with a kept inverse Jacobian."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
from numba import njit

from inseries.circuit.kernels.lanes import COMPILED

if TYPE_CHECKING:
    from inseries.circuit.kernels.layout import Floats

# chosen: a regulated mean within 0.1 % counts as a change of about 0.001 mL
TOTAL_WEIGHT, RESISTANCE_WEIGHT = 0.1, 5.0
# chosen: a step whose update would divide by less teaches nothing
LEAST_SCALE = 1e-14


@njit(**COMPILED)
def distance(y: Floats, g: Floats, first: int) -> tuple[float, int]:
    """Largest change over a beat (mL), and of which unknown.

    From place ``first`` on stands what is regulated, weighed to like effect.
    """
    worst, which = 0.0, 0
    for i in range(y.size):
        change = abs(g[i] - y[i])
        if i == first:
            change *= TOTAL_WEIGHT
        elif i > first:
            change *= RESISTANCE_WEIGHT
        if math.isnan(change):
            return math.inf, i
        if change > worst:
            worst, which = change, i
    return worst, which


@njit(**COMPILED)
def newton_step(inverse: Floats, y: Floats, g: Floats, step: Floats) -> None:
    """Step to the root of g(y) - y by the inverse Jacobian at hand."""
    n = y.size
    for i in range(n):
        step[i] = 0.0
        for j in range(n):
            step[i] -= inverse[i, j] * (g[j] - y[j])


@njit(**COMPILED)
def broyden(inverse: Floats, step: Floats, change: Floats) -> None:
    """Rank-one update of the inverse Jacobian after a step and the residual's change."""
    n = step.size
    moved = np.zeros(n)
    left = np.zeros(n)
    for i in range(n):
        for j in range(n):
            moved[i] += inverse[i, j] * change[j]
            left[j] += step[i] * inverse[i, j]
    scale = 0.0
    for i in range(n):
        scale += step[i] * moved[i]
    if abs(scale) > LEAST_SCALE:
        for i in range(n):
            for j in range(n):
                inverse[i, j] += (step[i] - moved[i]) * left[j] / scale
