"""A column of blood that has weight: dQ/dt = (ΔP - R Q - B Q|Q|)/L. Its flow is a state.

Slots: ``R`` (mmHg s/mL), ``B`` (mmHg s²/mL²), ``M`` = 1/L (mL/(mmHg s²)). Source: Newton's second
law for a plug of blood, as in westerhof2009.
"""

from __future__ import annotations

from numba import njit

from inseries.circuit.kernels.lanes import INLINED, above, load

# derived: number of this law in a network
CODE = 4
SLOTS = ("R", "B", "M")
STATE = True


def slots(R, B, L):
    """Slots from resistance R, loss B and inertance L (mmHg s²/mL)."""
    return R, B, 1.0 / L


@njit(**INLINED)
def rate(dP, Q, R, B, M):
    """Rate of the flow (mL/s²); ``(r, dr/dΔP, dr/dQ, dr/dR, dr/dB, dr/dM)``."""
    size = above(Q, 0.0, Q, -Q)
    net = dP - R * Q - B * Q * size
    return net * M, M, -(R + 2.0 * B * size) * M, -Q * M, -Q * size * M, net


@njit(**INLINED)
def at(dP, Q, row, s, like):
    """The same with its slots from place s of a row."""
    return rate(dP, Q, load(row, s, like), load(row, s + 1, like), load(row, s + 2, like))
