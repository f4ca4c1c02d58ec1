"""What an orbit is worth: its error by doubled steps, its energy, and what its valves did."""

from __future__ import annotations

from copy import deepcopy
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from inseries.circuit.network import SqueezedVessel, Vessel
from inseries.circuit.orbit import Regulation, Settings, find_orbit
from inseries.circuit.readouts import P_MAX, P_MEAN, P_MIN
from inseries.circuit.waveforms import Waveforms, waveforms

if TYPE_CHECKING:
    from inseries.circuit.network import Floats
    from inseries.circuit.orbit import Orbit


@dataclass(frozen=True, slots=True, kw_only=True)
class Audit:
    """What one beat that repeats is worth.

    Parameters
    ----------
    step_error_mmhg : largest change of a mean, highest or lowest vessel pressure, of a highest or
        mean chamber pressure, when steps are doubled and the orbit is found again
    work_in_mmhg_ml : what the chambers give to the blood in a beat, the areas of their loops
    dissipated_mmhg_ml : what the ways take from it
    stored_mmhg_ml : what stays in vessels; none of it, where the beat repeats
    openings : times that every valve opens in a beat, by its name
    """

    step_error_mmhg: float
    work_in_mmhg_ml: float
    dissipated_mmhg_ml: float
    stored_mmhg_ml: float
    openings: dict[str, int]

    @property
    def energy_gap(self) -> float:
        """Work that is not accounted for, as a share of the work in."""
        lost = self.work_in_mmhg_ml - self.dissipated_mmhg_ml - self.stored_mmhg_ml
        return abs(lost) / self.work_in_mmhg_ml


def audited(
    orbit: Orbit, regulation: Regulation | None = None, *, member: int = 0, settings: Settings
) -> Audit:
    """Audit of one member of an orbit.

    Parameters
    ----------
    orbit : one that repeats
    regulation : what it was found with
    member : which of the n members
    settings : with which it was found

    Returns
    -------
    Audit

    Loops are measured as polygons over the steps and losses by the sum over time, so that the two
    agree only as far as the steps do.
    """
    finer = find_orbit(
        orbit.circuit,
        regulation,
        settings=replace(settings, steps=2 * settings.steps),
        warm=deepcopy(orbit.warm),
    )
    waves = waveforms(orbit, member, settings=settings)
    areas = _loop_areas(waves)
    passive = np.array([isinstance(p, Vessel | SqueezedVessel) for p in orbit.circuit.parts])
    return Audit(
        step_error_mmhg=_step_error(orbit, finer, member, passive),
        work_in_mmhg_ml=float(-areas[~passive].sum()),
        dissipated_mmhg_ml=_dissipated(waves),
        stored_mmhg_ml=float(areas[passive].sum()),
        openings={
            edge.name: _openings(waves.flow_ml_s(edge.name))
            for edge in orbit.circuit.edges
            if edge.valve
        },
    )


def _step_error(orbit: Orbit, finer: Orbit, member: int, passive: Floats) -> float:
    off = np.abs(finer.part_readouts[member] - orbit.part_readouts[member])
    lowest = off[passive.astype(bool), P_MIN]
    return float(max(off[:, [P_MEAN, P_MAX]].max(), lowest.max()))


def _loop_areas(waves: Waveforms) -> Floats:
    """Closed integral of P dV of every part, as a polygon."""
    pressure, volume = waves.pressures_mmhg, waves.volumes_ml
    middle = 0.5 * (pressure + np.roll(pressure, -1, axis=0))
    return (middle * (np.roll(volume, -1, axis=0) - volume)).sum(axis=0)


def _dissipated(waves: Waveforms) -> float:
    """Integral over the beat of what every way loses, its drop times its flow."""
    circuit, step = waves.circuit, float(waves.time_s[1])
    starts = [circuit.index(edge.start) for edge in circuit.edges]
    ends = [circuit.index(edge.end) for edge in circuit.edges]
    drop = waves.pressures_mmhg[:, starts] - waves.pressures_mmhg[:, ends]
    return float((drop * waves.flows_ml_s).sum() * step)


def _openings(flow: Floats) -> int:
    """How often a flow begins to go forwards in a beat that repeats."""
    ahead = flow > 0.0
    return int((ahead & ~np.roll(ahead, 1)).sum())
