"""A circuit as arrays for the kernels, and the activation of its chambers over a beat."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from inseries.base.errors import CircuitError
from inseries.circuit.bounds import largest, refuse_unfit
from inseries.circuit.compiled import (
    BED_FLOW,
    BODY_FLOW,
    CLOSED,
    EDGE_LAWS,
    PART_LAWS,
    Network,
    activated,
    layout,
    pericardium,
    septum,
)
from inseries.circuit.network import (
    Activation,
    Atrium,
    Circuit,
    Edge,
    Floats,
    Leaf,
    Part,
    SqueezedVessel,
    Ventricle,
    Vessel,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

Ints = NDArray[np.int64]
Slots = tuple[Leaf, ...]

# published: jhaveri2023 takes 1.05 g/mL from wall volume to mass
WALL_DENSITY_G_ML = 1.05
# derived: ΔP = 4 v² with v in m/s and Q in mL/s through an area in cm²
ORIFICE_LOSS = 4e-4
# chosen: a closed place keeps this area, cm²; it leaks less than 0.001 mL/s at 60 mmHg
CLOSED_AREA_CM2 = 1e-6
# derived: an activation row for circuits in which nothing contracts
AT_REST = Activation(0.0, 0.5, 0.5)


@dataclass(frozen=True, slots=True, kw_only=True)
class Flat:
    """Arrays of a circuit with n members.

    Parameters
    ----------
    theta : array, shape (n, slots); layout in ``kernels.layout``
    parts, edges, watch, fibres, septum, sac : integer arrays, shared by all members
    activations : courses of activation, in the order in which parts name them
    volume_ml : array, shape (n,)
    states : volumes, flows with inertance, shift of the septum
    beds : how many beds (0 or 1) regulate themselves
    """

    theta: Floats
    parts: Ints
    edges: Ints
    watch: Ints
    fibres: Ints
    septum: Ints
    sac: Ints
    activations: tuple[Activation, ...]
    volume_ml: Floats
    states: int
    beds: int

    @property
    def members(self) -> int:
        """How many circulations."""
        return self.theta.shape[0]

    @property
    def unknowns(self) -> int:
        """States but the last volume, total volume, tone, own resistance."""
        return self.states - 1 + 2 + self.beds

    def network(self, steps: int) -> Network:
        """What all members share, for a beat of that many steps."""
        return self.at_shares(activation(self.activations, steps))

    def at_shares(self, act: Floats) -> Network:
        """The same with activation given, shape (activations, steps + 1)."""
        return Network(self.parts, self.edges, self.watch, self.fibres, self.septum, self.sac, act)


def flatten(circuit: Circuit) -> Flat:
    """Arrays of a circuit.

    Parameters
    ----------
    circuit : Circuit, floats or arrays of one common shape (n,)

    Returns
    -------
    Flat

    Raises
    ------
    CircuitError
        a number that is not finite or out of its bounds, arrays of different lengths, or a law
        that there is not
    """
    refuse_unfit(circuit)
    laws = [part_law(part) for part in circuit.parts] + [edge_law(edge) for edge in circuit.edges]
    shared = _shared_slots(circuit)
    blocks = [slots for _, slots in laws] + shared
    firsts = list(accumulate((len(block) for block in blocks), initial=1))
    activations = _activations(circuit.parts)
    count = len(circuit.parts)
    parts = _part_rows(circuit, laws[:count], firsts, activations)
    edges = _edge_rows(circuit, laws[count:], firsts[count:])
    first_shared = firsts[len(laws)]
    wall, sac = _shared_rows(circuit, edges, first_shared)
    theta = _rows([60.0 / circuit.rate_per_min, *(v for b in blocks for v in b)], circuit)
    return Flat(
        theta=theta,
        parts=parts,
        edges=edges,
        watch=_ints([circuit.index(circuit.pressure_part), circuit.index(circuit.filling_part)]),
        fibres=_ints(
            [firsts[i] + 2 for i, part in enumerate(circuit.parts) if isinstance(part, Ventricle)]
        ),
        septum=wall,
        sac=sac,
        activations=activations,
        volume_ml=_column(circuit.volume_ml, theta.shape[0]),
        states=count + _heavy(edges) + min(wall.size, 1),
        beds=int((edges[:, layout.AS] == BED_FLOW).any()),
    )


def part_law(part: Part) -> tuple[int, Slots]:
    """Code of a part's law, and its slots."""
    if isinstance(part, Vessel):
        law, slots = "vessel", PART_LAWS["vessel"].slots(part.compliance_ml_mmhg)
    elif isinstance(part, SqueezedVessel):
        law, slots = "squeezed", PART_LAWS["squeezed"].slots(part.compliance_ml_mmhg, part.share)
    elif isinstance(part, Atrium):
        law = "elastance"
        slots = PART_LAWS[law].slots(
            part.elastance_min_mmhg_ml, part.elastance_max_mmhg_ml, part.unloaded_volume_ml
        )
    else:
        law = "fibre"
        slots = PART_LAWS[law].slots(
            part.mass_g / WALL_DENSITY_G_ML,
            part.unloaded_volume_ml,
            part.active_stress_mmhg,
            part.passive_stress_mmhg,
            part.passive_exponent,
        )
    return PART_LAWS[law].CODE, slots


