"""A sac around all chambers: each bears P_c = p_0 (exp(n (ΣV/V_c - 1)) - exp(-n)) more.

ΣV is the blood in the chambers inside, V_c the volume at which the sac begins to resist. Slots:
``p_0`` (mmHg), ``n``, ``W`` = 1/V_c (1/mL). Source: freeman1984 in form.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from numba import njit

from inseries.circuit.kernels.elementary import exponential
from inseries.circuit.kernels.lanes import INLINED, load

if TYPE_CHECKING:
    from inseries.circuit.kernels.layout import Leaf

SLOTS = ("p_0", "n", "W")


def slots(p_0: Leaf, n: Leaf, V_c: Leaf) -> tuple[Leaf, Leaf, Leaf]:
    """Slots from pressure, exponent and volume V_c (mL)."""
    return p_0, n, 1.0 / V_c


@njit(**INLINED)
def pressure(total, p_0, n, W):
    """Pressure inside (mmHg); ``(P_c, by total, by p_0, by n, by W)``."""
    x = total * W
    full, empty = exponential(n * (x - 1.0)), exponential(-n)
    by_x = p_0 * n * full
    by_n = p_0 * ((x - 1.0) * full + empty)
    return p_0 * (full - empty), by_x * W, full - empty, by_n, by_x * total


@njit(**INLINED)
def at(total, row, s, like):
    """The same with its slots from place s of a row."""
    return pressure(total, load(row, s, like), load(row, s + 1, like), load(row, s + 2, like))
