"""Volumes, pressures and flows over one beat of one member."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from inseries.circuit.compiled import new_work, next_beat
from inseries.circuit.flat import flatten
from inseries.circuit.network import Circuit, Floats
from inseries.circuit.orbit import FINE, Orbit, Settings, find_orbit, regulation_rows


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
    network = flat.network(settings.steps)
    work = new_work(network, settings.steps)
    unknowns = orbit.unknowns[member]
    held = regulation_rows(None, flat)[member]
    next_beat(unknowns, flat.theta[member], network, held, work, np.empty_like(unknowns))
    parts = flat.kind.size
    period = float(flat.theta[member, 0])
    return Waveforms(
        circuit=orbit.circuit,
        time_s=np.arange(settings.steps) * period / settings.steps,
        volumes_ml=work.wave[:, :parts],
        pressures_mmhg=work.wave[:, parts : 2 * parts],
        flows_ml_s=work.wave[:, 2 * parts :],
    )
