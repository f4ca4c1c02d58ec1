"""A beat with its derivatives: how its end answers to its start and to any number in it.

Tangents ride beside the state through the same steps, so they are the exact slopes of the map that
the search solves. A tangent is always lanes: columns abreast where one member is computed, members
abreast where eight are. A row of tangents has ``wide`` of them; the first ``wide - params`` columns
change the start of the beat only, the last ``params`` also numbers of theta, as ``dtheta`` says.
"""

from __future__ import annotations

from numba import njit

from inseries.circuit.kernels.beat import STAGES, WEIGHT, advance, see
from inseries.circuit.kernels.flows import flows
from inseries.circuit.kernels.lanes import (
    INLINED,
    LENT,
    above,
    cut,
    load,
    no_lanes,
    spread,
    store,
    width,
)
from inseries.circuit.kernels.layout import (
    AS,
    BY,
    CLOSED,
    END,
    LAW,
    SEEN,
    SLOT,
    START,
    STATE,
    clear,
)
from inseries.circuit.kernels.parts import squeezed
from inseries.circuit.kernels.pressures import pressures


@njit(**INLINED)
def drift(partials, dtheta, s, slots, c, params, like):
    """What column c adds through a law's slots: Σ partial d(slot)."""
    lanes = no_lanes()
    added = spread(0.0, lanes)
    for j in range(s, s + slots):
        added = added + load(partials, j, like) * load(dtheta, j * params + c, lanes)
    return added


@njit(**INLINED)
def rise(slope, from_rows, i, wide, partials, dtheta, s, slots, params, to_rows, k, like):
    """Row k: slope times row i, and what the slots add; ``slope`` is a number."""
    lanes = no_lanes()
    for c in range(wide):
        store(to_rows, k * wide + c, slope * load(from_rows, i * wide + c, lanes))
    for c in range(params if slots > 0 else 0):
        at = k * wide + wide - params + c
        more = drift(partials, dtheta, s, slots, c, params, like)
        store(to_rows, at, load(to_rows, at, lanes) + more)


@njit(**INLINED)
def add_row(rows, i, scale, k, wide):
    """Row k += scale times row i."""
    lanes = no_lanes()
    for c in range(wide):
        at = k * wide + c
        store(rows, at, load(rows, at, lanes) + scale * load(rows, i * wide + c, lanes))


@njit(**INLINED)
def lend_rows(septum, TY, sign, wide):
    """The septum's shift between the tangents of the two cavities."""
    if septum.size > 0:
        add_row(TY, septum[2], -sign, septum[0], wide)
        add_row(TY, septum[2], sign, septum[1], wide)


@njit(**INLINED)
def pressure_tangents(
    parts, septum, sac, row, slope, partials, TY, dtheta, params, drifts, wide, TP, shared, like
):
    """Tangents of all pressures from those of the state."""
    lend_rows(septum, TY, 1.0, wide)
    for i in range(parts.shape[0]):
        s, n = parts[i, SLOT], drifts[i]
        rise(load(slope, i, like), TY, i, wide, partials, dtheta, s, n, params, TP, i, like)
    lend_rows(septum, TY, -1.0, wide)
    if sac.size > 0:
        lanes = no_lanes()
        for c in range(wide):
            total = spread(0.0, lanes)
            for j in range(1, sac.size):
                total = total + load(TY, sac[j] * wide + c, lanes)
            store(shared, c, total)
        stiff = load(slope, parts.shape[0], like)
        n = drifts[drifts.size - 1]
        rise(stiff, shared, 0, wide, partials, dtheta, sac[0], n, params, shared, 1, like)
        for j in range(1, sac.size):
            for c in range(wide):
                at = sac[j] * wide + c
                store(TP, at, load(TP, at, lanes) + load(shared, wide + c, lanes))
    for i in range(parts.shape[0]):
        if parts[i, LAW] == squeezed.CODE:
            add_row(TP, parts[i, BY], load(row, parts[i, SLOT] + 1, like), i, wide)


