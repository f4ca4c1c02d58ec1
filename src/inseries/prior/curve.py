"""A curve over days from few of them: which days to try next, and how to read between.

Between nodes runs the monotone cubic of Fritsch and Butland: it rises and falls only where the
nodes do and never leaves their range, so that a chance stays between 0 and 1. A few days are tried
at first; then always the middle of the stretch that is in most doubt.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable

    from inseries.prior.traits import Floats

# chosen: days on which the switch is tried; more would not move a curve by a point
MOST_NODES = 16
# chosen: refining stops when no stretch between days is expected to err by more
GOOD_CHANCE = 0.005
# chosen: quarters of a stretch, where cubic and straight line are compared
QUARTERS = np.array([0.25, 0.5, 0.75])
# chosen: half of what the last middle was missed by is what either half may still err by
LEFT_OVER = 0.5
# derived: the end slope of a monotone cubic is at most this many times the secant's
STEEPEST = 3.0


def monotone(nodes: Floats, values: Floats, at: Floats) -> Floats:
    """Values between nodes by a monotone cubic.

    Parameters
    ----------
    nodes : array, shape (k,), ascending, at least two
    values : array, shape (k, n), one column a curve
    at : array, shape (m,), inside the nodes

    Returns
    -------
    array, shape (m, n). *Source* fritsch_butland1984
    """
    slopes = _slopes(nodes, values)
    left = np.clip(np.searchsorted(nodes, at, side="right") - 1, 0, len(nodes) - 2)
    width = (nodes[left + 1] - nodes[left])[:, None]
    s = (at[:, None] - nodes[left][:, None]) / width
    rise = s * s * (3.0 - 2.0 * s)
    return (
        values[left] * (1.0 - rise)
        + values[left + 1] * rise
        + width * (slopes[left] * s * (1.0 - s) ** 2 - slopes[left + 1] * s * s * (1.0 - s))
    )


def _slopes(nodes: Floats, values: Floats) -> Floats:
    """Slopes at the nodes: weighted harmonic means of the secants, none at a turn."""
    width = np.diff(nodes)
    secant = np.diff(values, axis=0) / width[:, None]
    if len(nodes) == 2:
        return np.vstack([secant, secant])
    before, after = secant[:-1], secant[1:]
    near = (2.0 * width[1:] + width[:-1])[:, None]
    far = (width[1:] + 2.0 * width[:-1])[:, None]
    same = before * after > 0.0
    one = np.where(same, before, 1.0)
    other = np.where(same, after, 1.0)
    inner = np.where(same, (near + far) / (near / one + far / other), 0.0)
    first = _end_slope(float(width[0]), float(width[1]), secant[0], secant[1])
    last = _end_slope(float(width[-1]), float(width[-2]), secant[-1], secant[-2])
    return np.vstack([first, inner, last])


def _end_slope(width: float, next_width: float, secant: Floats, next_secant: Floats) -> Floats:
    """Slope at an end by three points, kept to the way the first secant goes."""
    slope = ((2.0 * width + next_width) * secant - width * next_secant) / (width + next_width)
    slope = np.where(slope * secant <= 0.0, 0.0, slope)
    steep = (secant * next_secant <= 0.0) & (np.abs(slope) > STEEPEST * np.abs(secant))
    return np.where(steep, STEEPEST * secant, slope)


def refined(
    tried: Callable[[int], Floats], ages_days: Floats, most: int = MOST_NODES
) -> dict[int, Floats]:
    """Tries days until the curve between them is sure enough, or there are enough.

    Parameters
    ----------
    tried : gives the chances on one candidate day, shape (tiers,)
    ages_days : candidate days, ascending
    most : how many may be tried

    Returns
    -------
    dict, candidate index to its chances
    """
    known = {node: tried(node) for node in _first(len(ages_days))}
    missed: dict[tuple[int, int], float] = {}
    while len(known) < most:
        stretches = [
            (_doubt(known, ages_days, pair, missed), *pair)
            for pair in pairwise(sorted(known))
            if pair[1] - pair[0] > 1
        ]
        doubt, left, right = max(stretches, default=(0.0, 0, 0))
        if doubt < GOOD_CHANCE:
            break
        middle = (left + right) // 2
        expected = _curve(known, ages_days, ages_days[[middle]])[0]
        known[middle] = tried(middle)
        error = LEFT_OVER * float(np.abs(known[middle] - expected).max())
        missed[left, middle] = missed[middle, right] = error
    return known


def _first(candidates: int) -> tuple[int, ...]:
    last = candidates - 1
    return tuple(sorted({0, last // 4, last // 2, 3 * last // 4, last}))


def _doubt(
    known: dict[int, Floats],
    ages: Floats,
    stretch: tuple[int, int],
    missed: dict[tuple[int, int], float],
) -> float:
    """How far the curve may err inside a stretch: its own bend, or what its last middle missed.

    A stretch whose middle was never tried may hide a step: an eighth of its fall counts.
    """
    left, right = stretch
    fall = known[right] - known[left]
    at = ages[left] + (ages[right] - ages[left]) * QUARTERS
    line = known[left] + fall * QUARTERS[:, None]
    bend = float(np.abs(_curve(known, ages, at) - line).max())
    return max(bend, missed.get(stretch, float(np.abs(fall).max()) / 8.0))


def _curve(known: dict[int, Floats], ages: Floats, at: Floats) -> Floats:
    nodes = sorted(known)
    return monotone(ages[nodes], np.array([known[node] for node in nodes]), at)
