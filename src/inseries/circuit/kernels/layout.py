"""How arrays are laid out for the kernels, and what they work in.

State X of a member: the volume V of every part, then the flow of every edge with inertance, then
the shift of the septum. Row ``theta`` of a member: the period, then the slots of every part and
edge in the order of their laws, then those of septum and pericardium. Unknowns y of the search: X
without the last volume, then the total volume, the tone and, where there is one, ln of the
coronary resistance factor. Arrays of numbers are flat; a number is one float or ``WIDTH`` of them.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

from inseries.circuit.kernels.lanes import COMPILED, INLINED, WIDTH, spread, store, width

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Leaf = float | Floats

# derived: read-outs of a part: P mean, max, min; V max, min; σ mean, max; λ max, min
PART_READOUTS = 9
# derived: a closed edge carries nothing; its law has no slots
CLOSED = -1
# derived: columns of the regulation row
(
    REGULATED, PRESSURE, LOW_TONE, HIGH_TONE, FLOW, FILLING, LOW_V, HIGH_V,
    GAIN, ON_RESISTANCE, ON_RATE, ON_STRENGTH, ON_VOLUME, OWN_FLOW, LOW_OWN, HIGH_OWN,
) = range(16)  # fmt: skip
REGULATION = 16
# derived: status values, named in ``circuit.status``
SETTLED, NOT_PERIODIC, NOT_FINITE = 0, 1, 2


# derived: columns of a part's row in a network: its law, its first slot, how many it has, its row
# of activation, who squeezes it (-1 for nobody)
LAW, SLOT, SLOTS, ACTIVE, BY = range(5)
# derived: columns of an edge's row: the same three, where from, where to, place of its own state
# (-1 for none), and as what the search sees its flow (-1 for nothing)
START, END, STATE, AS = range(3, 7)
# derived: what the search sees: pressure held, pressure filled to, flow of the body's beds, flow of
# the bed with a resistance of its own
BODY_FLOW, BED_FLOW, SEEN = 2, 3, 4


# derived: beyond any distance, pressure, volume or stress
FARTHEST = 1e300


class Network(NamedTuple):
    """What all members share: topology, and activation at every step of the beat."""

    parts: Ints  # shape (parts, 5)
    edges: Ints  # shape (edges, 7)
    squeezed: Ints  # parts in the wall of another
    counted: Ints  # edges whose mean flow the search sees
    watch: Ints  # parts whose mean pressure regulation holds, and fills up to
    fibres: Ints  # slots of the active stress of every ventricle of fibres
    septum: Ints  # left part, right part, place in X, first slot; or none
    sac: Ints  # first slot, then the parts inside; or none
    act: Floats  # shape (courses, steps + 1)


class Limits(NamedTuple):
    """When the search stops: tolerance (mL), beats at most, plain beats at first."""

    tolerance: float
    most_beats: int
    warm_beats: int


@njit(**INLINED)
def clear(values, n, like):
    """Sets n numbers to zero."""
    for i in range(n):
        store(values, i, spread(0.0, like))


@njit(**COMPILED)
def groups(columns, like):
    """How many lanes hold so many tangent columns of a number like this."""
    return (columns + WIDTH - 1) // WIDTH if width(like) == 1 else columns


@njit(**COMPILED)
def spot(i, c, lane, per_row, like):
    """Place of column c of row i for a member in the flat array of tangents."""
    if width(like) == 1:
        return (i * per_row + c // WIDTH) * WIDTH + c % WIDTH
    return (i * per_row + c) * WIDTH + lane