def edge_law(edge: Edge) -> tuple[int, Slots]:
    """Code of an edge's law, and its slots; a place that is shut in all members has none."""
    code, slots = _law_of(edge)
    if (edge.systemic or edge.self_regulated) and code != EDGE_LAWS["linear"].CODE:
        raise CircuitError(
            "only a plain resistance can be regulated",
            code="not_a_bed",
            where=edge.name,
            remedy="the narrow place, valve or inertance on an edge of its own",
        )
    return code, slots


def _law_of(edge: Edge) -> tuple[int, Slots]:
    if edge.own_law is not None:
        return _own_law(edge)
    if not edge.valve and any(largest(place.area_cm2) <= 0.0 for place in edge.restrictions):
        return CLOSED, ()
    resistance, loss = edge.resistance_mmhg_s_ml, quadratic_loss(edge)
    if largest(edge.inertance_mmhg_s2_ml) > 0.0:
        return _with("column", resistance, loss, edge.inertance_mmhg_s2_ml)
    if edge.valve and largest(edge.leak_area_cm2) > 0.0:
        leak = at_least(edge.leak_area_cm2, CLOSED_AREA_CM2)
        return _with("leaky_valve", resistance, at_least(loss, LEAST_LOSS), ORIFICE_LOSS / leak**2)
    if edge.valve:
        return _with("valve", resistance, at_least(loss, LEAST_LOSS))
    if edge.restrictions:
        return _with("orifice", resistance, loss)
    return _with("linear", resistance)


# chosen: loss of a valve without a narrow place, mmHg s²/mL²: 0.01 mmHg at 100 mL/s
LEAST_LOSS = 1e-6


def _with(law: str, *numbers: Leaf) -> tuple[int, Slots]:
    return EDGE_LAWS[law].CODE, EDGE_LAWS[law].slots(*numbers)


def _own_law(edge: Edge) -> tuple[int, Slots]:
    assert edge.own_law is not None
    name, numbers = edge.own_law.name, edge.own_law.numbers
    try:
        return EDGE_LAWS[name].CODE, EDGE_LAWS[name].slots(**numbers)
    except (KeyError, TypeError) as error:
        raise CircuitError(
            "there is no such law, or not with these numbers",
            code="no_such_law",
            where=edge.name,
            value=f"{name}({', '.join(numbers)})",
            remedy="one of " + ", ".join(sorted(EDGE_LAWS)),
        ) from error


def at_least(value: Leaf, least: float) -> Leaf:
    """The value, or the least where it is smaller; a single float goes the short way."""
    return max(value, least) if isinstance(value, float | int) else np.maximum(value, least)


def quadratic_loss(edge: Edge) -> Leaf:
    """B of ΔP = R Q + B Q|Q| (mmHg s²/mL²): the losses of the narrow places added."""
    loss: Leaf = 0.0
    for place in edge.restrictions:
        area = at_least(place.area_cm2, CLOSED_AREA_CM2)
        loss = loss + ORIFICE_LOSS / (place.discharge * area) ** 2
    return loss


