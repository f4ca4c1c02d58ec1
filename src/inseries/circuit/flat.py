"""A circuit as arrays for the kernels, and the activation of its chambers over a beat."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from inseries.base.errors import CircuitError
from inseries.circuit.bounds import refuse_unfit
from inseries.circuit.compiled import SLOTS, Network
from inseries.circuit.network import Atrium, Circuit, Edge, Floats, Leaf, Part, Ventricle, Vessel

Ints = NDArray[np.int64]

# published: jhaveri2023 takes 1.05 g/mL from wall volume to mass
WALL_DENSITY_G_ML = 1.05
# derived: ΔP = 4 v² with v in m/s and Q in mL/s through an area in cm²
ORIFICE_LOSS = 4e-4
# chosen: a closed place keeps this area, cm²; it leaks less than 0.001 mL/s at 60 mmHg
CLOSED_AREA_CM2 = 1e-6
# chosen: activation as shares of the beat (rise and fall of a cosine), fitted with the newborn
VENTRICLE_RISE, VENTRICLE_FALL = 0.33, 0.20
ATRIUM_START, ATRIUM_RISE, ATRIUM_FALL = 0.86, 0.10, 0.10


@dataclass(frozen=True, slots=True, kw_only=True)
class Flat:
    """Arrays of a circuit with n members.

    Parameters
    ----------
    theta : array, shape (n, 1 + 3 edges + SLOTS parts); layout in ``kernels.layout``
    kind, start, end, valve, inertial, system, watch : integer arrays, shared by all members
    volume_ml : array, shape (n,)
    """

    theta: Floats
    kind: Ints
    start: Ints
    end: Ints
    valve: Ints
    inertial: Ints
    system: Ints
    watch: Ints
    volume_ml: Floats

    @property
    def members(self) -> int:
        """How many circulations."""
        return self.theta.shape[0]

    @property
    def unknowns(self) -> int:
        """Volumes but the last, flows with inertance, total volume, ln of the resistance."""
        return self.kind.size - 1 + int(np.sum(self.inertial >= 0)) + 2

    def network(self, steps: int) -> Network:
        """What all members share, for a beat of that many steps."""
        ventricle, atrium = activation(steps)
        return Network(
            kind=self.kind,
            start=self.start,
            end=self.end,
            valve=self.valve,
            inertial=self.inertial,
            system=self.system,
            watch=self.watch,
            act_v=ventricle,
            act_a=atrium,
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
        a number that is not finite or out of its bounds, or arrays of different lengths
    """
    refuse_unfit(circuit)
    columns = _columns(circuit)
    members = _members([*columns, circuit.volume_ml])
    theta = np.empty((members, len(columns)))
    for j, value in enumerate(columns):
        theta[:, j] = value
    names = [part.name for part in circuit.parts]
    edges = circuit.edges
    return Flat(
        theta=theta,
        kind=_ints([_kind(part) for part in circuit.parts]),
        start=_ints([names.index(edge.start) for edge in edges]),
        end=_ints([names.index(edge.end) for edge in edges]),
        valve=_ints([int(edge.valve) for edge in edges]),
        inertial=_inertial(edges),
        system=_ints([i for i, edge in enumerate(edges) if edge.systemic]),
        watch=_ints([names.index(circuit.pressure_part), names.index(circuit.filling_part)]),
        volume_ml=np.array(np.broadcast_to(circuit.volume_ml, (members,)), dtype=np.float64),
    )


def quadratic_loss(edge: Edge) -> Leaf:
    """B of ΔP = R Q + B Q|Q| (mmHg s²/mL²): the losses of the narrow places added."""
    loss: Leaf = 0.0
    for place in edge.restrictions:
        area = np.maximum(place.area_cm2, CLOSED_AREA_CM2)
        loss = loss + ORIFICE_LOSS / (place.discharge * area) ** 2
    return loss


@lru_cache(maxsize=16)
def activation(steps: int) -> tuple[Floats, Floats]:
    """Activation of ventricles and atria at every half step of a beat.

    Parameters
    ----------
    steps : int, steps of a beat

    Returns
    -------
    two arrays, shape (2 steps + 1,), between 0 and 1
    """
    return activation_at(np.linspace(0.0, 1.0, 2 * steps + 1))


def activation_at(share: Floats) -> tuple[Floats, Floats]:
    """Activation of ventricles and atria at shares (0 to 1) of a beat; arrays of that shape."""
    ventricle = _cosine(share, VENTRICLE_RISE, VENTRICLE_FALL)
    atrium = _cosine((share - ATRIUM_START) % 1.0, ATRIUM_RISE, ATRIUM_FALL)
    return ventricle, atrium


def _cosine(share: Floats, rise: float, fall: float) -> Floats:
    up = 0.5 * (1.0 - np.cos(np.pi * share / rise))
    down = 0.5 * (1.0 + np.cos(np.pi * (share - rise) / fall))
    return np.where(share < rise, up, np.where(share < rise + fall, down, 0.0))


def _columns(circuit: Circuit) -> list[Leaf]:
    columns: list[Leaf] = [60.0 / circuit.rate_per_min]
    columns += [edge.resistance_mmhg_s_ml for edge in circuit.edges]
    columns += [quadratic_loss(edge) for edge in circuit.edges]
    columns += [edge.inertance_mmhg_s2_ml for edge in circuit.edges]
    for part in circuit.parts:
        columns += _slots(part)
    return columns


def _members(values: list[Leaf]) -> int:
    try:
        return np.broadcast_shapes(*(np.shape(value) for value in values), (1,))[0]
    except ValueError as error:
        raise CircuitError(
            "members differ in number from one quantity to another",
            code="members_differ",
            value=sorted({np.size(value) for value in values}),
        ) from error


def _inertial(edges: tuple[Edge, ...]) -> Ints:
    heavy = [bool(np.max(edge.inertance_mmhg_s2_ml) > 0.0) for edge in edges]
    return np.where(heavy, np.cumsum(heavy) - 1, -1).astype(np.int64)


def _kind(part: Part) -> int:
    return 2 if isinstance(part, Ventricle) else 1 if isinstance(part, Atrium) else 0


def _slots(part: Part) -> tuple[Leaf, ...]:
    if isinstance(part, Vessel):
        own: tuple[Leaf, ...] = (1.0 / part.compliance_ml_mmhg,)
    elif isinstance(part, Atrium):
        own = (part.elastance_min_mmhg_ml, part.elastance_max_mmhg_ml, part.unloaded_volume_ml)
    else:
        own = (
            part.mass_g / WALL_DENSITY_G_ML,
            part.unloaded_volume_ml,
            part.active_stress_mmhg,
            part.passive_stress_mmhg,
            part.passive_exponent,
        )
    return own + (0.0,) * (SLOTS - len(own))


def _ints(values: list[int]) -> Ints:
    return np.array(values, dtype=np.int64)
