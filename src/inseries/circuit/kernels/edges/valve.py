"""A valve: ΔP = R Q + B Q² forwards, nothing backwards.

Slots as those of an orifice: ``R`` (mmHg s/mL), ``B`` (mmHg s²/mL²), ``H`` = 1/(2B). Source:
Bernoulli's ΔP = 4v² as used in hatle1978.
"""

from __future__ import annotations

from numba import njit

from inseries.circuit.kernels.edges.orifice import one_way
from inseries.circuit.kernels.lanes import INLINED, above, load

# derived: number of this law in a network
CODE = 2
SLOTS = ("R", "B", "H")


def slots(R, B):
    """Slots from resistance R and loss B."""
    return R, B, 0.5 / B


@njit(**INLINED)
def flow(dP, R, B, H):
    """Flow (mL/s); ``(Q, dQ/dΔP, dQ/dR, dQ/dB, 0)``."""
    Q, D = one_way(above(dP, 0.0, dP, 0.0), R, B, H)
    slope = above(dP, 0.0, 1.0 / D, 0.0)
    return Q, slope, -Q * slope, -Q * Q * slope, 0.0 * Q


@njit(**INLINED)
def at(dP, row, s, like):
    """The same with its slots from place s of a row."""
    return flow(dP, load(row, s, like), load(row, s + 1, like), load(row, s + 2, like))