@lru_cache(maxsize=32)
def activation(courses: tuple[Activation, ...], steps: int) -> Floats:
    """Activation at every step of a beat.

    Parameters
    ----------
    courses : when chambers contract
    steps : int, steps of a beat

    Returns
    -------
    array, shape (courses, steps + 1), between 0 and 1
    """
    return activation_at(courses, np.linspace(0.0, 1.0, steps + 1))


def activation_at(courses: Sequence[Activation], shares: Floats) -> Floats:
    """Activation at shares (0 to 1) of a beat, shape (courses, shares)."""
    return np.array([[activated(share, *course) for share in shares] for course in courses])


def _activations(parts: tuple[Part, ...]) -> tuple[Activation, ...]:
    found = [part.activation for part in parts if isinstance(part, Ventricle | Atrium)]
    return tuple(dict.fromkeys(found)) or (AT_REST,)


def _part_rows(
    circuit: Circuit,
    laws: list[tuple[int, Slots]],
    firsts: list[int],
    activations: tuple[Activation, ...],
) -> Ints:
    rows: list[list[int]] = []
    for part, (law, slots), first in zip(circuit.parts, laws, firsts, strict=False):
        active = isinstance(part, Ventricle | Atrium)
        course = activations.index(part.activation) if active else 0
        by = circuit.index(part.by) if isinstance(part, SqueezedVessel) else -1
        rows.append([law, first, len(slots), course, by])
    return _ints(rows)


def _edge_rows(circuit: Circuit, laws: list[tuple[int, Slots]], firsts: list[int]) -> Ints:
    rows: list[list[int]] = []
    state = len(circuit.parts)
    places = {part.name: i for i, part in enumerate(circuit.parts)}
    for edge, (law, slots), first in zip(circuit.edges, laws, firsts, strict=False):
        heavy = law == EDGE_LAWS["column"].CODE
        seen = BODY_FLOW if edge.systemic else BED_FLOW if edge.self_regulated else -1
        ends = [places[edge.start], places[edge.end]]
        rows.append([law, first, len(slots), *ends, state if heavy else -1, seen])
        state += heavy
    return _ints(rows)


def _shared_slots(circuit: Circuit) -> list[Slots]:
    wall, sac = circuit.septum, circuit.pericardium
    slots: list[Slots] = []
    if wall is not None:
        slots.append(septum.slots(wall.elastance_mmhg_ml, wall.viscosity_mmhg_s_ml))
    if sac is not None:
        slots.append(pericardium.slots(sac.pressure_mmhg, sac.exponent, sac.volume_ml))
    return slots


def _shared_rows(circuit: Circuit, edges: Ints, first: int) -> tuple[Ints, Ints]:
    wall, sac = circuit.septum, circuit.pericardium
    row: list[int] = []
    if wall is not None:
        state = len(circuit.parts) + _heavy(edges)
        row = [circuit.index(wall.left), circuit.index(wall.right), state, first]
        first += 2
    around = [first, *(circuit.index(name) for name in sac.around)] if sac is not None else []
    return _ints(row), _ints(around)


def _heavy(edges: Ints) -> int:
    """How many flows have inertance."""
    return int((edges[:, layout.STATE] >= 0).sum())


def _rows(columns: list[Leaf], circuit: Circuit) -> Floats:
    if all(isinstance(value, float | int) for value in (*columns, circuit.volume_ml)):
        return np.array([columns], dtype=np.float64)
    theta = np.empty((_members([*columns, circuit.volume_ml]), len(columns)))
    for j, value in enumerate(columns):
        theta[:, j] = value
    return theta


def _column(value: Leaf, members: int) -> Floats:
    return np.array(np.broadcast_to(value, (members,)), dtype=np.float64)


def _members(values: list[Leaf]) -> int:
    sizes = {value.size for value in values if not isinstance(value, float | int)} - {1}
    if len(sizes) > 1:
        raise CircuitError(
            "members differ in number from one quantity to another",
            code="members_differ",
            value=sorted({np.size(value) for value in values}),
        )
    return next(iter(sizes), 1)


def _ints(values: object) -> Ints:
    return np.array(values, dtype=np.int64)
