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
    Limits,
    Network,
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
# tired, done, beats, how it ended
PLAIN, KNOWN, WANTS, TRIES, TIRED, DONE, BEATS, ENDED = range(8)
NOTES = 8


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
def sensible(y, parts, size):
    """Whether ventricles hold blood and the tone is within reason.

    A vessel or atrium may be drawn below its unloaded volume (negative pressure): a failing left
    ventricle can leave the body's veins so empty.
    """
    for i in range(parts.shape[0] - 1):
        if parts[i, LAW] == fibre.CODE and not y[i] > 0.0:
            return False
    return abs(y[size]) < FARTHEST_TONE


@njit(**COMPILED)
def propose(parts, size, y, kept, trial, inverse, step, notes):
    """Newton's step of a member into its trial; plain beats instead when it makes no sense."""
    newton_step(inverse, y, kept, step)
    for i in range(step.size):
        trial[i] = y[i] + step[i]
    notes[TRIES] = 1
    if not sensible(trial, parts, size):
        go_plain(y, kept, trial, notes, RESCUE_BEATS)


@njit(**COMPILED)
def go_plain(y, kept, trial, notes, beats):
    """The member goes on by plain beats, and makes its Jacobian at the end of them."""
    notes[TRIES] = 0
    notes[KNOWN] = 0
    notes[PLAIN] = beats
    step_plainly(y, kept, trial, notes)


@njit(**COMPILED)
def step_plainly(y, kept, trial, notes):
    """Next trial is where the last beat led; the last plain beat asks for a Jacobian."""
    moves = notes[PLAIN] > 0
    if moves:
        notes[PLAIN] -= 1
    for i in range(y.size):
        if moves:
            y[i] = kept[i]
        trial[i] = y[i]
    notes[WANTS] = 1 if notes[PLAIN] == 0 else 0


@njit(**COMPILED)
def learn(y, kept, trial, g, inverse, step, change):
    """Moves to the tried unknowns and teaches the inverse what was seen on the way."""
    for i in range(step.size):
        step[i] = trial[i] - y[i]
        change[i] = (g[i] - trial[i]) - (kept[i] - y[i])
    broyden(inverse, step, change)


@njit(**COMPILED)
def hear(parts, size, limits, y, kept, trial, inverse, g, J, small, notes, best):
    """What a member makes of its beat from ``trial`` to ``g``.

    Returns its best distance so far, this distance and the unknown that changes most. ``kept`` is
    the beat from y that it keeps.
    """
    notes[BEATS] += 1
    gap, worst = distance(trial, g, size - 1)
    if notes[TRIES] == 1:
        if not gap < LOOSE_STEP * best:
            go_plain(y, kept, trial, notes, RESCUE_BEATS)
            return best, gap, worst
        learn(y, kept, trial, g, inverse, small[0], small[1])
    for i in range(y.size):
        y[i], kept[i] = trial[i], g[i]
    if gap < limits.tolerance:
        notes[DONE], notes[ENDED] = 1, SETTLED
    elif not gap < RUN_AWAY or notes[BEATS] >= limits.most_beats:
        notes[DONE], notes[KNOWN] = 1, 0
        notes[ENDED] = NOT_PERIODIC if gap < RUN_AWAY else NOT_FINITE
    else:
        best = go_on(parts, size, y, kept, trial, inverse, J, small[0], notes, best, gap)
    return best, gap, worst


@njit(**COMPILED)
def go_on(parts, size, y, kept, trial, inverse, J, step, notes, best, gap):
    """Next trial of a member that has not settled; returns its best distance so far."""
    if notes[TRIES] == 1:
        notes[TIRED] += 1
        if gap < GOOD_STEP * best:
            best, notes[TIRED] = gap, 0
        if notes[TIRED] >= MOST_TIRED:
            go_plain(y, kept, trial, notes, 0)
            return best
    elif notes[WANTS] == 1:
        notes[WANTS] = 0
        if not invert(J, inverse):
            go_plain(y, kept, trial, notes, RESCUE_BEATS)
            return best
        best, notes[TIRED], notes[KNOWN] = gap, 0, 1
    if notes[KNOWN] == 1:
        propose(parts, size, y, kept, trial, inverse, step, notes)
    else:
        step_plainly(y, kept, trial, notes)
    return best


@njit(**COMPILED)
def search_group(
    find: Search,
    net: Network,
    crew: Crew,
    notes: Ints,
    best: Floats,
    first: int,
    limits: Limits,
    abreast: int | None,
) -> None:
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
            m = first + lane
            if notes[lane, DONE] == 0:
                best[lane], find.gap[m], find.worst[m] = hear(
                    net.parts, size, limits, find.y[m], find.g[m], find.trial[m], find.inverse[m],
                    crew.g[lane], crew.J[lane], crew.small, notes[lane], best[lane],
                )  # fmt: skip
            busy += 1 - notes[lane, DONE]
    for lane in range(count):
        find.known[first + lane] = notes[lane, KNOWN]
        find.beats[first + lane] = notes[lane, BEATS]
        find.status[first + lane] = notes[lane, ENDED]
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
def watch_one(
    net: Network,
    theta: Floats,
    y: Floats,
    reg: Floats,
    crew: Crew,
    wave_X: Floats,
    wave_P: Floats,
    wave_Q: Floats,
    both: Floats,
) -> None:
    """Every step of one member's beat: its state, pressures and flows, flat."""
    seat(net, theta, y, reg, crew, 0, 0.0)
    size = crew.X.size
    full_beat(net, crew.row, crew.X, size, wave_X, wave_P, wave_Q, both, crew.pool, 0.0)


def new_crew(net: Network, slots: int, columns: int, count: int, like: float | Floats) -> Crew:
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


def ways_to_hold(columns: int, W: int) -> int:
    """How many lanes hold so many tangent columns."""
    return -(-columns // WIDTH) if W == 1 else columns
