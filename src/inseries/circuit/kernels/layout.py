"""How arrays are laid out for the kernels, and what they work in.

State X of a member: the volume V of every part, then the flow Q of every edge with inertance.
Row ``theta`` of a member: period, edge resistances R, quadratic losses B, inertances L, then
``SLOTS`` numbers a part (vessel: 1/C; atrium: E_min, E_max, V_u; ventricle: V_w, V_0, S, s_0, k).
Unknowns y of the search: X without the last volume, then the total volume, then ln of the
resistance factor.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

# derived: numbers a part takes in theta (five of a ventricle)
SLOTS = 5
# derived: numbers an edge takes in theta (R, B, L)
EDGE_SLOTS = 3
# derived: read-outs of a part: P mean, max, min; V max, min; σ mean, max; λ max, min
PART_READOUTS = 9
# derived: kinds of part as the network lays them out
VESSEL, ATRIUM, VENTRICLE = 0, 1, 2
# derived: columns of the regulation row
(REGULATED, PRESSURE, LOW_R, HIGH_R, FLOW, FILLING, LOW_V, HIGH_V) = range(8)
# derived: status values, named in ``circuit.status``
SETTLED, NOT_PERIODIC, NOT_FINITE = 0, 1, 2


class Network(NamedTuple):
    """What all members share: topology, and activation at every half step of the beat."""

    kind: Ints
    start: Ints
    end: Ints
    valve: Ints
    inertial: Ints  # place of an edge among the inertial flows, -1 where it has no inertance
    system: Ints  # edges whose resistance regulation changes
    watch: Ints  # parts whose mean pressure regulation holds, and fills up to
    act_v: Floats
    act_a: Floats


class Work(NamedTuple):
    """Scratch and read-outs of one member; ``wave`` with rows takes every step of the beat."""

    row: Floats  # theta as regulated
    X: Floats
    part: Floats
    edge: Floats
    wave: Floats


class Search(NamedTuple):
    """Scratch of the search for an orbit."""

    g: Floats  # y after a beat
    g2: Floats
    trial: Floats
    step: Floats
    change: Floats
    A: Floats


class Limits(NamedTuple):
    """When the search stops: tolerance (mL), beats at most, plain beats at first."""

    tolerance: float
    most_beats: int
    warm_beats: int


@njit(cache=True, nogil=True)
def state_size(net: Network) -> int:
    """Volumes and inertial flows."""
    size = net.kind.size
    for e in range(net.start.size):
        if net.inertial[e] >= 0:
            size += 1
    return size


@njit(cache=True, nogil=True)
def new_work(net: Network, wave_rows: int) -> Work:
    """Room to work in for members of a network; ``wave_rows`` is 0 or the steps of a beat."""
    parts = net.kind.size
    edges = net.start.size
    return Work(
        np.empty(1 + EDGE_SLOTS * edges + SLOTS * parts),
        np.empty(state_size(net)),
        np.empty((parts, PART_READOUTS)),
        np.empty((edges, 2)),
        np.empty((wave_rows, 2 * parts + edges)),
    )


@njit(cache=True, nogil=True)
def new_search(n: int) -> Search:
    """Room for a search with n unknowns."""
    return Search(np.empty(n), np.empty(n), np.empty(n), np.empty(n), np.empty(n), np.empty((n, n)))
