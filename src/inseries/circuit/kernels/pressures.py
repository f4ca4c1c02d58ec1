"""Pressure of every part at a state: one line of dispatch a law."""

from __future__ import annotations

from numba import njit

from inseries.circuit.kernels.between import pericardium
from inseries.circuit.kernels.lanes import INLINED, load, spread, store
from inseries.circuit.kernels.layout import ACTIVE, BY, LAW, SLOT
from inseries.circuit.kernels.parts import elastance, fibre, squeezed, vessel


@njit(**INLINED)
def keep(found, i, s, values, slope, partials):
    """Stores what a law found; slope and partials only where there is room for them."""
    store(values, i, found[0])
    if slope is not None:
        store(slope, i, found[1])
        for j in range(len(found) - 2):
            store(partials, s + j, found[2 + j])


@njit(**INLINED)
def lend(septum, X, sign, like):
    """Takes the septum's shift from the left cavity and gives it to the right; -1 takes it back."""
    if septum.size > 0:
        z = sign * load(X, septum[2], like)
        store(X, septum[0], load(X, septum[0], like) - z)
        store(X, septum[1], load(X, septum[1], like) + z)


@njit(**INLINED)
def pressures(net, row, X, h, P, slope, partials, like):
    """Pressure of every part at step h; with room (else None) its slope and partials."""
    parts, septum, sac, act = net.parts, net.septum, net.sac, net.act
    lend(septum, X, 1.0, like)
    for i in range(parts.shape[0]):
        law, s, e = parts[i, LAW], parts[i, SLOT], act[parts[i, ACTIVE], h]
        V = load(X, i, like)
        if law == vessel.CODE:
            keep(vessel.at(V, row, s, like), i, s, P, slope, partials)
        elif law == elastance.CODE:
            keep(elastance.at(V, e, row, s, like), i, s, P, slope, partials)
        elif law == fibre.CODE:
            keep(fibre.at(V, e, row, s, like), i, s, P, slope, partials)
    lend(septum, X, -1.0, like)
    if sac.size > 0:
        embrace(sac, parts.shape[0], row, X, P, slope, partials, like)
    for i in net.squeezed:
        V, P_by, s = load(X, i, like), load(P, parts[i, BY], like), parts[i, SLOT]
        keep(squeezed.at(V, P_by, row, s, like), i, s, P, slope, partials)


@njit(**INLINED)
def embrace(sac, parts, row, X, P, slope, partials, like):
    """Adds the pressure of the sac to the chambers inside; its slope goes behind the parts'."""
    total = spread(0.0, like)
    for j in range(1, sac.size):
        total = total + load(X, sac[j], like)
    found = pericardium.at(total, row, sac[0], like)
    for j in range(1, sac.size):
        i = sac[j]
        store(P, i, load(P, i, like) + found[0])
    if slope is not None:
        store(slope, parts, found[1])
        for j in range(3):
            store(partials, sac[0] + j, found[2 + j])
