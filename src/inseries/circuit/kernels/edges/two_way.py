"""A way that is easy forwards and hard backwards: Q = ΔP G_f or ΔP G_b.

Slots: ``G_f``, ``G_b`` (mL/s/mmHg). Source: the diodes with which regazzoni2022 writes valves.
"""

from __future__ import annotations

from numba import njit

from inseries.circuit.kernels.lanes import INLINED, above, load

# derived: number of this law in a network
CODE = 5
SLOTS = ("G_f", "G_b")


# derived: powers of body surface with which the numbers below grow
GROWS = {"R_f": -1.0, "R_b": -1.0}


def slots(R_f, R_b):
    """Slots from the resistances forwards and backwards (mmHg s/mL)."""
    return 1.0 / R_f, 1.0 / R_b


@njit(**INLINED)
def flow(dP, G_f, G_b):
    """Flow (mL/s); ``(Q, dQ/dΔP, dQ/dG_f, dQ/dG_b)``."""
    G = above(dP, 0.0, G_f, G_b)
    return dP * G, G, above(dP, 0.0, dP, 0.0), above(dP, 0.0, 0.0, dP)


@njit(**INLINED)
def at(dP, row, s, like):
    """The same with its slots from place s of a row."""
    return flow(dP, load(row, s, like), load(row, s + 1, like))
