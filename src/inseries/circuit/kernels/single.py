"""One member alone, for whoever asks from outside: an instant, a beat from a given state."""

from __future__ import annotations

from typing import TYPE_CHECKING

from numba import njit

from inseries.circuit.kernels.flows import flows
from inseries.circuit.kernels.full import full_beat
from inseries.circuit.kernels.lanes import COMPILED, cut
from inseries.circuit.kernels.pressures import pressures

if TYPE_CHECKING:
    from inseries.circuit.kernels.layout import Floats, Network


@njit(**COMPILED)
def instant(net: Network, row: Floats, X: Floats, P: Floats, Q: Floats, dX: Floats) -> None:
    """Pressures, flows and the state's rate at X; ``net.act`` has one column, the moment's."""
    parts, edges, septum, sac, act = net.parts, net.edges, net.septum, net.sac, net.act
    count, ways, size = parts.shape[0], edges.shape[0], X.size
    row, X = cut(row, 0, row.size, 0.0), cut(X, 0, size, 0.0)
    P, Q, dX = cut(P, 0, count, 0.0), cut(Q, 0, ways, 0.0), cut(dX, 0, size, 0.0)
    pressures(parts, septum, sac, act, row, X, 0, P, None, None, 0.0)
    flows(edges, septum, count, row, X, P, Q, dX, None, None, None, 0.0)


@njit(**COMPILED)
def single_beat(
    net: Network,
    row: Floats,
    X: Floats,
    wave_X: Floats,
    wave_P: Floats,
    wave_Q: Floats,
    both: Floats,
    pool: Floats,
) -> None:
    """Carries the state X through one period, in place, and keeps every step; as ``full_beat``."""
    full_beat(net, row, X, X.size, wave_X, wave_P, wave_Q, both, pool, 0.0)
