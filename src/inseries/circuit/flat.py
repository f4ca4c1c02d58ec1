"""A circuit as arrays for the kernels, and the activation of its chambers over a beat."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate
from typing import TYPE_CHECKING, NamedTuple

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
from inseries.circuit.remembered import Remembered

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


@dataclass(frozen=True, kw_only=True)
class Topology:
    """Arrays that all circuits joined alike share.

    Parameters
    ----------
    parts, edges, squeezed, counted, watch, fibres, septum, sac : integer arrays, as in a Network
    activations : courses of activation, in the order in which parts name them
    states : volumes, flows with inertance, shift of the septum
    beds : how many beds (0 or 1) regulate themselves
    """

    parts: Ints
    edges: Ints
    squeezed: Ints
    counted: Ints
    watch: Ints
    fibres: Ints
    septum: Ints
    sac: Ints
    activations: tuple[Activation, ...]
    states: int
    beds: int


@dataclass(frozen=True, kw_only=True)
class Flat(Topology):
    """Arrays of a circuit with n members.

    Parameters
    ----------
    theta : array, shape (n, slots); layout in ``kernels.layout``
    volume_ml : array, shape (n,)
    """

    theta: Floats
    volume_ml: Floats

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
        return Network(
            parts=self.parts,
            edges=self.edges,
            squeezed=self.squeezed,
            counted=self.counted,
            watch=self.watch,
            fibres=self.fibres,
            septum=self.septum,
            sac=self.sac,
            act=act,
        )


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
    _look_at_new(circuit)
    parts = [_PARTS[part] for part in circuit.parts]
    edges = [_EDGES[edge] for edge in circuit.edges]
    wall, sac = circuit.septum, circuit.pericardium
    topology = _topology(
        tuple(shape for shape, _ in parts),
        tuple(shape for shape, _ in edges),
        (circuit.pressure_part, circuit.filling_part),
        (wall.left, wall.right) if wall else (),
        sac.around if sac else (),
    )
    slots = [value for _, slots in (*parts, *edges) for value in slots]
    theta = _rows([60.0 / circuit.rate_per_min, *slots, *_shared_slots(circuit)], circuit)
    volume_ml = _column(circuit.volume_ml, theta.shape[0])
    return Flat(theta=theta, volume_ml=volume_ml, **vars(topology))


class _PartShape(NamedTuple):
    """How a part lies in a network: its law, how many slots, its course, whose wall it is in."""

    name: str
    law: int
    slots: int
    course: Activation | None
    by: str | None


class _EdgeShape(NamedTuple):
    """How an edge lies in a network: its law, how many slots, its ends, what the search sees."""

    law: int
    slots: int
    start: str
    end: str
    seen: int


# What was once found fit and flattened: most parts and edges of a neighbour are the very same.
_PARTS: Remembered[Part, tuple[_PartShape, Slots]] = Remembered()
_EDGES: Remembered[Edge, tuple[_EdgeShape, Slots]] = Remembered()


def _look_at_new(circuit: Circuit) -> None:
    """Refuses what is unfit, and makes known those parts and edges that are not yet."""
    parts = [part for part in circuit.parts if part not in _PARTS]
    edges = [edge for edge in circuit.edges if edge not in _EDGES]
    refuse_unfit(circuit, parts, edges)
    for part in parts:
        law, slots = part_law(part)
        course = part.activation if isinstance(part, Ventricle | Atrium) else None
        by = part.by if isinstance(part, SqueezedVessel) else None
        _PARTS[part] = _PartShape(part.name, law, len(slots), course, by), slots
    for edge in edges:
        law, slots = edge_law(edge)
        seen = BODY_FLOW if edge.systemic else BED_FLOW if edge.self_regulated else -1
        _EDGES[edge] = _EdgeShape(law, len(slots), edge.start, edge.end, seen), slots


@lru_cache(maxsize=64)
def _topology(
    parts: tuple[_PartShape, ...],
    edges: tuple[_EdgeShape, ...],
    watched: tuple[str, str],
    wall: tuple[str, ...],
    around: tuple[str, ...],
) -> Topology:
    """Arrays of a network from the shapes of its parts and edges, and from what those share."""
    places = {shape.name: i for i, shape in enumerate(parts)}
    firsts = list(accumulate((shape.slots for shape in (*parts, *edges)), initial=1))
    courses = tuple(dict.fromkeys(shape.course for shape in parts if shape.course)) or (AT_REST,)
    count = len(parts)
    rows = _part_rows(parts, firsts, courses, places)
    ways = _edge_rows(edges, firsts[count:], places)
    heavy = int((ways[:, layout.STATE] >= 0).sum())
    shared = firsts[-1]
    septum_row = [*(places[name] for name in wall), count + heavy, shared] if wall else []
    first = shared + (len(septum.SLOTS) if wall else 0)
    return Topology(
        parts=rows,
        edges=ways,
        squeezed=np.flatnonzero(rows[:, layout.LAW] == PART_LAWS["squeezed"].CODE),
        counted=np.flatnonzero(ways[:, layout.AS] >= 0),
        watch=_ints([places[name] for name in watched]),
        fibres=_ints([row[1] + 2 for row in rows if row[0] == PART_LAWS["fibre"].CODE]),
        septum=_ints(septum_row),
        sac=_ints([first, *(places[name] for name in around)] if around else []),
        activations=courses,
        states=count + heavy + min(len(wall), 1),
        beds=int((ways[:, layout.AS] == BED_FLOW).any()),
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


def _part_rows(
    shapes: tuple[_PartShape, ...],
    firsts: list[int],
    courses: tuple[Activation, ...],
    places: dict[str, int],
) -> Ints:
    rows: list[list[int]] = []
    for (_, law, slots, course, by), first in zip(shapes, firsts, strict=False):
        active = courses.index(course) if course else 0
        rows.append([law, first, slots, active, places[by] if by else -1])
    return _ints(rows)


def _edge_rows(shapes: tuple[_EdgeShape, ...], firsts: list[int], places: dict[str, int]) -> Ints:
    rows: list[list[int]] = []
    state = len(places)
    for (law, slots, start, end, seen), first in zip(shapes, firsts, strict=False):
        heavy = law == EDGE_LAWS["column"].CODE
        rows.append([law, first, slots, places[start], places[end], state if heavy else -1, seen])
        state += heavy
    return _ints(rows)


def _shared_slots(circuit: Circuit) -> list[Leaf]:
    """Slots of the septum, then of the pericardium."""
    wall, sac = circuit.septum, circuit.pericardium
    slots: list[Leaf] = []
    if wall is not None:
        slots += septum.slots(wall.elastance_mmhg_ml, wall.viscosity_mmhg_s_ml)
    if sac is not None:
        slots += pericardium.slots(sac.pressure_mmhg, sac.exponent, sac.volume_ml)
    return slots


def _rows(columns: list[Leaf], circuit: Circuit) -> Floats:
    if all(isinstance(value, float | int) for value in (*columns, circuit.volume_ml)):
        return np.array([columns], dtype=np.float64)
    theta = np.empty((_members([*columns, circuit.volume_ml]), len(columns)))
    for j, value in enumerate(columns):
        theta[:, j] = value
    return theta


def _column(value: Leaf, members: int) -> Floats:
    column = np.empty(members)
    column[:] = value
    return column


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
