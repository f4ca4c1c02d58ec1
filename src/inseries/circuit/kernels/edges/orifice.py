"""A narrow place, both ways: ΔP = R Q + B Q|Q|.

Solved as |Q| = (√(R² + 4B|ΔP|) - R) H with H = 1/(2B). Slots: ``R`` (mmHg s/mL), ``B``
(mmHg s²/mL²), ``H``. Source: Bernoulli's ΔP = 4v² as used in hatle1978.
"""

from __future__ import annotations

from numba import njit

from inseries.circuit.kernels.lanes import INLINED, above, load, root

# derived: number of this law in a network
CODE = 1
SLOTS = ("R", "B", "H")


def slots(R, B):
    """Slots from resistance R and loss B."""
    return R, B, 0.5 / B


@njit(**INLINED)
def one_way(size, R, B, H):
    """Flow for a drop that is not negative, and √(R² + 4B ΔP)."""
    D = root(R * R + 4.0 * B * size)
    return (D - R) * H, D


@njit(**INLINED)
def flow(dP, R, B, H):
    """Flow (mL/s); ``(Q, dQ/dΔP, dQ/dR, dQ/dB, 0)``: H follows B and has no life of its own."""
    size = above(dP, 0.0, dP, -dP)
    q, D = one_way(size, R, B, H)
    slope = 1.0 / D
    Q = above(dP, 0.0, q, -q)
    return Q, slope, -Q * slope, -Q * q * slope, 0.0 * Q


@njit(**INLINED)
def at(dP, row, s, like):
    """The same with its slots from place s of a row."""
    return flow(dP, load(row, s, like), load(row, s + 1, like), load(row, s + 2, like))