@njit(**INLINED)
def flow_tangents(
    edges, slope, by_state, partials, TY, TP, dtheta, params, drifts, parts, wide, TQ, TD, weight,
    Tseen, Q, kept, like,
):  # fmt: skip
    """Tangents of all flows into those of the state's rate, and of what regulation sees."""
    lanes = no_lanes()
    first = wide - params
    for e in range(edges.shape[0]):
        if edges[e, LAW] == CLOSED:
            continue
        a, b, k, j = edges[e, START] * wide, edges[e, END] * wide, edges[e, STATE], edges[e, AS]
        g = load(slope, e, like)
        for c in range(wide):
            store(TQ, c, g * (load(TP, a + c, lanes) - load(TP, b + c, lanes)))
        s, n = edges[e, SLOT], drifts[parts + e]
        for c in range(params if n > 0 else 0):
            more = drift(partials, dtheta, s, n, c, params, like)
            store(TQ, first + c, load(TQ, first + c, lanes) + more)
        if k >= 0:
            own = load(by_state, e, like)
            for c in range(wide):
                q = load(TY, k * wide + c, lanes)
                store(TD, k * wide + c, load(TQ, c, lanes) + own * q)
                store(TQ, c, q)
        for c in range(wide):
            q = load(TQ, c, lanes)
            store(TD, a + c, load(TD, a + c, lanes) - q)
            store(TD, b + c, load(TD, b + c, lanes) + q)
        if j >= 0:
            for c in range(wide):
                at = j * wide + c
                store(Tseen, at, load(Tseen, at, lanes) + weight * load(TQ, c, lanes))
        if kept is not None:
            Tboth = kept[2]
            ahead = above(load(Q, e, like), 0.0, weight, 0.0)
            for c in range(wide):
                q, at = load(TQ, c, lanes), 2 * e * wide + c
                store(Tboth, at, load(Tboth, at, lanes) + ahead * q)
                at += wide
                store(Tboth, at, load(Tboth, at, lanes) + (ahead - weight) * q)


@njit(**INLINED)
def septum_tangents(
    septum, e, slope, by_state, partials, TY, TP, dtheta, params, slots, wide, TD, like
):
    """Tangents of the septum's shift, whose slopes lie at place e."""
    lanes = no_lanes()
    if septum.size > 0:
        a, b, k = septum[0] * wide, septum[1] * wide, septum[2] * wide
        g, own = load(slope, e, like), load(by_state, e, like)
        for c in range(wide):
            rate = g * (load(TP, a + c, lanes) - load(TP, b + c, lanes)) + own * load(
                TY, k + c, lanes
            )
            if c >= wide - params:
                d = c - wide + params
                rate = rate + drift(partials, dtheta, septum[3], slots, d, params, like)
            store(TD, k + c, rate)


@njit(**INLINED)
def see_tangents(watch, TP, weight, wide, Tseen):
    """Adds one stage to the tangents of the pressures that regulation watches."""
    lanes = no_lanes()
    for j in range(2):
        for c in range(wide):
            at = j * wide + c
            store(Tseen, at, load(Tseen, at, lanes) + weight * load(TP, watch[j] * wide + c, lanes))


@njit(**INLINED)
def keep_rows(rows, n, s, wave):
    """Keeps n tangents as those of step s."""
    lanes = no_lanes()
    for k in range(n):
        store(wave, s * n + k, load(rows, k, lanes))


@njit(**INLINED)
def advance_tangents(TX, dX, TD, step, dtheta, params, wide, share, size, TY, like):
    """TY = TX + step TD, and the change of the step itself (``share`` of the period) times dX."""
    lanes = no_lanes()
    for k in range(size * wide):
        store(TY, k, load(TX, k, lanes) + step * load(TD, k, lanes))
    for i in range(size):
        for c in range(params):
            at = i * wide + wide - params + c
            more = share * load(dtheta, c, lanes) * load(dX, i, like)
            store(TY, at, load(TY, at, lanes) + more)


@njit(**INLINED)
def end_step(states, rates, Tstates, Trates, dt, dtheta, params, wide, weight, size, like):
    """State and tangents at the end of a step, from the rates of both stages."""
    lanes, many = no_lanes(), size * wide
    advance(rates, cut(rates, size, size, like), 1.0, size, rates, like)
    advance(Trates, cut(Trates, many, many, lanes), 1.0, many, Trates, lanes)
    advance_tangents(
        Tstates, rates, Trates, WEIGHT * dt, dtheta, params, wide, weight, size, Tstates, like
    )
    advance(states, rates, WEIGHT * dt, size, states, like)


