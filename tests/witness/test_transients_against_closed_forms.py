"""Discharge of a vessel, ringing of a heavy column, decay of an artery: against closed forms.

Outside source: textbook solutions of linear circuits with a resistor, an inductor and two
capacitors; the artery in diastole is the two-element windkessel.
"""

from __future__ import annotations

import numpy as np
import pytest
from rooms.circuit_samples import one_beat, pump, two_vessels

from inseries.circuit.orbit import Settings
from inseries.circuit.waveforms import waveforms

# Two vessels of 0.5 and 1.5 mL/mmHg in series for the flow between them.
TOGETHER = 0.5 * 1.5 / (0.5 + 1.5)


def test_discharge_against_exponential() -> None:
    """The pressure between two vessels falls as e to the minus t over R C.

    Tolerance 1e-8 of the start: an order-2 step of 1/3000 of the time constant errs by its square
    over 6 e, 7e-9.
    """
    tau = 2.0 * TOGETHER
    time, wave, _ = one_beat(two_vessels(period_s=2.0), [15.0, 5.0], steps=8000)
    drop = wave[:, 2] - wave[:, 3]
    start = 15.0 / 0.5 - 5.0 / 1.5
    assert drop == pytest.approx(start * np.exp(-time / tau), abs=1e-8 * start)


@pytest.mark.parametrize("resistance", [0.05, 0.4, 6.0], ids=["ringing", "damped", "creeping"])
def test_heavy_column_against_damped_oscillation(resistance: float) -> None:
    """With inertance the pressure between two vessels follows the damped oscillator.

    L Q' + R Q = ΔP and ΔP' = -Q/C from rest. Tolerance 1e-6 of the start for pressure and flow: an
    order-2 step of 1/6400 of a second, turning at 3.65 per second, errs in phase by its square
    times 3.65³/6, 2e-7 a second.
    """
    inertance, start = 0.2, 15.0 / 0.5 - 5.0 / 1.5
    circuit = two_vessels(inertance=inertance, resistance=resistance, period_s=2.0)
    time, wave, _ = one_beat(circuit, [15.0, 5.0, 0.0], steps=12800)
    roots = np.roots([inertance * TOGETHER, resistance * TOGETHER, 1.0]).astype(complex)
    one, two = roots
    drop = start * (one * np.exp(two * time) - two * np.exp(one * time)) / (one - two)
    assert wave[:, 2] - wave[:, 3] == pytest.approx(drop.real, abs=1e-6 * start)
    flow = -TOGETHER * start * one * two * (np.exp(two * time) - np.exp(one * time)) / (one - two)
    assert wave[:, 4] == pytest.approx(flow.real, abs=1e-6 * start)


@pytest.mark.parametrize(("compliance", "resistance"), [(0.2, 4.0), (0.1, 3.6), (0.4, 2.0)])
def test_diastolic_decay_against_windkessel(compliance: float, resistance: float) -> None:
    """With its valve shut an artery's pressure above the veins decays with time constant R C.

    Tolerance 0.1 %: the veins of 10 000 mL/mmHg move by less than that over a diastole.
    """
    circuit = pump(arterial_ml_mmhg=compliance, resistance=resistance)
    waves = waveforms(circuit, settings=Settings(steps=400, tolerance_ml=1e-8))
    shut = np.flatnonzero(waves.flow_ml_s("out") == 0.0)
    late = shut[(waves.time_s[shut] > 0.25) & (waves.time_s[shut] < 0.4)]
    above = waves.pressure_mmhg("artery")[late] - waves.pressure_mmhg("vein")[late]
    slope = np.polyfit(waves.time_s[late], np.log(above), 1)[0]
    assert late.size > 100
    assert -1.0 / slope == pytest.approx(resistance * compliance, rel=1e-3)
