"""The beat that repeats itself, with pressure and filling regulated between beats.

Unknowns y: all volumes but the last, then the total volume, then ln of the systemic resistance
factor. Regulation is part of the map from beat to beat, so one root is the regulated orbit.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit
from numpy.typing import NDArray

from inseries.circuit.kernels.beat import VENTRICLE, beat
from inseries.circuit.kernels.linear import invert

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

# derived: columns of the regulation row
(REGULATED, PRESSURE, LOW_R, HIGH_R, FLOW, FILLING, LOW_V, HIGH_V) = range(8)
# derived: status values, named in ``circuit.status``
SETTLED, NOT_PERIODIC, NOT_FINITE = 0, 1, 2
# chosen: gains of the plain iteration, small enough to settle, large enough to be quick
PRESSURE_GAIN = 0.2
FILLING_GAIN = 0.1
# chosen: finite-difference steps, mL and ln(1), between rounding and curvature
VOLUME_NUDGE = 1e-3
TOTAL_NUDGE = 2e-2
RESISTANCE_NUDGE = 1e-3
# chosen: a regulated mean within 0.1 % counts as a change of about 0.001 mL
TOTAL_WEIGHT, RESISTANCE_WEIGHT = 0.1, 5.0
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
    y: Floats, n: int, reg: Floats, mean_pressure: float, flow: float, filling: float, g: Floats
) -> None:
    """Next total volume and resistance factor from the read-outs of this beat."""
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
def next_beat(
    y: Floats,
    theta: Floats,
    row: Floats,
    kind: Ints,
    start: Ints,
    end: Ints,
    valve: Ints,
    system: Ints,
    watch: Ints,
    act_v: Floats,
    act_a: Floats,
    reg: Floats,
    part: Floats,
    edge: Floats,
    wave: Floats,
    g: Floats,
) -> None:
    """Map of the unknowns y over one beat, into g. ``row`` is scratch for theta."""
    n = kind.size - 1
    row[:] = theta
    factor = math.exp(y[n + 1])
    for e in range(system.size):
        row[1 + system[e]] = theta[1 + system[e]] * factor
    V = np.empty(n + 1)
    rest = y[n]
    for i in range(n):
        V[i] = y[i]
        rest -= y[i]
    V[n] = rest
    beat(V, row, kind, start, end, valve, act_v, act_a, part, edge, wave)
    for i in range(n):
        g[i] = V[i]
    flow = 0.0
    for e in range(system.size):
        flow += edge[system[e], 0] - edge[system[e], 1]
    regulate(y, n, reg, part[watch[0], 0], flow, part[watch[1], 0], g)


@njit(cache=True, nogil=True)
def distance(y: Floats, g: Floats) -> float:
    """Largest change over a beat, mL; total volume and ln resistance weighed to like effect."""
    n = y.size
    worst = 0.0
    for i in range(n):
        change = abs(g[i] - y[i])
        if i == n - 2:
            change *= TOTAL_WEIGHT
        if i == n - 1:
            change *= RESISTANCE_WEIGHT
        if not change <= worst:
            worst = change
    return worst


@njit(cache=True, nogil=True)
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
    if abs(scale) > 1e-14:
        for i in range(n):
            for j in range(n):
                inverse[i, j] += (step[i] - moved[i]) * left[j] / scale


@njit(cache=True, nogil=True)
def sensible(y: Floats, kind: Ints) -> bool:
    """Whether ventricles hold blood and the resistance factor is within reason.

    A vessel or atrium may be drawn below its unloaded volume (negative pressure): a failing left
    ventricle can leave the body's veins so empty.
    """
    parts = kind.size
    for i in range(parts - 1):
        if kind[i] == VENTRICLE and not y[i] > 0.0:
            return False
    return abs(y[parts]) < FARTHEST_LN_R


@njit(cache=True, nogil=True)
def sensitivity(
    y: Floats,
    g: Floats,
    theta: Floats,
    row: Floats,
    kind: Ints,
    start: Ints,
    end: Ints,
    valve: Ints,
    system: Ints,
    watch: Ints,
    act_v: Floats,
    act_a: Floats,
    reg: Floats,
    part: Floats,
    edge: Floats,
    wave: Floats,
    trial: Floats,
    g2: Floats,
    A: Floats,
) -> None:
    """Jacobian of next_beat(y) - y by forward differences, into A; one beat a column."""
    n = y.size
    for j in range(n):
        nudge = VOLUME_NUDGE
        if j == n - 2:
            nudge = TOTAL_NUDGE
        if j == n - 1:
            nudge = RESISTANCE_NUDGE
        trial[:] = y
        trial[j] += nudge
        next_beat(
            trial,
            theta,
            row,
            kind,
            start,
            end,
            valve,
            system,
            watch,
            act_v,
            act_a,
            reg,
            part,
            edge,
            wave,
            g2,
        )
        for i in range(n):
            A[i, j] = (g2[i] - g[i]) / nudge
        A[j, j] -= 1.0
    if reg[REGULATED] == 0.0:
        A[n - 2, n - 2] = -1.0
        A[n - 1, n - 1] = -1.0


@njit(cache=True, nogil=True)
def newton_step(inverse: Floats, y: Floats, g: Floats, step: Floats) -> None:
    """Step to the root of next_beat(y) - y by the inverse Jacobian at hand."""
    n = y.size
    for i in range(n):
        step[i] = 0.0
        for j in range(n):
            step[i] -= inverse[i, j] * (g[j] - y[j])


@njit(cache=True, nogil=True)
def find_orbit(
    y: Floats,
    inverse: Floats,
    known: Ints,
    theta: Floats,
    kind: Ints,
    start: Ints,
    end: Ints,
    valve: Ints,
    system: Ints,
    watch: Ints,
    act_v: Floats,
    act_a: Floats,
    reg: Floats,
    part: Floats,
    edge: Floats,
    tolerance: float,
    most_beats: int,
    warm_beats: int,
) -> tuple[int, int, float]:
    """Solves y = next_beat(y): Newton with a kept, updated Jacobian; plain beats as rescue.

    Returns status, beats used and the last distance. ``y``, ``inverse`` and ``known`` are
    updated in place, so that a neighbour can start from them.
    """
    n = y.size
    row = np.empty(theta.size)
    wave = np.empty((0, 0))
    g = np.empty(n)
    g2 = np.empty(n)
    trial = np.empty(n)
    step = np.empty(n)
    change = np.empty(n)
    A = np.empty((n, n))
    plain = warm_beats if known[0] == 0 else 0
    fresh = False
    next_beat(
        y,
        theta,
        row,
        kind,
        start,
        end,
        valve,
        system,
        watch,
        act_v,
        act_a,
        reg,
        part,
        edge,
        wave,
        g,
    )
    beats = 1
    gap = distance(y, g)
    best = gap
    tired = 0
    while not gap < tolerance:
        if beats >= most_beats or not gap < RUN_AWAY:
            known[0] = 0
            return (NOT_PERIODIC if gap < RUN_AWAY else NOT_FINITE), beats, gap
        if plain > 0:
            plain -= 1
            y[:] = g
            next_beat(
                y,
                theta,
                row,
                kind,
                start,
                end,
                valve,
                system,
                watch,
                act_v,
                act_a,
                reg,
                part,
                edge,
                wave,
                g,
            )
            beats += 1
            gap = distance(y, g)
            continue
        if known[0] == 0:
            sensitivity(
                y,
                g,
                theta,
                row,
                kind,
                start,
                end,
                valve,
                system,
                watch,
                act_v,
                act_a,
                reg,
                part,
                edge,
                wave,
                trial,
                g2,
                A,
            )
            beats += n
            best = gap
            tired = 0
            fresh = True
            if not invert(A, inverse):
                plain = RESCUE_BEATS
                continue
            known[0] = 1
        newton_step(inverse, y, g, step)
        trial[:] = y + step
        accepted = sensible(trial, kind)
        if accepted:
            next_beat(
                trial,
                theta,
                row,
                kind,
                start,
                end,
                valve,
                system,
                watch,
                act_v,
                act_a,
                reg,
                part,
                edge,
                wave,
                g2,
            )
            beats += 1
            new_gap = distance(trial, g2)
            accepted = new_gap < LOOSE_STEP * best
        if accepted:
            change[:] = (g2 - trial) - (g - y)
            broyden(inverse, step, change)
            y[:] = trial
            g[:] = g2
            gap = new_gap
            fresh = False
            tired += 1
            if gap < GOOD_STEP * best:
                best = gap
                tired = 0
        if not accepted or tired >= MOST_TIRED:
            if fresh or not accepted:
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
    kind: Ints,
    start: Ints,
    end: Ints,
    valve: Ints,
    system: Ints,
    watch: Ints,
    act_v: Floats,
    act_a: Floats,
    reg: Floats,
    part: Floats,
    edge: Floats,
    tolerance: float,
    most_beats: int,
    warm_beats: int,
    status: Ints,
    beats: Ints,
    gap: Floats,
) -> None:
    """Orbits of members first to last - 1, one after another; each has its own rows."""
    for m in range(first, last):
        status[m], beats[m], gap[m] = find_orbit(
            y[m],
            inverse[m],
            known[m],
            theta[m],
            kind,
            start,
            end,
            valve,
            system,
            watch,
            act_v,
            act_a,
            reg[m],
            part[m],
            edge[m],
            tolerance,
            most_beats,
            warm_beats,
        )
