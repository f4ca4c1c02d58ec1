"""A chamber of varying elastance: P = (E_min + (E_max - E_min) e)(V - V_u).

Slots: ``E_min``, ``E_max`` (mmHg/mL), ``V_u`` (mL); e is its activation, 0 to 1. Source: suga1973.
"""

from __future__ import annotations

from numba import njit

from inseries.circuit.kernels.lanes import INLINED, load

# derived: number of this law in a network
CODE = 1
SLOTS = ("E_min", "E_max", "V_u")


def slots(E_min, E_max, V_u):
    """Slots from the numbers of the same names."""
    return E_min, E_max, V_u


@njit(**INLINED)
def pressure(V, e, E_min, E_max, V_u):
    """Pressure (mmHg); ``(P, dP/dV, dP/dE_min, dP/dE_max, dP/dV_u)``."""
    E = E_min + (E_max - E_min) * e
    above = V - V_u
    return E * above, E, (1.0 - e) * above, e * above, -E


@njit(**INLINED)
def at(V, e, row, s, like):
    """The same with its slots from place s of a row."""
    return pressure(V, e, load(row, s, like), load(row, s + 1, like), load(row, s + 2, like))
