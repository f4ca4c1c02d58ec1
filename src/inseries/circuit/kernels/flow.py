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
