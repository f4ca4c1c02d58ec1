"""A circuit as arrays for the kernels, and the activation of its chambers over a beat."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from inseries.base.errors import CircuitError
from inseries.circuit.compiled import SLOTS
from inseries.circuit.network import Atrium, Circuit, Edge, Floats, Leaf, Part, Ventricle, Vessel

Ints = NDArray[np.int64]

# published: arts1991 takes wall volume from mass; density 1.05 g/mL as in jhaveri2023
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
    theta : array, shape (n, 1 + 2 edges + SLOTS parts); layout in ``kernels.beat``
    kind, start, end, valve, system, watch : integer arrays, topology shared by all members
    volume_ml : array, shape (n,)
    """

    theta: Floats
    kind: Ints
    start: Ints
    end: Ints
    valve: Ints
    system: Ints
    watch: Ints
    volume_ml: Floats


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
        a number that is not finite, or not above zero where it must be
    """
    columns: list[tuple[str, Leaf]] = [
        ("heart rate", 60.0 / _positive(circuit.rate_per_min, "heart rate"))
    ]
    columns += [(edge.name, _resistance(edge)) for edge in circuit.edges]
    columns += [(edge.name, quadratic_loss(edge)) for edge in circuit.edges]
    for part in circuit.parts:
        columns += [(part.name, value) for value in _slots(part)]
    members = np.broadcast_shapes(
        *(np.shape(value) for _, value in columns), np.shape(circuit.volume_ml), (1,)
    )[0]
    theta = np.empty((members, len(columns)))
    for j, (name, value) in enumerate(columns):
        theta[:, j] = value
        if not np.all(np.isfinite(theta[:, j])):
            raise CircuitError("a number is not finite", code="not_finite", where=name)
    names = [part.name for part in circuit.parts]
    return Flat(
        theta=theta,
        kind=_ints([_kind(part) for part in circuit.parts]),
        start=_ints([names.index(edge.start) for edge in circuit.edges]),
        end=_ints([names.index(edge.end) for edge in circuit.edges]),
        valve=_ints([int(edge.valve) for edge in circuit.edges]),
        system=_ints([i for i, edge in enumerate(circuit.edges) if edge.systemic]),
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
    share = np.linspace(0.0, 1.0, 2 * steps + 1)
    ventricle = _cosine(share, VENTRICLE_RISE, VENTRICLE_FALL)
    atrium = _cosine((share - ATRIUM_START) % 1.0, ATRIUM_RISE, ATRIUM_FALL)
    return ventricle, atrium


def _cosine(share: Floats, rise: float, fall: float) -> Floats:
    up = 0.5 * (1.0 - np.cos(np.pi * share / rise))
    down = 0.5 * (1.0 + np.cos(np.pi * (share - rise) / fall))
    return np.where(share < rise, up, np.where(share < rise + fall, down, 0.0))


def _resistance(edge: Edge) -> Leaf:
    return _positive(edge.resistance_mmhg_s_ml, edge.name)


def _positive(value: Leaf, name: str) -> Leaf:
    if not np.all(np.asarray(value) > 0.0):
        raise CircuitError(
            "a number must be above zero",
            code="not_positive",
            where=name,
            value=float(np.min(value)),
        )
    return value


def _kind(part: Part) -> int:
    return 2 if isinstance(part, Ventricle) else 1 if isinstance(part, Atrium) else 0


def _slots(part: Part) -> tuple[Leaf, ...]:
    if isinstance(part, Vessel):
        own: tuple[Leaf, ...] = (1.0 / _positive(part.compliance_ml_mmhg, part.name),)
    elif isinstance(part, Atrium):
        own = (
            _positive(part.elastance_min_mmhg_ml, part.name),
            _positive(part.elastance_max_mmhg_ml, part.name),
            part.unloaded_volume_ml,
        )
    else:
        own = (
            _positive(part.mass_g, part.name) / WALL_DENSITY_G_ML,
            _positive(part.unloaded_volume_ml, part.name),
            _positive(part.active_stress_mmhg, part.name),
            _positive(part.passive_stress_mmhg, part.name),
            _positive(part.passive_exponent, part.name),
        )
    return own + (0.0,) * (SLOTS - len(own))


def _ints(values: list[int]) -> Ints:
    return np.array(values, dtype=np.int64)
