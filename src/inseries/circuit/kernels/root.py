"""Steps to the root of g(y) - y with a kept inverse Jacobian."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
from numba import njit

from inseries.circuit.kernels.lanes import COMPILED
from inseries.circuit.kernels.regulate import bounds, pressed, within

if TYPE_CHECKING:
    from inseries.circuit.kernels.layout import Floats

# chosen: a regulated mean within 0.1 % counts as a change of about 0.001 mL
TOTAL_WEIGHT, RESISTANCE_WEIGHT = 0.1, 5.0
# chosen: what is regulated moves at most so far in a step: the total volume by this share, tones by
# this much; the rest then follows as if it had been given
LARGEST_SHARE, LARGEST_TONE = 0.25, 0.7
# chosen: what is regulated is brought within reach so often, for bringing one moves the others
SWEEPS = 3
# chosen: a step whose update would divide by less teaches nothing
LEAST_SCALE = 1e-14


@njit(**COMPILED)
def distance(y: Floats, g: Floats, first: int, reg: Floats) -> tuple[float, int]:
    """Largest change over a beat (mL), and of which unknown.

    From place ``first`` on stands what is regulated, weighed to like effect; at a bound it does not
    change.
    """
    worst, which = 0.0, 0
    for i in range(y.size):
        change = abs(g[i] - y[i])
        if i >= first and pressed(reg, i - first, y[i], g[i] - y[i]):
            continue
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
def give(left: Floats, i: int, wish: float, step: Floats) -> None:
    """Gives unknown i the step ``wish``; the rest solves its own equations beside that.

    ``left``, an inverse Jacobian, becomes that of the rest.
    """
    n, own = step.size, left[i, i]
    if own == 0.0:
        return
    scale = (wish - step[i]) / own
    for j in range(n):
        step[j] += scale * left[j, i]
    step[i] = wish
    for j in range(n):
        if j != i:
            share = left[j, i] / own
            for k in range(n):
                left[j, k] -= share * left[i, k]
    for k in range(n):
        left[i, k] = 0.0
        left[k, i] = 0.0


@njit(**COMPILED)
def bounded_step(
    inverse: Floats,
    y: Floats,
    g: Floats,
    first: int,
    reg: Floats,
    share: float,
    step: Floats,
) -> None:
    """Newton's step, in which what is regulated stays within its bounds and a share of its reach.

    What stands at a bound and is driven beyond stays there. What would go too far is given the
    furthest value it may have. Where more of it would not lessen what drives it, it goes where it
    is driven.
    """
    newton_step(inverse, y, g, step)
    left = inverse.copy()
    for i in range(first, y.size):
        if pressed(reg, i - first, y[i], g[i] - y[i]):
            give(left, i, 0.0, step)
    for _ in range(SWEEPS):
        for i in range(first, y.size):
            low, high = bounds(reg, i - first)
            if left[i, i] == 0.0 or not np.isfinite(high):
                continue
            reach = share * (LARGEST_SHARE * y[i] if i == first else LARGEST_TONE)
            wish = min(max(step[i], -reach), reach)
            if left[i, i] > 0.0:
                wish = reach if g[i] > y[i] else -reach
            wish = min(max(wish, low - y[i]), high - y[i])
            if wish != step[i]:
                give(left, i, wish, step)


@njit(**COMPILED)
def hold(y: Floats, first: int, reg: Floats) -> None:
    """Brings what is regulated within its bounds."""
    for i in range(first, y.size):
        y[i] = within(reg, i - first, y[i])


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
