"""A beat watched closely: every step of it, flows both ways, openings, and the read-outs."""

from __future__ import annotations

from numba import njit

from inseries.circuit.kernels.beat import NODES, STAGES, WEIGHTS, advance
from inseries.circuit.kernels.flows import flows
from inseries.circuit.kernels.lanes import COMPILED, INLINED, above, cut, load, spread, store
from inseries.circuit.kernels.layout import ACTIVE, LAW, PART_READOUTS, SLOT, clear
from inseries.circuit.kernels.parts import fibre
from inseries.circuit.kernels.pressures import lend, pressures

# derived: beyond any pressure, volume or stress
FARTHEST = 1e300


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


@njit(**COMPILED)
def full_beat(net, row, X, size, wave_X, wave_P, wave_Q, both, pool, like):
    """Carries X through one period, in place, and keeps every step and the flows both ways.

    ``wave_Q`` is None where the flows of each step are not asked for.
    """
    parts, edges, septum, sac, act = net.parts, net.edges, net.septum, net.sac, net.act
    count, ways = parts.shape[0], edges.shape[0]
    P, Q = cut(pool, 0, count, like), cut(pool, count, ways, like)
    free = count + ways
    Y, dX = cut(pool, free, size, like), cut(pool, free + size, size, like)
    total = cut(pool, free + 2 * size, size, like)
    steps = (act.shape[1] - 1) // 2
    stages = min(STAGES, STAGES * steps)
    dt = load(row, 0, like) * (1.0 / steps)
    clear(both, 2 * ways, like)
    for s in range(steps):
        advance(X, X, 0.0, size, Y, like)
        clear(total, size, like)
        for m in range(stages):
            pressures(parts, septum, sac, act, row, Y, 2 * s + NODES[m], P, None, None, like)
            flows(edges, septum, count, row, Y, P, Q, dX, None, None, None, like)
            note_both_ways(Q, ways, WEIGHTS[m] / steps, both, like)
            if m == 0:
                keep_row(X, size, s, wave_X, like)
                keep_row(P, count, s, wave_P, like)
                if wave_Q is not None:
                    keep_row(Q, ways, s, wave_Q, like)
            advance(total, dX, WEIGHTS[m], size, total, like)
            if m == 0:
                advance(X, dX, dt, size, Y, like)
        advance(X, total, dt, size, X, like)


@njit(**INLINED)
def top(a, b, c):
    """Highest value near b of a curve through three neighbours: of their parabola, or b itself."""
    bend, lean = 2.0 * b - a - c, a - c
    tilt = above(lean, 0.0, lean, -lean)
    return above(bend, tilt, b + lean * lean / (8.0 * bend), b)


@njit(**INLINED)
def extent(wave, n, i, steps, like):
    """Mean, highest and lowest of column i over a beat that repeats itself."""
    before, here = load(wave, (steps - 1) * n + i, like), load(wave, i, like)
    mean, high, low = spread(0.0, like), spread(-FARTHEST, like), spread(FARTHEST, like)
    to_high, from_high, to_low, from_low = before, before, before, before
    for s in range(steps):
        after = load(wave, ((s + 1) % steps) * n + i, like)
        to_high = above(here, high, before, to_high)
        from_high = above(here, high, after, from_high)
        high = above(here, high, here, high)
        to_low = above(low, here, before, to_low)
        from_low = above(low, here, after, from_low)
        low = above(low, here, here, low)
        mean = mean + here
        before, here = here, after
    return mean * (1.0 / steps), top(to_high, high, from_high), -top(-to_low, -low, -from_low)


@njit(**COMPILED)
def stresses(net, row, size, wave_X, wave_S, pool, like):
    """Fibre stress of every ventricle of fibres at every step, into ``wave_S``; zero elsewhere."""
    parts, septum, act = net.parts, net.septum, net.act
    count, steps = parts.shape[0], (act.shape[1] - 1) // 2
    X = cut(pool, 0, size, like)
    for s in range(steps):
        for i in range(size):
            store(X, i, load(wave_X, s * size + i, like))
        lend(septum, X, 1.0, like)
        for i in range(count):
            if parts[i, LAW] == fibre.CODE:
                e = act[parts[i, ACTIVE], 2 * s]
                found = fibre.stress_at(load(X, i, like), e, row, parts[i, SLOT], like)
                store(wave_S, s * count + i, found)


@njit(**COMPILED)
def read_out(net, row, size, wave_X, wave_P, wave_S, part, like):
    """Read-outs of every part: P mean, max, min; V max, min; σ mean, max; λ max, min."""
    parts = net.parts
    count, steps = parts.shape[0], (net.act.shape[1] - 1) // 2
    for i in range(count):
        at = PART_READOUTS * i
        mean, high, low = extent(wave_P, count, i, steps, like)
        store(part, at, mean)
        store(part, at + 1, high)
        store(part, at + 2, low)
        mean, high, low = extent(wave_X, size, i, steps, like)
        store(part, at + 3, high)
        store(part, at + 4, low)
        if parts[i, LAW] == fibre.CODE:
            s = parts[i, SLOT]
            store(part, at + 7, fibre.stretch(high, load(row, s, like), load(row, s + 1, like)))
            store(part, at + 8, fibre.stretch(low, load(row, s, like), load(row, s + 1, like)))
            mean, high, low = extent(wave_S, count, i, steps, like)
            store(part, at + 5, mean)
            store(part, at + 6, high)
