"""The beat that repeats itself: a root of g(y) - y, for one member or eight abreast.

Each member goes its own way: plain beats at first, then Newton's steps by a Jacobian that is made
once from tangents and taught on the way. Eight share only the beat itself, so that a member finds
the same orbit beside any others.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numba import njit

from inseries.circuit.kernels.beats import (
    Crew,
    beds,
    next_beats,
    next_beats_with_slopes,
    seat,
)
from inseries.circuit.kernels.full import full_beat, read_out, stresses
from inseries.circuit.kernels.lanes import COMPILED, WIDTH, cut, number_like, width
from inseries.circuit.kernels.layout import (
    AS,
    BED_FLOW,
    LAW,
    NOT_FINITE,
    NOT_PERIODIC,
    PART_READOUTS,
    SEEN,
    SETTLED,
    STATE,
    Floats,
    Ints,
)
from inseries.circuit.kernels.linear import invert
from inseries.circuit.kernels.parts import fibre
from inseries.circuit.kernels.root import broyden, distance, newton_step

# chosen: plain beats after a refused Newton step
RESCUE_BEATS = 8
# chosen: a step may raise the residual this much above the best so far (units are mixed, kinks
# pass); after so many steps without a good one the Jacobian is made anew
LOOSE_STEP, GOOD_STEP, MOST_TIRED = 10.0, 0.7, 6
# chosen: a tone beyond this is no longer a body's
FARTHEST_TONE = 3.0
# chosen: change over a beat at which volumes have run away, mL
RUN_AWAY = 1e6
# derived: no distance yet
FARTHEST = 1e300
# derived: columns of a member's notes: plain beats left, has a Jacobian, wants one, tries a step,
# tired, done, beats
PLAIN, KNOWN, WANTS, TRIES, TIRED, DONE, BEATS = range(7)


class Search(NamedTuple):
    """Arrays of all members that a search reads and fills; a member has a row in each."""

    y: Floats
    inverse: Floats
    known: Ints
    theta: Floats
    reg: Floats
    part: Floats
    edge: Floats
    status: Ints
    beats: Ints
    gap: Floats
    worst: Ints
    g: Floats
    trial: Floats


@njit(**COMPILED)
def sensible(y, net, size):
    """Whether ventricles hold blood and the tone is within reason.

    A vessel or atrium may be drawn below its unloaded volume (negative pressure): a failing left
    ventricle can leave the body's veins so empty.
    """
    for i in range(net.parts.shape[0] - 1):
        if net.parts[i, LAW] == fibre.CODE and not y[i] > 0.0:
            return False
    return abs(y[size]) < FARTHEST_TONE


@njit(**COMPILED)
def propose(find, net, m, size, notes, step):
    """Newton's step of a member into its trial; plain beats instead when it makes no sense."""
    newton_step(find.inverse[m], find.y[m], find.g[m], step)
    for i in range(step.size):
        find.trial[m, i] = find.y[m, i] + step[i]
    notes[TRIES] = 1
    if not sensible(find.trial[m], net, size):
        go_plain(find, m, notes, RESCUE_BEATS)


@njit(**COMPILED)
def go_plain(find, m, notes, beats):
    """The member goes on by plain beats, and makes its Jacobian at the end of them."""
    notes[TRIES] = 0
    notes[KNOWN] = 0
    notes[PLAIN] = beats
    step_plainly(find, m, notes)


@njit(**COMPILED)
def step_plainly(find, m, notes):
    """Next trial is where the last beat led; the last plain beat asks for a Jacobian."""
    if notes[PLAIN] > 0:
        notes[PLAIN] -= 1
        find.y[m, :] = find.g[m]
    find.trial[m, :] = find.y[m]
    notes[WANTS] = 1 if notes[PLAIN] == 0 else 0


@njit(**COMPILED)
def hear(find, net, crew, lane, m, size, limits, notes, best):
    """What a member makes of its beat from ``trial`` to ``g``; returns its best distance so far."""
    g, step, change = crew.g[lane], crew.small[0], crew.small[1]
    notes[BEATS] += 1
    tried, worst = distance(find.trial[m], g, size - 1)
    if notes[TRIES] == 1:
        if not tried < LOOSE_STEP * best:
            go_plain(find, m, notes, RESCUE_BEATS)
            return best
        for i in range(step.size):
            step[i] = find.trial[m, i] - find.y[m, i]
            change[i] = (g[i] - find.trial[m, i]) - (find.g[m, i] - find.y[m, i])
        broyden(find.inverse[m], step, change)
    find.y[m, :] = find.trial[m]
    find.g[m, :] = g
    find.gap[m] = tried
    find.worst[m] = worst
    if tried < limits.tolerance:
        notes[DONE], find.status[m] = 1, SETTLED
        return best
    if not tried < RUN_AWAY or notes[BEATS] >= limits.most_beats:
        notes[DONE], notes[KNOWN] = 1, 0
        find.status[m] = NOT_PERIODIC if tried < RUN_AWAY else NOT_FINITE
        return best
    if notes[TRIES] == 1:
        notes[TIRED] += 1
        if tried < GOOD_STEP * best:
            best, notes[TIRED] = tried, 0
        if notes[TIRED] >= MOST_TIRED:
            go_plain(find, m, notes, 0)
            return best
    elif notes[WANTS] == 1:
        notes[WANTS] = 0
        if not invert(crew.J[lane], find.inverse[m]):
            go_plain(find, m, notes, RESCUE_BEATS)
            return best
        best, notes[TIRED], notes[KNOWN] = tried, 0, 1
    if notes[KNOWN] == 1:
        propose(find, net, m, size, notes, step)
    else:
        step_plainly(find, m, notes)
    return best


