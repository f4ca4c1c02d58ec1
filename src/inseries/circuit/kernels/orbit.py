"""The beat that repeats itself, with pressure and filling regulated between beats.

Regulation is part of the map from beat to beat, so that one root of y = next_beat(y) is the
regulated orbit.
"""

from __future__ import annotations

import math

from numba import njit

from inseries.circuit.kernels.beat import beat
from inseries.circuit.kernels.layout import (
    FILLING,
    FLOW,
    HIGH_R,
    HIGH_V,
    LOW_R,
    LOW_V,
    NOT_FINITE,
    NOT_PERIODIC,
    PRESSURE,
    REGULATED,
    SETTLED,
    VENTRICLE,
    Floats,
    Ints,
    Limits,
    Network,
    Search,
    Work,
    new_search,
    new_work,
)
from inseries.circuit.kernels.linear import invert
from inseries.circuit.kernels.root import broyden, distance, newton_step

# chosen: gains of the plain iteration, small enough to settle, large enough to be quick
PRESSURE_GAIN = 0.2
FILLING_GAIN = 0.1
# chosen: finite-difference steps, mL (or mL/s) and ln(1), between rounding and curvature
VOLUME_NUDGE = 1e-3
TOTAL_NUDGE = 2e-2
RESISTANCE_NUDGE = 1e-3
# chosen: plain beats after a refused Newton step
RESCUE_BEATS = 8
# chosen: a step may raise the residual this much above the best so far (units are mixed, kinks
# pass); after so many steps without a good one the Jacobian is made anew
LOOSE_STEP, GOOD_STEP, MOST_TIRED = 10.0, 0.7, 6
# chosen: a resistance factor beyond exp of this is no longer a body's
FARTHEST_LN_R = 3.0
# chosen: change over a beat at which volumes have run away, mL
RUN_AWAY = 1e6


@njit(cache=True, nogil=True)
def regulate(
    y: Floats, reg: Floats, mean_pressure: float, flow: float, filling: float, g: Floats
) -> None:
    """Next total volume and resistance factor from the read-outs of this beat."""
    n = y.size - 2
    total = y[n]
    ln_r = y[n + 1]
    g[n] = total
    g[n + 1] = ln_r
    if reg[REGULATED] > 0.0:
        wish = (reg[PRESSURE] - mean_pressure) / reg[PRESSURE]
        g[n + 1] = min(max(ln_r + PRESSURE_GAIN * wish, reg[LOW_R]), reg[HIGH_R])
        room = (reg[FILLING] - filling) / reg[FILLING]
        if reg[FLOW] > 0.0:
            room = min(room, (reg[FLOW] - flow) / reg[FLOW])
        room = min(max(room, -1.0), 1.0)
        g[n] = min(max(total * (1.0 + FILLING_GAIN * room), reg[LOW_V]), reg[HIGH_V])


@njit(cache=True, nogil=True)
def unfold(y: Floats, parts: int, X: Floats) -> None:
    """State of a member from the unknowns: the last part holds what the others leave."""
    last = parts - 1
    rest = y[y.size - 2]
    for i in range(last):
        X[i] = y[i]
        rest -= y[i]
    X[last] = rest
    for i in range(parts, X.size):
        X[i] = y[i - 1]


@njit(cache=True, nogil=True)
def next_beat(y: Floats, theta: Floats, net: Network, reg: Floats, work: Work, g: Floats) -> None:
    """Map of the unknowns y over one beat, into g."""
    parts = net.kind.size
    row, X, edge = work.row, work.X, work.edge
    row[:] = theta
    factor = math.exp(y[y.size - 1])
    for e in range(net.system.size):
        row[1 + net.system[e]] = theta[1 + net.system[e]] * factor
    unfold(y, parts, X)
    beat(X, row, net, work)
    for i in range(parts - 1):
        g[i] = X[i]
    for i in range(parts, X.size):
        g[i - 1] = X[i]
    flow = 0.0
    for e in range(net.system.size):
        flow += edge[net.system[e], 0] - edge[net.system[e], 1]
    regulate(y, reg, work.part[net.watch[0], 0], flow, work.part[net.watch[1], 0], g)


@njit(cache=True, nogil=True)
def sensible(y: Floats, kind: Ints) -> bool:
    """Whether ventricles hold blood and the resistance factor is within reason.

    A vessel or atrium may be drawn below its unloaded volume (negative pressure): a failing left
    ventricle can leave the body's veins so empty.
    """
    for i in range(kind.size - 1):
        if kind[i] == VENTRICLE and not y[i] > 0.0:
            return False
    return abs(y[y.size - 1]) < FARTHEST_LN_R


