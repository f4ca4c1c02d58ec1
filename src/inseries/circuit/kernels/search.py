"""The beat that repeats itself: a root of g(y) - y, for one member or eight abreast.

Each member goes its own way: plain beats at first, then Newton's steps by a Jacobian that is made
once from tangents and taught on the way. Eight share only the beat itself, so that a member finds
the same orbit beside any others.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numba import njit

from inseries.circuit.kernels.beat import beat
from inseries.circuit.kernels.beats import (
    Crew,
    beds,
    rise_team,
    seat,
    seat_team,
    seed_team,
    slopes_of_team,
)
from inseries.circuit.kernels.lanes import COMPILED, INLINED, WIDTH, cut, number_like, width
from inseries.circuit.kernels.layout import (
    AS,
    BED_FLOW,
    FARTHEST,
    LAW,
    NOT_FINITE,
    NOT_PERIODIC,
    PART_READOUTS,
    REGULATED,
    SEEN,
    SETTLED,
    SLOTS,
    STATE,
    Floats,
    Ints,
    Limits,
    Network,
    groups,
)
from inseries.circuit.kernels.linear import invert
from inseries.circuit.kernels.parts import fibre
from inseries.circuit.kernels.root import bounded_step, broyden, distance, hold
from inseries.circuit.kernels.slopes import slopes_beat
from inseries.circuit.kernels.watched import read_out, stresses

# chosen: after a refused step what is regulated may move a quarter as far, so often; then plain
# beats
NARROWER, MOST_NARROW, RESCUE_BEATS = 0.25, 3, 8
# chosen: a step may raise the residual this much above the best so far (units are mixed, kinks
# pass); after so many steps without a good one the Jacobian is made anew
LOOSE_STEP, GOOD_STEP, MOST_TIRED = 10.0, 0.7, 6
# derived: floats in a line of a common processor's cache, and in a page
LINE, PAGE = 8, 512
# chosen: a ventricle loses at most this share of its blood in one step
LARGEST_LOSS = 0.7
# chosen: a tone beyond this is no longer a body's
FARTHEST_TONE = 3.0
# chosen: change over a beat at which volumes have run away, mL
RUN_AWAY = 1e6
# chosen: a beat is watched, in case it is the last, where half a team's members were within so many
# tolerances of repeating; half of such beats settle, and one that is watched need not be run again
NEARLY = 20.0
# derived: columns of a member's notes: plain beats left, has a Jacobian, wants one, tries a step,
# tired, done, beats, how it ended, whether its Jacobian is its own and not a neighbour's, how often
# its reach was narrowed, whether it was read out
PLAIN, KNOWN, WANTS, TRIES, TIRED, DONE, BEATS, ENDED, OWN, NARROW, READ = range(11)
NOTES = 11


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
def share_of_step(y, step, parts, size):
    """Share of a step after which ventricles still hold blood and the tone is within reason.

    A vessel or atrium may be drawn below its unloaded volume (negative pressure): a failing left
    ventricle can leave the body's veins so empty. No number gives no share.
    """
    share = 1.0
    for i in range(parts.shape[0] - 1):
        if parts[i, LAW] == fibre.CODE and -step[i] * share > LARGEST_LOSS * y[i]:
            share = LARGEST_LOSS * y[i] / -step[i]
    farthest = FARTHEST_TONE + abs(y[size])
    if abs(step[size]) * share > farthest:
        share = farthest / abs(step[size])
    for i in range(step.size):
        if not math.isfinite(step[i]):
            share = 0.0
    return share


@njit(**COMPILED)
def propose(parts, size, reg, y, kept, trial, inverse, step, notes):
    """Newton's step of a member into its trial; plain beats instead when it makes no sense."""
    bounded_step(inverse, y, kept, size - 1, reg, NARROWER ** notes[NARROW], step)
    share = share_of_step(y, step, parts, size)
    for i in range(step.size):
        trial[i] = y[i] + share * step[i]
    notes[TRIES] = 1
    if share <= 0.0:
        go_plain(size, reg, y, kept, trial, notes, RESCUE_BEATS)


@njit(**COMPILED)
def narrow(parts, size, reg, y, kept, trial, inverse, step, notes):
    """After a refused step: a Jacobian of its own, the same with less reach, or plain beats."""
    if notes[OWN] == 0:
        go_plain(size, reg, y, kept, trial, notes, 0)
        return
    notes[NARROW] += 1
    if notes[NARROW] > MOST_NARROW or reg[REGULATED] == 0.0:
        notes[NARROW] = 0
        go_plain(size, reg, y, kept, trial, notes, RESCUE_BEATS)
    else:
        propose(parts, size, reg, y, kept, trial, inverse, step, notes)


