"""Flow through one edge."""

from __future__ import annotations

import math

from numba import njit


@njit(cache=True, nogil=True)
def edge_flow(dP: float, R: float, B: float, valve: int) -> float:
    """Flow Q (mL/s) that solves ΔP = R Q + B Q|Q|; none backwards through a valve."""
    if dP <= 0.0 and valve == 1:
        return 0.0
    size = abs(dP)
    Q = 2.0 * size / (R + math.sqrt(R * R + 4.0 * B * size))
    return Q if dP >= 0.0 else -Q


@njit(cache=True, nogil=True)
def inertial_rate(dP: float, Q: float, R: float, B: float, L: float) -> float:
    """Acceleration dQ/dt = (ΔP - R Q - B Q|Q|)/L of a column of blood with inertance L."""
    return (dP - R * Q - B * Q * abs(Q)) / L
