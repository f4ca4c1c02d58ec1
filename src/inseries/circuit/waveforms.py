"""Volumes, pressures and flows over one beat of one member."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from inseries.circuit.compiled import new_crew, watch_one
from inseries.circuit.flat import flatten
from inseries.circuit.network import Circuit, Floats
from inseries.circuit.orbit import FINE, Orbit, Settings, find_orbit


@dataclass(frozen=True, slots=True, kw_only=True)
class Waveforms:
    """One beat in time.

    Parameters
    ----------
    circuit : where parts and edges have their names
    time_s : array, shape (steps,), from the start of ventricular systole
    volumes_ml, pressures_mmhg : arrays, shape (steps, parts)
    flows_ml_s : array, shape (steps, edges), forwards positive
    """

    circuit: Circuit
    time_s: Floats
    volumes_ml: Floats
    pressures_mmhg: Floats
    flows_ml_s: Floats

    def volume_ml(self, part: str) -> Floats:
        """Volume of a part, shape (steps,)."""
        return self.volumes_ml[:, self.circuit.index(part)]

    def pressure_mmhg(self, part: str) -> Floats:
        """Pressure of a part, shape (steps,)."""
        return self.pressures_mmhg[:, self.circuit.index(part)]

    def flow_ml_s(self, edge: str) -> Floats:
        """Flow of an edge, shape (steps,)."""
        return self.flows_ml_s[:, self.circuit.edge_index(edge)]


def waveforms(source: Circuit | Orbit, member: int = 0, *, settings: Settings = FINE) -> Waveforms:
    """One beat of one member, at the start of every step.

    Parameters
    ----------
    source : an orbit, or a circuit whose orbit is then found first
    member : which of the n members
    settings : steps of the beat; with an orbit found at other steps the beat closes less exactly

    Returns
    -------
    Waveforms

    Raises
    ------
    CircuitError, NotPeriodic
        as ``find_orbit``
    """
    orbit = find_orbit(source, settings=settings) if isinstance(source, Circuit) else source
    flat = flatten(orbit.circuit)
    rows, parts = settings.steps, flat.parts.shape[0]
    volumes, pressures = np.empty(rows * flat.states), np.empty(rows * parts)
    flows = np.empty(rows * flat.edges.shape[0])
    member_of = (flat.theta[member], orbit.unknowns[member], orbit.regulated[member])
    network, both = flat.network(rows), np.empty(2 * flat.edges.shape[0])
    crew = new_crew(network, flat.theta.shape[1], flat.unknowns, 0.0)
    watch_one(network, *member_of, crew, volumes, pressures, flows, both)
    period = float(60.0 / np.broadcast_to(orbit.as_regulated().rate_per_min, orbit.members)[member])
    return Waveforms(
        circuit=orbit.circuit,
        time_s=np.arange(rows) * period / rows,
        volumes_ml=volumes.reshape(rows, -1)[:, :parts],
        pressures_mmhg=pressures.reshape(rows, -1),
        flows_ml_s=flows.reshape(rows, -1),
    )
