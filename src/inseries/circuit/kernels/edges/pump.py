"""A pump in the way: ΔP + P_h = R Q + B Q², nothing backwards; P_h is the head it adds.

Slots: ``R`` (mmHg s/mL), ``B`` (mmHg s²/mL²), ``H`` = 1/(2B), ``P_h`` (mmHg). Source: head
against flow of a centrifugal pump, a parabola in kind.
"""

from __future__ import annotations

from numba import njit

from inseries.circuit.kernels.edges.orifice import one_way
from inseries.circuit.kernels.lanes import INLINED, above, load

# derived: number of this law in a network
CODE = 6
SLOTS = ("R", "B", "H", "P_h")


# derived: powers of body surface with which the numbers below grow
GROWS = {"R": -1.0, "B": -2.0, "P_h": 0.0}


def slots(R, B, P_h):
    """Slots from resistance R, loss B and head P_h (mmHg)."""
    return R, B, 0.5 / B, P_h


@njit(**INLINED)
def flow(dP, R, B, H, P_h):
    """Flow (mL/s); ``(Q, dQ/dΔP, dQ/dR, dQ/dB, 0, dQ/dP_h)``."""
    driven = dP + P_h
    Q, D = one_way(above(driven, 0.0, driven, 0.0), R, B, H)
    slope = above(driven, 0.0, 1.0 / D, 0.0)
    return Q, slope, -Q * slope, -Q * Q * slope, 0.0 * Q, slope


@njit(**INLINED)
def at(dP, row, s, like):
    """The same with its slots from place s of a row."""
    return flow(
        dP,
        load(row, s, like),
        load(row, s + 1, like),
        load(row, s + 2, like),
        load(row, s + 3, like),
    )
