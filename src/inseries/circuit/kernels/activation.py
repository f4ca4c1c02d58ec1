"""Activation of a chamber over the beat: up by half a cosine, down by another."""

from __future__ import annotations

import math

from numba import njit

from inseries.circuit.kernels.lanes import COMPILED


@njit(**COMPILED)
def activated(share: float, start: float, rise: float, fall: float) -> float:
    """Activation (0 to 1) at a share of the beat; all four are shares of the beat."""
    since = (share - start) % 1.0
    if since < rise:
        return 0.5 * (1.0 - math.cos(math.pi * since / rise))
    if since < rise + fall:
        return 0.5 * (1.0 + math.cos(math.pi * (since - rise) / fall))
    return 0.0
