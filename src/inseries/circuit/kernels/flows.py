"""Flow of every edge at given pressures, and the state's rate: one line of dispatch a law."""

from __future__ import annotations

from numba import njit

from inseries.circuit.kernels.between import septum as wall
from inseries.circuit.kernels.edges import (
    blended,
    column,
    leaky_valve,
    linear,
    orifice,
    pump,
    two_way,
    valve,
)
from inseries.circuit.kernels.lanes import INLINED, load, spread, store
from inseries.circuit.kernels.layout import CLOSED, END, LAW, SLOT, START, STATE
from inseries.circuit.kernels.pressures import keep


@njit(**INLINED)
def keep_rate(found, e, place, s, dX, slope, by_state, partials):
    """Stores the rate of a state of its own, and its slopes where there is room for them."""
    store(dX, place, found[0])
    if slope is not None:
        store(slope, e, found[1])
        store(by_state, e, found[2])
        for j in range(len(found) - 3):
            store(partials, s + j, found[3 + j])


@njit(**INLINED)
def flows(net, parts, row, X, P, Q, dX, slope, by_state, partials, like):  # noqa: C901 - a branch a law
    """Flow of every edge and rate of change of the state; with room also slopes and partials."""
    edges, septum, none = net.edges, net.septum, spread(0.0, like)
    for i in range(parts):
        store(dX, i, none)
    for e in range(edges.shape[0]):
        law, s, a, b = edges[e, LAW], edges[e, SLOT], edges[e, START], edges[e, END]
        if law == CLOSED:
            store(Q, e, none)
            continue
        dP = load(P, a, like) - load(P, b, like)
        if law == linear.CODE:
            keep(linear.at(dP, row, s, like), e, s, Q, slope, partials)
        elif law == valve.CODE:
            keep(valve.at(dP, row, s, like), e, s, Q, slope, partials)
        elif law == orifice.CODE:
            keep(orifice.at(dP, row, s, like), e, s, Q, slope, partials)
        elif law == leaky_valve.CODE:
            keep(leaky_valve.at(dP, row, s, like), e, s, Q, slope, partials)
        elif law == two_way.CODE:
            keep(two_way.at(dP, row, s, like), e, s, Q, slope, partials)
        elif law == blended.CODE:
            keep(blended.at(dP, row, s, like), e, s, Q, slope, partials)
        elif law == pump.CODE:
            keep(pump.at(dP, row, s, like), e, s, Q, slope, partials)
        elif law == column.CODE:
            q = load(X, edges[e, STATE], like)
            store(Q, e, q)
            found = column.at(dP, q, row, s, like)
            keep_rate(found, e, edges[e, STATE], s, dX, slope, by_state, partials)
        q = load(Q, e, like)
        store(dX, a, load(dX, a, like) - q)
        store(dX, b, load(dX, b, like) + q)
    if septum.size > 0:
        dP = load(P, septum[0], like) - load(P, septum[1], like)
        found = wall.at(dP, load(X, septum[2], like), row, septum[3], like)
        keep_rate(found, edges.shape[0], septum[2], septum[3], dX, slope, by_state, partials)
