"""One beat of any network by Heun's method, and what a search sees of it.

Valves make the state bend whenever they open, so that a method of high order gains nothing; one
whose stages all lie ahead leaves least ripple there (decision 0011).
"""

from __future__ import annotations

from numba import njit

from inseries.circuit.kernels.flows import flows
from inseries.circuit.kernels.lanes import INLINED, LENT, above, cut, load, store, width
from inseries.circuit.kernels.layout import AS, SEEN, clear
from inseries.circuit.kernels.pressures import pressures

# derived: the method's stages, at the start and the end of a step, and the weight of each
STAGES, WEIGHT = 2, 0.5


@njit(**INLINED)
def see(net, P, Q, weight, seen, like):
    """Adds one stage to the means that regulation needs."""
    for j in range(2):
        store(seen, j, load(seen, j, like) + weight * load(P, net.watch[j], like))
    for e in net.counted:
        j = net.edges[e, AS]
        store(seen, j, load(seen, j, like) + weight * load(Q, e, like))


@njit(**INLINED)
def advance(X, dX, step, size, Y, like):
    """Y = X + step dX."""
    for i in range(size):
        store(Y, i, load(X, i, like) + step * load(dX, i, like))


@njit(**INLINED)
def keep_row(values, n, s, wave, like):
    """Keeps n numbers as row s of a wave."""
    for i in range(n):
        store(wave, s * n + i, load(values, i, like))


@njit(**INLINED)
def note_both_ways(Q, ways, weight, both, like):
    """Adds one stage's flows, forwards and backwards apart."""
    for e in range(ways):
        q = load(Q, e, like)
        ahead = above(q, 0.0, q, 0.0)
        store(both, 2 * e, load(both, 2 * e, like) + weight * ahead)
        store(both, 2 * e + 1, load(both, 2 * e + 1, like) + weight * (ahead - q))


@njit(**LENT)
def beat(net, row, X, size, seen, pool, like, kept, wave_Q):
    """Carries the state X through one period, in place, and fills ``seen``.

    ``kept`` is None, or room for states and pressures of every step and for the flows both ways;
    ``wave_Q`` is None, or room for the flows of every step.
    """
    count, ways = net.parts.shape[0], net.edges.shape[0]
    slots = row.size // width(like)
    row, X, seen = cut(row, 0, slots, like), cut(X, 0, size, like), cut(seen, 0, SEEN, like)
    P, Q = cut(pool, 0, count, like), cut(pool, count, ways, like)
    free, both = count + ways, 2 * size
    states, rates = cut(pool, free, both, like), cut(pool, free + both, both, like)
    Y, Z = cut(states, 0, size, like), cut(states, size, size, like)
    dY, dZ = cut(rates, 0, size, like), cut(rates, size, size, like)
    steps = net.act.shape[1] - 1
    stages = min(STAGES, STAGES * steps)  # which the compiler must not know: it would unroll them
    dt = load(row, 0, like) * (1.0 / steps)
    clear(seen, SEEN, like)
    if kept is not None:
        clear(kept[2], 2 * ways, like)
    advance(X, X, 0.0, size, Y, like)
    for s in range(steps):
        for m in range(stages):
            at, rate = cut(states, m * size, size, like), cut(rates, m * size, size, like)
            pressures(net, row, at, s + m, P, None, None, like)
            flows(net, count, row, at, P, Q, rate, None, None, None, like)
            see(net, P, Q, WEIGHT / steps, seen, like)
            if kept is not None:
                note_both_ways(Q, ways, WEIGHT / steps, kept[2], like)
            if kept is not None and m == 0:
                keep_row(Y, size, s, kept[0], like)
                keep_row(P, count, s, kept[1], like)
            if wave_Q is not None and m == 0:
                keep_row(Q, ways, s, wave_Q, like)
            if m == 0:
                advance(Y, dY, dt, size, Z, like)
        for i in range(size):
            step = WEIGHT * dt * (load(dY, i, like) + load(dZ, i, like))
            store(Y, i, load(Y, i, like) + step)
    advance(Y, Y, 0.0, size, X, like)
