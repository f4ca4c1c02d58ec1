"""What a beat that was watched tells: extremes, stresses of fibres, read-outs of every part."""

from __future__ import annotations

from numba import njit

from inseries.circuit.kernels.lanes import INLINED, LENT, above, cut, load, spread, store
from inseries.circuit.kernels.layout import ACTIVE, FARTHEST, LAW, PART_READOUTS, SLOT
from inseries.circuit.kernels.parts import fibre
from inseries.circuit.kernels.pressures import lend

# chosen: where a curve rises to a level, its parabola has its vertex half a step off but for
# rounding; one that lies so near half a step is such a corner
CORNER = 1.0 - 1e-6


@njit(**INLINED)
def top(a, b, c):
    """Highest value near b of a curve through three neighbours: of their parabola, or b itself."""
    bend, lean = 2.0 * b - a - c, a - c
    tilt = above(lean, 0.0, lean, -lean)
    return above(CORNER * bend, tilt, b + lean * lean / (8.0 * bend), b)


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


@njit(**LENT)
def stresses(net, row, size, wave_X, wave_S, pool, like):
    """Fibre stress of every ventricle of fibres at every step, into ``wave_S``; zero elsewhere."""
    parts, septum, act = net.parts, net.septum, net.act
    count, steps = parts.shape[0], act.shape[1] - 1
    X = cut(pool, 0, size, like)
    for s in range(steps):
        for i in range(size):
            store(X, i, load(wave_X, s * size + i, like))
        lend(septum, X, 1.0, like)
        for i in range(count):
            if parts[i, LAW] == fibre.CODE:
                e = act[parts[i, ACTIVE], s]
                found = fibre.stress_at(load(X, i, like), e, row, parts[i, SLOT], like)
                store(wave_S, s * count + i, found)


@njit(**LENT)
def read_out(net, row, size, wave_X, wave_P, wave_S, part, like):
    """Read-outs of every part: P mean, max, min; V max, min; σ mean, max; λ max, min."""
    parts = net.parts
    count, steps = parts.shape[0], net.act.shape[1] - 1
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