@njit(**COMPILED)
def search_group(find, net, crew, notes, best, first, limits, abreast):
    """Searches the orbits of a group of members from ``first`` on together, and reads them out.

    ``notes`` (zeros) has a row a member. ``abreast`` is None for one member, or anything else for
    up to WIDTH of them in lanes.
    """
    like = number_like(abreast)
    size, params, count = crew.X.size // width(like), 2 + beds(net), notes.shape[0]
    for lane in range(count):
        m = first + lane
        notes[lane, KNOWN] = find.known[m]
        notes[lane, PLAIN] = limits.warm_beats
        best[lane] = FARTHEST
        find.trial[m, :] = find.y[m]
        if notes[lane, KNOWN] == 0 and limits.warm_beats == 0:
            notes[lane, WANTS] = 1
    busy = count
    while busy > 0:
        if wanted(notes):
            next_beats_with_slopes(
                net, find.theta, find.trial, find.reg, crew, params, first, count, like
            )
        else:
            next_beats(net, find.theta, find.trial, find.reg, crew, first, count, like)
        busy = 0
        for lane in range(count):
            if notes[lane, DONE] == 0:
                best[lane] = hear(
                    find, net, crew, lane, first + lane, size, limits, notes[lane], best[lane]
                )
            busy += 1 - notes[lane, DONE]
    for lane in range(count):
        find.known[first + lane] = notes[lane, KNOWN]
        find.beats[first + lane] = notes[lane, BEATS]
    read_group(find, net, first, count, crew, like)


@njit(**COMPILED)
def wanted(notes):
    """Whether any member that is still busy wants a Jacobian."""
    for lane in range(notes.shape[0]):
        if notes[lane, DONE] == 0 and notes[lane, WANTS] == 1:
            return True
    return False


@njit(**COMPILED)
def read_group(find, net, first, count, crew, like):
    """One beat more of every member, watched closely, into its read-outs."""
    W = width(like)
    size, steps = crew.X.size // W, (net.act.shape[1] - 1) // 2
    parts, ways = net.parts.shape[0], net.edges.shape[0]
    for lane in range(W):
        m = first + min(lane, count - 1)
        seat(net, find.theta[m], find.y[m], find.reg[m], crew, lane, like)
    waves = crew.waves
    wave_X, free = cut(waves, 0, steps * size, like), steps * size
    wave_P, free = cut(waves, free, steps * parts, like), free + steps * parts
    wave_Q, free = cut(waves, free, steps * ways, like), free + steps * ways
    wave_S, free = cut(waves, free, steps * parts, like), free + steps * parts
    both, free = cut(waves, free, 2 * ways, like), free + 2 * ways
    part = cut(waves, free, PART_READOUTS * parts, like)
    full_beat(net, crew.row, crew.X, size, wave_X, wave_P, wave_Q, both, crew.pool, like)
    stresses(net, crew.row, size, wave_X, wave_S, crew.pool, like)
    read_out(net, crew.row, size, wave_X, wave_P, wave_S, part, like)
    for lane in range(count):
        m = first + lane
        for i in range(parts):
            for j in range(PART_READOUTS):
                find.part[m, i, j] = part[(PART_READOUTS * i + j) * W + lane]
        for e in range(ways):
            find.edge[m, e, 0] = both[2 * e * W + lane]
            find.edge[m, e, 1] = both[(2 * e + 1) * W + lane]


@njit(**COMPILED)
def watch_one(net, theta, y, reg, crew, wave_X, wave_P, wave_Q, both):
    """Every step of one member's beat: its state, pressures and flows, flat."""
    seat(net, theta, y, reg, crew, 0, 0.0)
    size = crew.X.size
    full_beat(net, crew.row, crew.X, size, wave_X, wave_P, wave_Q, both, crew.pool, 0.0)


def new_crew(net, slots, columns, count, like):
    """Room for a group of ``count`` members whose theta has so many slots; made outside kernels."""
    W, params = np.size(like), 2 + int(np.any(net.edges[:, AS] == BED_FLOW))
    parts, ways = net.parts.shape[0], net.edges.shape[0]
    size = parts + int(np.sum(net.edges[:, STATE] >= 0)) + min(net.septum.size, 1)
    steps = (net.act.shape[1] - 1) // 2
    numbers = ways_to_hold(params, W)
    wide = ways_to_hold(columns - params, W) + numbers
    pool = 2 * parts + 3 * ways + 3 * size + slots + 5
    waves = steps * (size + 2 * parts + ways) + 2 * ways + PART_READOUTS * parts
    return Crew(
        row=np.empty(slots * W),
        X=np.empty(size * W),
        seen=np.empty(SEEN * W),
        TX=np.empty(size * wide * WIDTH),
        dtheta=np.empty(slots * numbers * WIDTH),
        Tseen=np.empty(SEEN * wide * WIDTH),
        pool=np.empty(pool * W),
        Tpool=np.empty((3 * size + parts + 3) * wide * WIDTH),
        waves=np.zeros(waves * W),
        g=np.empty((count, columns)),
        J=np.empty((count, columns, columns)),
        small=np.empty((2 + SEEN, columns)),
    )


def ways_to_hold(columns, W):
    """How many lanes hold so many tangent columns."""
    return -(-columns // WIDTH) if W == 1 else columns