@njit(**COMPILED)
def go_plain(size, reg, y, kept, trial, notes, beats):
    """The member goes on by plain beats, and makes its Jacobian at the end of them."""
    notes[TRIES] = 0
    notes[KNOWN] = 0
    notes[PLAIN] = beats
    step_plainly(size, reg, y, kept, trial, notes)


@njit(**COMPILED)
def step_plainly(size, reg, y, kept, trial, notes):
    """Next trial is where the last beat led; the last plain beat asks for a Jacobian."""
    moves = notes[PLAIN] > 0
    if moves:
        notes[PLAIN] -= 1
    for i in range(y.size):
        if moves:
            y[i] = kept[i]
    hold(y, size - 1, reg)
    for i in range(y.size):
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
def hear(parts, size, reg, limits, y, kept, trial, inverse, g, J, small, notes, best):
    """What a member makes of its beat from ``trial`` to ``g``.

    Returns its best distance so far, this distance and the unknown that changes most. ``kept`` is
    the beat from y that it keeps.
    """
    notes[BEATS] += 1
    gap, worst = distance(trial, g, size - 1, reg)
    if notes[TRIES] == 1:
        if not gap < LOOSE_STEP * best:
            narrow(parts, size, reg, y, kept, trial, inverse, small[0], notes)
            return best, gap, worst
        learn(y, kept, trial, g, inverse, small[0], small[1])
        notes[NARROW] = max(notes[NARROW] - 1, 0)
    for i in range(y.size):
        y[i], kept[i] = trial[i], g[i]
    if gap < limits.tolerance:
        notes[DONE], notes[ENDED] = 1, SETTLED
    elif not gap < RUN_AWAY or notes[BEATS] >= limits.most_beats:
        notes[DONE], notes[KNOWN] = 1, 0
        notes[ENDED] = NOT_PERIODIC if gap < RUN_AWAY else NOT_FINITE
    else:
        best = go_on(parts, size, reg, y, kept, trial, inverse, J, small[0], notes, best, gap)
    return best, gap, worst


@njit(**COMPILED)
def go_on(parts, size, reg, y, kept, trial, inverse, J, step, notes, best, gap):
    """Next trial of a member that has not settled; returns its best distance so far."""
    if notes[TRIES] == 1:
        notes[TIRED] += 1
        if gap < GOOD_STEP * best:
            best, notes[TIRED] = gap, 0
        if notes[TIRED] >= MOST_TIRED:
            go_plain(size, reg, y, kept, trial, notes, 0)
            return best
    elif notes[WANTS] == 1:
        notes[WANTS] = 0
        if not invert(J, inverse):
            go_plain(size, reg, y, kept, trial, notes, RESCUE_BEATS)
            return best
        best, notes[TIRED], notes[KNOWN], notes[OWN] = gap, 0, 1, 1
    if notes[KNOWN] == 1:
        propose(parts, size, reg, y, kept, trial, inverse, step, notes)
    else:
        step_plainly(size, reg, y, kept, trial, notes)
    return best


