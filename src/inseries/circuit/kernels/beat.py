"""One beat of any network by Heun's method, and what a search sees of it.

Valves make the state bend whenever they open, so that a method of high order gains nothing; one
whose stages all lie ahead leaves least ripple there (decision 0011).
"""

from __future__ import annotations

from numba import njit

from inseries.circuit.kernels.flows import flows
from inseries.circuit.kernels.lanes import COMPILED, INLINED, cut, load, store, width
from inseries.circuit.kernels.layout import AS, SEEN, clear
from inseries.circuit.kernels.pressures import pressures

# derived: the method's own nodes, in half steps, and weights
NODES, WEIGHTS, STAGES = (0, 2), (0.5, 0.5), 2


@njit(**INLINED)
def see(watch, edges, P, Q, weight, seen, like):
    """Adds one stage to the means that regulation needs."""
    for j in range(2):
        store(seen, j, load(seen, j, like) + weight * load(P, watch[j], like))
    for e in range(edges.shape[0]):
        j = edges[e, AS]
        if j >= 0:
            store(seen, j, load(seen, j, like) + weight * load(Q, e, like))


@njit(**INLINED)
def advance(X, dX, step, size, Y, like):
    """Y = X + step dX."""
    for i in range(size):
        store(Y, i, load(X, i, like) + step * load(dX, i, like))


@njit(**COMPILED)
def beat(net, row, X, size, seen, pool, like):
    """Carries the state X through one period, in place, and fills ``seen``."""
    parts, edges, septum, sac, act = net.parts, net.edges, net.septum, net.sac, net.act
    watch = net.watch
    count, ways = parts.shape[0], edges.shape[0]
    slots = row.size // width(like)
    row, X, seen = cut(row, 0, slots, like), cut(X, 0, size, like), cut(seen, 0, SEEN, like)
    P, Q = cut(pool, 0, count, like), cut(pool, count, ways, like)
    free = count + ways
    Y, dX = cut(pool, free, size, like), cut(pool, free + size, size, like)
    total = cut(pool, free + 2 * size, size, like)
    steps = (act.shape[1] - 1) // 2
    stages = min(STAGES, STAGES * steps)  # which the compiler must not know: it would unroll them
    dt = load(row, 0, like) * (1.0 / steps)
    clear(seen, SEEN, like)
    for s in range(steps):
        advance(X, X, 0.0, size, Y, like)
        clear(total, size, like)
        for m in range(stages):
            pressures(parts, septum, sac, act, row, Y, 2 * s + NODES[m], P, None, None, like)
            flows(edges, septum, count, row, Y, P, Q, dX, None, None, None, like)
            see(watch, edges, P, Q, WEIGHTS[m] / steps, seen, like)
            advance(total, dX, WEIGHTS[m], size, total, like)
            if m == 0:
                advance(X, dX, dt, size, Y, like)
        advance(X, total, dt, size, X, like)
