"""A vessel: P = V/C, where V is the volume that stretches it.

Slots: ``K`` = 1/C (mmHg/mL). Source: the elastic chamber of frank1899.
"""

from __future__ import annotations

from numba import njit

from inseries.circuit.kernels.lanes import INLINED, load

# derived: number of this law in a network
CODE = 0
SLOTS = ("K",)


def slots(C):
    """Slots from the compliance C (mL/mmHg)."""
    return (1.0 / C,)


@njit(**INLINED)
def pressure(V, K):
    """Pressure (mmHg) of a vessel; ``(P, dP/dV, dP/dK)``."""
    return V * K, K, V


@njit(**INLINED)
def at(V, row, s, like):
    """The same with its slots from place s of a row."""
    return pressure(V, load(row, s, like))
