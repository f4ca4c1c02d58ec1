"""One member alone, for whoever asks from outside: an instant, a beat from a given state."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numba import njit

from inseries.circuit.kernels.beat import beat
from inseries.circuit.kernels.beats import rise_team, seat_team, seed_team, slopes_of_team
from inseries.circuit.kernels.flows import flows
from inseries.circuit.kernels.lanes import COMPILED, cut, number_like, width
from inseries.circuit.kernels.layout import SEEN, groups
from inseries.circuit.kernels.pressures import pressures
from inseries.circuit.kernels.slopes import slopes_beat

if TYPE_CHECKING:
    from inseries.circuit.kernels.beats import Crew
    from inseries.circuit.kernels.layout import Floats, Network


@njit(**COMPILED)
def instant(net: Network, row: Floats, X: Floats, P: Floats, Q: Floats, dX: Floats) -> None:
    """Pressures, flows and the state's rate at X; ``net.act`` has one column, the moment's."""
    count, ways, size = net.parts.shape[0], net.edges.shape[0], X.size
    row, X = cut(row, 0, row.size, 0.0), cut(X, 0, size, 0.0)
    P, Q, dX = cut(P, 0, count, 0.0), cut(Q, 0, ways, 0.0), cut(dX, 0, size, 0.0)
    pressures(net, row, X, 0, P, None, None, 0.0)
    flows(net, count, row, X, P, Q, dX, None, None, None, 0.0)


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
    """Carries the state X through one period, in place, and keeps every step; as ``beat``."""
    beat(net, row, X, X.size, np.empty(SEEN), pool, 0.0, (wave_X, wave_P, both), wave_Q)


@njit(**COMPILED)
def beat_with_slopes(
    net: Network,
    theta: Floats,
    y: Floats,
    reg: Floats,
    crew: Crew,
    params: int,
    abreast: int | None,
    kept: tuple[Floats, Floats, Floats] | None,
) -> None:
    """One beat of a team with its tangents: ``g`` and ``J`` of the crew, its TX and Tseen.

    ``params`` columns change numbers of theta; those beyond tone and own resistance are the
    caller's, who says in ``crew.given`` how. ``kept`` as for ``slopes_beat``.
    """
    like = number_like(abreast)
    size, numbers = crew.X.size // width(like), groups(params, like)
    wide, count = groups(size - 1, like) + numbers, y.shape[0]
    seat_team(net, theta, y, reg, crew, count, like)
    seed_team(net, y, reg, crew, params, like)
    for k in range(crew.given.size):
        crew.dtheta[k] += crew.given[k]
    slopes_beat(
        net, crew.row, crew.X, size, crew.seen, crew.TX, wide, crew.dtheta, numbers, crew.drifts,
        crew.Tseen, crew.pool, crew.Tpool, like, kept,
    )  # fmt: skip
    rise_team(net, y, reg, crew, count, like)
    slopes_of_team(net, y, reg, crew, params, count, like)