@njit(**LENT)
def slopes_beat(
    net, row, X, size, seen, TX, wide, dtheta, params, drifts, Tseen, pool, Tpool, like, kept
):
    """Carries the state X and its tangents TX through one period, in place.

    ``seen`` and ``Tseen`` take what regulation sees and its tangents. ``drifts`` says how many
    slots of every part and edge, then of septum and sac, ``dtheta`` may change. ``kept`` is None
    or room for the tangents of states and pressures at every step and of the flows both ways.
    """
    parts, edges, septum, sac, watch = net.parts, net.edges, net.septum, net.sac, net.watch
    lanes = no_lanes()
    count, ways = parts.shape[0], edges.shape[0]
    slots = row.size // width(like)
    row, X, seen = cut(row, 0, slots, like), cut(X, 0, size, like), cut(seen, 0, SEEN, like)
    TX, Tseen = cut(TX, 0, size * wide, lanes), cut(Tseen, 0, SEEN * wide, lanes)
    dtheta = cut(dtheta, 0, slots * params, lanes)
    P, Q = cut(pool, 0, count, like), cut(pool, count, ways, like)
    free = count + ways
    both = 2 * size
    states, rates = cut(pool, free, both, like), cut(pool, free + both, both, like)
    Y, Z, dY = cut(states, 0, size, like), cut(states, size, size, like), cut(rates, 0, size, like)
    free += 2 * both
    slope_P, slope_Q = cut(pool, free, count + 1, like), cut(pool, free + count + 1, ways + 1, like)
    free += count + ways + 2
    by_state, partials = cut(pool, free, ways + 1, like), cut(pool, free + ways + 1, slots, like)
    many = size * wide
    Tstates, Trates = cut(Tpool, 0, 2 * many, lanes), cut(Tpool, 2 * many, 2 * many, lanes)
    TY, TZ = cut(Tstates, 0, many, lanes), cut(Tstates, many, many, lanes)
    TdY, free = cut(Trates, 0, many, lanes), 4 * many
    TP, TQ = cut(Tpool, free, count * wide, lanes), cut(Tpool, free + count * wide, wide, lanes)
    shared = cut(Tpool, free + (count + 1) * wide, 2 * wide, lanes)
    steps = net.act.shape[1] - 1
    stages, dt = min(STAGES, STAGES * steps), load(row, 0, like) * (1.0 / steps)
    weight = WEIGHT / steps
    clear(seen, SEEN, like)
    clear(Tseen, SEEN * wide, lanes)
    advance(X, X, 0.0, size, Y, like)
    advance(TX, TX, 0.0, many, TY, lanes)
    for s in range(steps):
        for m in range(stages):
            at, rate = cut(states, m * size, size, like), cut(rates, m * size, size, like)
            Tat, Trate = cut(Tstates, m * many, many, lanes), cut(Trates, m * many, many, lanes)
            pressures(net, row, at, s + m, P, slope_P, partials, like)
            flows(net, count, row, at, P, Q, rate, slope_Q, by_state, partials, like)
            see(net, P, Q, weight, seen, like)
            pressure_tangents(
                parts, septum, sac, row, slope_P, partials, Tat, dtheta, params, drifts, wide, TP,
                shared, like,
            )  # fmt: skip
            clear(Trate, many, lanes)
            flow_tangents(
                edges, slope_Q, by_state, partials, Tat, TP, dtheta, params, drifts, count, wide,
                TQ, Trate, weight, Tseen, Q, kept, like,
            )  # fmt: skip
            septum_tangents(
                septum, ways, slope_Q, by_state, partials, Tat, TP, dtheta, params,
                drifts[count + ways], wide, Trate, like,
            )  # fmt: skip
            see_tangents(watch, TP, weight, wide, Tseen)
            if kept is not None and m == 0:
                keep_rows(TY, many, s, kept[0])
                keep_rows(TP, count * wide, s, kept[1])
            if m == 0:
                advance_tangents(TY, dY, TdY, dt, dtheta, params, wide, 1.0 / steps, size, TZ, like)
                advance(Y, dY, dt, size, Z, like)
        end_step(states, rates, Tstates, Trates, dt, dtheta, params, wide, weight, size, like)
    advance(Y, Y, 0.0, size, X, like)
    advance(TY, TY, 0.0, many, TX, lanes)
