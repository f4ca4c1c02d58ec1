"""A valve whose two resistances are blended about no drop: Q = G_f ΔP exp(-N H).

H = 1/2 - atan(k ΔP)/π goes from 1 (shut) to 0 (open), N = ln(R_b/R_f).

Slots: ``G_f`` (mL/s/mmHg), ``N``, ``k`` (1/mmHg). Source: circulation2026, which writes the diodes
of regazzoni2022 so, with k = 100 π.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit

from inseries.circuit.kernels.elementary import arctangent, exponential
from inseries.circuit.kernels.lanes import INLINED, load

# derived: number of this law in a network
CODE = 7
SLOTS = ("G_f", "N", "k")


# derived: powers of body surface with which the numbers below grow
GROWS = {"R_f": -1.0, "R_b": -1.0, "k": 0.0}


def slots(R_f, R_b, k):
    """Slots from the resistances forwards and backwards (mmHg s/mL) and the steepness."""
    return 1.0 / R_f, np.log(R_b / R_f), k


@njit(**INLINED)
def flow(dP, G_f, N, k):
    """Flow (mL/s); ``(Q, dQ/dΔP, dQ/dG_f, dQ/dN, dQ/dk)``."""
    steep = k * dP
    H = 0.5 - arctangent(steep) * (1.0 / math.pi)
    open_share = exponential(-N * H)
    driven = dP * open_share
    Q = G_f * driven
    bend = Q * N * (1.0 / math.pi) / (1.0 + steep * steep)
    return Q, G_f * open_share + bend * k, driven, -H * Q, bend * dP


@njit(**INLINED)
def at(dP, row, s, like):
    """The same with its slots from place s of a row."""
    return flow(dP, load(row, s, like), load(row, s + 1, like), load(row, s + 2, like))
