"""A published adult circulation in our network, beat against beat with the package that carries it.

Outside source: ``circulation`` 0.4.0, module ``regazzoni2020`` (regazzoni2022), its right-hand side
driven by scipy's LSODA at a relative tolerance of 1e-8 until its beat repeats within 1e-4 mL and
mmHg.
Tolerance: 0.5 % of each signal's range over the beat. Theirs is known ten times better than that,
since Radau, another method at another tolerance, must agree within 0.05 %.

Their package blends the two resistances of a valve over a few hundredths of a mmHg, after a paper
that switches. Both are written in our parts: blended against the package as it stands, switched
against the same package with its valves unblended.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from witness.regazzoni_carried import Carried
from witness.regazzoni_circuit import ADULT, PERIOD_S, SIGNALS, adult, signals

from inseries.circuit.orbit import find_orbit

if TYPE_CHECKING:
    from inseries.circuit.network import Floats
    from inseries.circuit.orbit import Orbit

TOLERANCE = 0.005
# A tenth of the tolerance: what their own steps, and ours, may cost.
STEPS_COST = TOLERANCE / 10.0
# Beats until theirs repeats; each takes a third off what is left.
BEATS = 16
VALVES = {"as carried": False, "valves unblended": True}


@pytest.fixture(scope="module")
def orbits() -> dict[str, Orbit]:
    """Our periodic beat, with both ways to write a valve."""
    return {
        name: find_orbit(adult(blended=not sharp), settings=ADULT) for name, sharp in VALVES.items()
    }


@pytest.fixture(scope="module")
def theirs(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Floats]:
    """Their periodic beat, shape (steps, signals), with both ways to write a valve."""
    found = {}
    for name, sharp in VALVES.items():
        carried = Carried(tmp_path_factory.mktemp("carried"), sharp=sharp)
        start = carried.after(BEATS, 1e-8)
        states, end = carried.beat(start, 1e-8, samples=ADULT.steps)
        assert np.abs(end - start)[:8].max() < 1e-4
        found[name] = carried.signals(states)
        again = carried.signals(carried.beat(start, 1e-6, samples=ADULT.steps, method="Radau")[0])
        assert _off(again, found[name]).max() < STEPS_COST
    return found


def _off(one: Floats, other: Floats) -> Floats:
    """Largest difference over the beat as a share of each signal's range, shape (signals,)."""
    return np.abs(one - other).max(axis=0) / np.ptp(other, axis=0)


@pytest.mark.parametrize("name", VALVES)
@pytest.mark.parametrize("signal", SIGNALS)
def test_waveform_equals_the_packages(
    orbits: dict[str, Orbit], theirs: dict[str, Floats], name: str, signal: str
) -> None:
    """Volume, pressure and flow of every place agree over the whole beat within the tolerance."""
    assert _off(signals(orbits[name]), theirs[name])[SIGNALS.index(signal)] < TOLERANCE


@pytest.mark.parametrize("name", VALVES)
def test_nothing_but_steps_is_left(
    orbits: dict[str, Orbit], theirs: dict[str, Floats], name: str
) -> None:
    """With a valve written as theirs, all signals agree within a tenth of the tolerance."""
    assert _off(signals(orbits[name]), theirs[name]).max() < STEPS_COST


@pytest.mark.parametrize("name", VALVES)
def test_output_and_ejection_equal_the_packages(
    orbits: dict[str, Orbit], theirs: dict[str, Floats], name: str
) -> None:
    """Cardiac output agrees within 0.5 %, and the left ventricle's ejection within 0.2 points."""
    orbit = orbits[name]
    circuit = orbit.circuit
    forwards, backwards = orbit.edge_flows_ml_s[0, circuit.edge_index("aortic")]
    largest, smallest = orbit.part_readouts[0, circuit.index("LV"), 3:5]
    volume = theirs[name][:, SIGNALS.index("V_LV")]
    output = theirs[name][:, SIGNALS.index("Q_AR_SYS")].mean()
    assert forwards - backwards == pytest.approx(output, rel=TOLERANCE)
    assert 1.0 - smallest / largest == pytest.approx(1.0 - volume.min() / volume.max(), abs=0.002)
    stroke = PERIOD_S * (forwards - backwards)
    assert stroke == pytest.approx(largest - smallest, rel=TOLERANCE)
