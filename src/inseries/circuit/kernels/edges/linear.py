"""A bed: Q = ΔP/R.

Slots: ``G`` = 1/R (mL/s/mmHg). Source: poiseuille1846 in kind.
"""

from __future__ import annotations

from numba import njit

from inseries.circuit.kernels.lanes import INLINED, load

# derived: number of this law in a network
CODE = 0
SLOTS = ("G",)


def slots(R):
    """Slots from the resistance R (mmHg s/mL)."""
    return (1.0 / R,)


@njit(**INLINED)
def flow(dP, G):
    """Flow (mL/s); ``(Q, dQ/dΔP, dQ/dG)``."""
    return dP * G, G, dP


@njit(**INLINED)
def at(dP, row, s, like):
    """The same with its slots from place s of a row."""
    return flow(dP, load(row, s, like))
