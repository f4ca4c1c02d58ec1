"""A valve that leaks: forwards as a valve, backwards through an opening of its own.

ΔP = R Q + B Q² forwards, ΔP = R Q - B_r Q² backwards. Slots: ``R`` (mmHg s/mL), ``B``, ``B_r``
(mmHg s²/mL²), ``H`` = 1/(2B), ``H_r`` = 1/(2 B_r). Source: the regurgitant opening of
zoghbi2017, Bernoulli's ΔP = 4v² through it.
"""

from __future__ import annotations

from numba import njit

from inseries.circuit.kernels.edges.orifice import one_way
from inseries.circuit.kernels.lanes import INLINED, above, load

# derived: number of this law in a network
CODE = 3
SLOTS = ("R", "B", "B_r", "H", "H_r")


def slots(R, B, B_r):
    """Slots from resistance R and the losses forwards and backwards."""
    return R, B, B_r, 0.5 / B, 0.5 / B_r


@njit(**INLINED)
def flow(dP, R, B, B_r, H, H_r):
    """Flow (mL/s); ``(Q, dQ/dΔP, dQ/dR, dQ/dB, dQ/dB_r, 0, 0)``."""
    size = above(dP, 0.0, dP, -dP)
    q, D = one_way(size, R, above(dP, 0.0, B, B_r), above(dP, 0.0, H, H_r))
    slope = 1.0 / D
    Q = above(dP, 0.0, q, -q)
    by_B = -Q * q * slope
    no = 0.0 * Q
    return Q, slope, -Q * slope, above(dP, 0.0, by_B, no), above(dP, 0.0, no, by_B), no, no


@njit(**INLINED)
def at(dP, row, s, like):
    """The same with its slots from place s of a row."""
    return flow(
        dP,
        load(row, s, like),
        load(row, s + 1, like),
        load(row, s + 2, like),
        load(row, s + 3, like),
        load(row, s + 4, like),
    )
