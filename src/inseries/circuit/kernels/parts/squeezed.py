"""A vessel inside a wall: P = V/C + a P_by, where P_by is the pressure of the chamber it lies in.

Slots: ``K`` = 1/C (mmHg/mL), ``a`` (share of the chamber's pressure). Source: downey1975 (vessels
of the wall bear its pressure), spaan1981 (and pump with it).
"""

from __future__ import annotations

from numba import njit

from inseries.circuit.kernels.lanes import INLINED, load

# derived: number of this law in a network
CODE = 3
SLOTS = ("K", "a")


def slots(C, a):
    """Slots from compliance C (mL/mmHg) and share a."""
    return 1.0 / C, a


@njit(**INLINED)
def pressure(V, P_by, K, a):
    """Pressure (mmHg); ``(P, dP/dV, dP/dK, dP/da)``; a is its slope by the chamber's pressure."""
    return V * K + a * P_by, K, V, P_by


@njit(**INLINED)
def at(V, P_by, row, s, like):
    """The same with its slots from place s of a row."""
    return pressure(V, P_by, load(row, s, like), load(row, s + 1, like))