@njit(cache=True, nogil=True)
def sensitivity(
    y: Floats, theta: Floats, net: Network, reg: Floats, work: Work, find: Search
) -> None:
    """Jacobian of next_beat(y) - y by forward differences, into A; one beat a column."""
    n = y.size
    A = find.A
    for j in range(n):
        nudge = VOLUME_NUDGE
        if j == n - 2:
            nudge = TOTAL_NUDGE
        if j == n - 1:
            nudge = RESISTANCE_NUDGE
        find.trial[:] = y
        find.trial[j] += nudge
        next_beat(find.trial, theta, net, reg, work, find.g2)
        for i in range(n):
            A[i, j] = (find.g2[i] - find.g[i]) / nudge
        A[j, j] -= 1.0
    if reg[REGULATED] == 0.0:
        A[n - 2, n - 2] = -1.0
        A[n - 1, n - 1] = -1.0


@njit(cache=True, nogil=True)
def try_step(
    y: Floats,
    inverse: Floats,
    theta: Floats,
    net: Network,
    reg: Floats,
    work: Work,
    find: Search,
) -> float:
    """Distance after a Newton step, which is left in trial and g2; -1 when it makes no sense."""
    newton_step(inverse, y, find.g, find.step)
    find.trial[:] = y + find.step
    if not sensible(find.trial, net.kind):
        return -1.0
    next_beat(find.trial, theta, net, reg, work, find.g2)
    return distance(find.trial, find.g2)


@njit(cache=True, nogil=True)
def take_step(y: Floats, inverse: Floats, find: Search) -> None:
    """Moves to the tried unknowns and teaches the inverse Jacobian what was seen on the way."""
    find.change[:] = (find.g2 - find.trial) - (find.g - y)
    broyden(inverse, find.step, find.change)
    y[:] = find.trial
    find.g[:] = find.g2


@njit(cache=True, nogil=True)
def find_orbit(
    y: Floats,
    inverse: Floats,
    known: Ints,
    theta: Floats,
    net: Network,
    reg: Floats,
    work: Work,
    find: Search,
    limits: Limits,
) -> tuple[int, int, float]:
    """Solves y = next_beat(y): Newton with a kept, updated Jacobian; plain beats as rescue.

    Returns status, beats used and the last distance. ``y``, ``inverse`` and ``known`` are
    updated in place, so that a neighbour can start from them.
    """
    plain = limits.warm_beats if known[0] == 0 else 0
    next_beat(y, theta, net, reg, work, find.g)
    beats = 1
    gap = distance(y, find.g)
    best = gap
    tired = 0
    while not gap < limits.tolerance:
        if beats >= limits.most_beats or not gap < RUN_AWAY:
            known[0] = 0
            return (NOT_PERIODIC if gap < RUN_AWAY else NOT_FINITE), beats, gap
        if plain > 0:
            plain -= 1
            y[:] = find.g
            next_beat(y, theta, net, reg, work, find.g)
            beats += 1
            gap = distance(y, find.g)
            continue
        if known[0] == 0:
            sensitivity(y, theta, net, reg, work, find)
            beats += y.size
            best = gap
            tired = 0
            if not invert(find.A, inverse):
                plain = RESCUE_BEATS
                continue
            known[0] = 1
        tried = try_step(y, inverse, theta, net, reg, work, find)
        beats += 0 if tried < 0.0 else 1
        accepted = 0.0 <= tried < LOOSE_STEP * best
        if accepted:
            take_step(y, inverse, find)
            gap = tried
            tired += 1
            if gap < GOOD_STEP * best:
                best = gap
                tired = 0
        if not accepted or tired >= MOST_TIRED:
            if not accepted:
                plain = RESCUE_BEATS
            known[0] = 0
    return SETTLED, beats, gap


@njit(cache=True, nogil=True)
def find_orbits(
    first: int,
    last: int,
    y: Floats,
    inverse: Floats,
    known: Ints,
    theta: Floats,
    net: Network,
    reg: Floats,
    part: Floats,
    edge: Floats,
    limits: Limits,
    status: Ints,
    beats: Ints,
    gap: Floats,
) -> None:
    """Orbits of members first to last - 1, one after another; each has its own rows."""
    work = new_work(net, 0)
    find = new_search(y.shape[1])
    for m in range(first, last):
        status[m], beats[m], gap[m] = find_orbit(
            y[m], inverse[m], known[m], theta[m], net, reg[m], work, find, limits
        )
        part[m] = work.part
        edge[m] = work.edge