@njit(**COMPILED)
def search_block(
    find: Search,
    net: Network,
    crew: Crew,
    notes: Ints,
    best: Floats,
    first: int,
    limits: Limits,
    abreast: int | None,
) -> None:
    """Searches the orbits of a block of members from ``first`` on, and reads them out.

    ``notes`` (zeros) has a row a member. ``abreast`` is None for one member alone, or anything else
    for teams of up to WIDTH in lanes: who has settled makes room for the next, and who wants a
    Jacobian waits for others who do.
    """
    like = number_like(abreast)
    size, params, count = crew.X.size // width(like), 2 + beds(net), notes.shape[0]
    numbers = groups(params, like)
    wide = groups(size - 1, like) + numbers
    for k in range(count):
        begin(find, first + k, size - 1, notes[k], limits)
        best[k] = FARTHEST
    waves = room_for_waves(net, crew.waves, size, like)
    busy, wants = pick(notes, first, crew.team)
    while busy > 0:
        seat_team(net, find.theta, find.trial, find.reg, crew, busy, like)
        if wants:
            seed_team(net, find.trial, find.reg, crew, params, like)
            slopes_beat(
                net, crew.row, crew.X, size, crew.seen, crew.TX, wide, crew.dtheta, numbers,
                crew.drifts, crew.Tseen, crew.pool, crew.Tpool, like, None,
            )  # fmt: skip
            slopes_of_team(net, find.trial, find.reg, crew, params, busy, like)
        watched = not wants and nearly(find.gap, crew.team, busy, limits.tolerance)
        if watched:
            kept = (waves[0], waves[1], waves[2])
            beat(net, crew.row, crew.X, size, crew.seen, crew.pool, like, kept, None)
        elif not wants:
            beat(net, crew.row, crew.X, size, crew.seen, crew.pool, like, None, None)
        rise_team(net, find.trial, find.reg, crew, busy, like)
        for lane in range(busy):
            m = crew.team[lane]
            best[m - first], find.gap[m], find.worst[m] = hear(
                net.parts, size, find.reg[m], limits, find.y[m], find.g[m], find.trial[m],
                find.inverse[m], crew.g[lane], crew.J[lane], crew.small, notes[m - first],
                best[m - first],
            )  # fmt: skip
        if watched:
            read_team(find, net, crew, notes, first, busy, waves, like)
        busy, wants = pick(notes, first, crew.team)
    read_others(find, net, crew, notes, first, waves, like)
    for k in range(count):
        find.known[first + k] = notes[k, KNOWN]
        find.beats[first + k] = notes[k, BEATS]
        find.status[first + k] = notes[k, ENDED]


@njit(**COMPILED)
def begin(find, m, regulated, notes, limits):
    """Notes of a member before its first beat, and where that starts."""
    hold(find.y[m], regulated, find.reg[m])
    find.gap[m] = FARTHEST
    notes[KNOWN] = find.known[m]
    notes[PLAIN] = limits.warm_beats
    for i in range(find.y.shape[1]):
        find.trial[m, i] = find.y[m, i]
    if notes[KNOWN] == 0 and limits.warm_beats == 0:
        notes[WANTS] = 1


@njit(**COMPILED)
def pick(notes, first, team):
    """Fills the team with members that are not done; how many, and whether they want Jacobians.

    Those who do are taken when a whole team of them waits, or more of them than others are left.
    """
    waiting, ready = 0, 0
    for k in range(notes.shape[0]):
        if notes[k, DONE] == 0:
            waiting += notes[k, WANTS]
            ready += 1 - notes[k, WANTS]
    wants = waiting >= team.size or waiting > ready
    busy = 0
    for k in range(notes.shape[0]):
        if busy < team.size and notes[k, DONE] == 0 and (notes[k, WANTS] == 1) == wants:
            team[busy] = first + k
            busy += 1
    return busy, wants


@njit(**COMPILED)
def nearly(gap, team, busy, tolerance):
    """Whether half a team's members nearly repeated at their last beat."""
    near = 0
    for lane in range(busy):
        near += gap[team[lane]] < NEARLY * tolerance
    return 2 * near >= busy


@njit(**INLINED)
def room_for_waves(net, waves, size, like):
    """Room for a watched beat: states, pressures, flows both ways, stresses, read-outs."""
    steps, parts, ways = net.act.shape[1] - 1, net.parts.shape[0], net.edges.shape[0]
    wave_X, free = cut(waves, 0, steps * size, like), steps * size
    wave_P, free = cut(waves, free, steps * parts, like), free + steps * parts
    wave_S, free = cut(waves, free, steps * parts, like), free + steps * parts
    both, free = cut(waves, free, 2 * ways, like), free + 2 * ways
    return wave_X, wave_P, both, wave_S, cut(waves, free, PART_READOUTS * parts, like)


@njit(**COMPILED)
def read_team(find, net, crew, notes, first, busy, waves, like):
    """Read-outs of those of a team whose beat was watched and their last."""
    wave_X, wave_P, _, wave_S, part = waves
    size, ended = crew.X.size // width(like), 0
    for lane in range(busy):
        ended += notes[crew.team[lane] - first, DONE]
    if ended > 0:
        stresses(net, crew.row, size, wave_X, wave_S, crew.pool, like)
        read_out(net, crew.row, size, wave_X, wave_P, wave_S, part, like)
    for lane in range(busy):
        k = crew.team[lane] - first
        if notes[k, DONE] == 1:
            keep_readouts(find, net, size, first + k, lane, crew.waves, like)
            notes[k, READ] = 1


