"""A septum that shifts: the left cavity lends the right one a volume z.

Each free wall then bears its cavity as if it held V_left - z and V_right + z; z follows
η dz/dt = P_left - P_right - E_s z, where η is small enough to follow within a few ms. Slots:
``E_s`` (mmHg/mL), ``Y`` = 1/η (mL/(mmHg s)). Source: the shared septum of smith2004, there without
η.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from numba import njit

from inseries.circuit.kernels.lanes import INLINED, load

if TYPE_CHECKING:
    from inseries.circuit.kernels.layout import Leaf

SLOTS = ("E_s", "Y")


def slots(E_s: Leaf, eta: Leaf) -> tuple[Leaf, Leaf]:
    """Slots from elastance (mmHg/mL) and viscosity (mmHg s/mL)."""
    return E_s, 1.0 / eta


@njit(**INLINED)
def rate(dP, z, E_s, Y):
    """Rate of the shift (mL/s); ``(r, dr/dΔP, dr/dz, dr/dE_s, dr/dY)``."""
    net = dP - E_s * z
    return net * Y, Y, -E_s * Y, -z * Y, net


@njit(**INLINED)
def at(dP, z, row, s, like):
    """The same with its slots from place s of a row."""
    return rate(dP, z, load(row, s, like), load(row, s + 1, like))
