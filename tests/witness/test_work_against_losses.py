"""Work of the chambers over a repeating beat against what the ways lose.

Outside source: conservation of energy (Tellegen's theorem). What comes back after a beat stores
nothing, so that the areas of all pressure-volume loops together are the time integral of pressure
drop times flow, summed over the ways; a vessel's own loop has no area.

The areas are taken from pressures and volumes alone, the losses from pressures and flows alone.
Tolerance 0.1 %, at 300 steps, of the whole.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from rooms.circuit_samples import pump
from rooms.law_samples import every_law
from rooms.topology_samples import TOPOLOGIES

from inseries.circuit.network import Vessel
from inseries.circuit.orbit import FINE
from inseries.circuit.waveforms import Waveforms, waveforms

CIRCUITS = {
    "pump": pump,
    "pump, heavy": lambda: pump(inertance=0.05),
    "every law": every_law,
    "every law, apart": lambda: replace(every_law(), septum=None, pericardium=None),
    **TOPOLOGIES,
}


def _work(waves: Waveforms, part: str) -> float:
    """Area of a pressure-volume loop, positive where the part drives blood (mmHg mL)."""
    pressure, volume = waves.pressure_mmhg(part), waves.volume_ml(part)
    mean = 0.5 * (pressure + np.roll(pressure, -1))
    return -float(mean @ (np.roll(volume, -1) - volume))


def _loss(waves: Waveforms) -> float:
    """Time integral of pressure drop times flow over all ways (mmHg mL)."""
    step = waves.time_s[1]
    return sum(
        float((waves.pressure_mmhg(e.start) - waves.pressure_mmhg(e.end)) @ waves.flow_ml_s(e.name))
        * step
        for e in waves.circuit.edges
    )


@pytest.mark.parametrize("name", CIRCUITS)
def test_work_against_losses(name: str) -> None:
    """All loops together have the area that the ways lose, within 0.1 %."""
    waves = waveforms(CIRCUITS[name](), settings=FINE)
    work = sum(_work(waves, part.name) for part in waves.circuit.parts)
    assert work > 0.0
    assert work == pytest.approx(_loss(waves), rel=1e-3)


@pytest.mark.parametrize("name", CIRCUITS)
def test_a_vessel_does_no_work(name: str) -> None:
    """The loop of every plain vessel has no area: it gives back what it stored."""
    waves = waveforms(CIRCUITS[name](), settings=FINE)
    for part in waves.circuit.parts:
        if isinstance(part, Vessel):
            assert abs(_work(waves, part.name)) < 1e-6 * _loss(waves)