@njit(**COMPILED)
def read_others(find, net, crew, notes, first, waves, like):
    """One beat more of every member whose last was not watched."""
    size, k = crew.X.size // width(like), 0
    while k < notes.shape[0]:
        busy = 0
        while k < notes.shape[0] and busy < crew.team.size:
            if notes[k, READ] == 0:
                crew.team[busy] = first + k
                busy += 1
            k += 1
        if busy > 0:
            seat_team(net, find.theta, find.y, find.reg, crew, busy, like)
            kept = (waves[0], waves[1], waves[2])
            beat(net, crew.row, crew.X, size, crew.seen, crew.pool, like, kept, None)
            read_team(find, net, crew, notes, first, busy, waves, like)


@njit(**COMPILED)
def keep_readouts(find, net, size, m, lane, waves, like):
    """Copies flows both ways and read-outs of member m out of its lane."""
    W, parts, ways = width(like), find.part.shape[1], find.edge.shape[1]
    both = (net.act.shape[1] - 1) * (size + 2 * parts)
    part = both + 2 * ways
    for i in range(parts):
        for j in range(PART_READOUTS):
            find.part[m, i, j] = waves[(part + PART_READOUTS * i + j) * W + lane]
    for e in range(ways):
        find.edge[m, e, 0] = waves[(both + 2 * e) * W + lane]
        find.edge[m, e, 1] = waves[(both + 2 * e + 1) * W + lane]


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
    kept = (wave_X, wave_P, both)
    beat(net, crew.row, crew.X, crew.X.size, crew.seen, crew.pool, 0.0, kept, wave_Q)


def new_crew(
    net: Network, slots: int, columns: int, like: float | Floats, *, more: int = 0
) -> Crew:
    """Room for a team whose theta has so many slots and y so many columns; made outside kernels.

    ``more`` is how many tangent columns a caller adds, which may change any number of theta.
    """
    W, params = np.size(like), 2 + int(np.any(net.edges[:, AS] == BED_FLOW)) + more
    parts, ways = net.parts.shape[0], net.edges.shape[0]
    size = parts + int(np.sum(net.edges[:, STATE] >= 0)) + min(net.septum.size, 1)
    steps = net.act.shape[1] - 1
    numbers = ways_to_hold(params, W)
    wide = ways_to_hold(columns - params + more, W) + numbers
    pool = 2 * parts + 3 * ways + 4 * size + slots + 5
    waves = steps * (size + 2 * parts) + 2 * ways + PART_READOUTS * parts
    row, X, seen, room, TX, dtheta, Tseen, Troom, kept, given = together(
        slots * W,
        size * W,
        SEEN * W,
        pool * W,
        size * wide * WIDTH,
        slots * numbers * WIDTH,
        SEEN * wide * WIDTH,
        (4 * size + parts + 3) * wide * WIDTH,
        waves * W,
        slots * numbers * WIDTH if more > 0 else 0,
    )
    return Crew(
        row=row,
        X=X,
        seen=seen,
        TX=TX,
        dtheta=dtheta,
        Tseen=Tseen,
        pool=room,
        Tpool=Troom,
        waves=kept,
        g=np.empty((W, columns)),
        J=np.empty((W, columns, columns)),
        small=np.empty((2 + SEEN, columns)),
        team=np.zeros(W, dtype=np.int64),
        drifts=drifts(net, everything=more > 0),
        given=given,
    )


def together(*sizes: int) -> list[Floats]:
    """Zeros side by side from the start of a page, each from the start of a line of the cache.

    So no load or store of lanes crosses a border, and a process is as quick as another.
    """
    ends = np.cumsum([-(-size // LINE) * LINE for size in sizes])
    block = np.zeros(ends[-1] + PAGE)
    block = block[-(block.ctypes.data // block.itemsize) % PAGE :]
    firsts = (0, *ends[:-1])
    return [block[first : first + size] for first, size in zip(firsts, sizes, strict=True)]


def ways_to_hold(columns: int, W: int) -> int:
    """How many lanes hold so many tangent columns."""
    return -(-columns // WIDTH) if W == 1 else columns


def drifts(net: Network, *, everything: bool) -> Ints:
    """Slots that tangents follow: all of them, or in a search those that regulation changes."""
    if everything:
        shared = [2 * min(net.septum.size, 1), 3 * min(net.sac.size, 1)]
        return np.concatenate([net.parts[:, SLOTS], net.edges[:, SLOTS], shared])
    muscle = np.where(net.parts[:, LAW] == fibre.CODE, net.parts[:, SLOTS], 0)
    held = np.where(net.edges[:, AS] >= 0, net.edges[:, SLOTS], 0)
    return np.concatenate([muscle, held, [0, 0]])
