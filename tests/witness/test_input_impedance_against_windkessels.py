"""Impedance of an artery over frequency against the closed forms of the windkessels.

Outside source: impedances of linear circuits, as in westerhof2009: an artery C that drains through
a bed R has Z = R/(1 + iωRC), a characteristic resistance or a heavy column before it adds
R_c + iωL. The first ten harmonics of a beating chamber's pressure and flow are compared in size and
phase.

Tolerance 0.02 % of the first ten harmonics: at 4000 steps harmonics above the two-thousandth fold
back upon them, in series that fall with the square (a valve's flow) or cube (activation's joints).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from rooms.circuit_samples import pump, small

from inseries.circuit.network import Activation, Atrium, Edge, Vessel
from inseries.circuit.orbit import Settings
from inseries.circuit.waveforms import waveforms

if TYPE_CHECKING:
    from inseries.circuit.network import Circuit, Floats

MANY = Settings(steps=4000, tolerance_ml=1e-9)
HARMONICS = np.arange(1, 11)
PERIOD = 0.4
OMEGA = 2.0 * np.pi * HARMONICS / PERIOD


def _harmonics(wave: Floats) -> Floats:
    return np.fft.rfft(wave)[HARMONICS]


def _driven(resistance: float, inertance: float, compliance: float, bed: float) -> Circuit:
    """A chamber that beats into an artery without a valve, and a vein too large to move."""
    chamber = Atrium(
        name="chamber",
        elastance_min_mmhg_ml=1.0,
        elastance_max_mmhg_ml=6.0,
        unloaded_volume_ml=1.0,
        activation=Activation(0.0, 0.06, 0.05),
    )
    parts = (
        chamber,
        Vessel(name="artery", compliance_ml_mmhg=compliance),
        Vessel(name="vein", compliance_ml_mmhg=1e6),
    )
    edges = (
        Edge(
            name="way",
            start="chamber",
            end="artery",
            resistance_mmhg_s_ml=resistance,
            inertance_mmhg_s2_ml=inertance,
        ),
        Edge(name="bed", start="artery", end="vein", resistance_mmhg_s_ml=bed),
    )
    return small(parts, edges, volume_ml=1e7, period_s=PERIOD)


@pytest.mark.parametrize(("compliance", "resistance"), [(0.2, 4.0), (0.1, 3.6), (0.4, 2.0)])
def test_artery_behind_a_valve_against_two_elements(compliance: float, resistance: float) -> None:
    """Filled in bouts through a valve, an artery answers as R and C side by side."""
    waves = waveforms(pump(arterial_ml_mmhg=compliance, resistance=resistance), settings=MANY)
    above = waves.pressure_mmhg("artery") - waves.pressure_mmhg("vein")
    found = _harmonics(above) / _harmonics(waves.flow_ml_s("out"))
    closed = resistance / (1.0 + 1j * OMEGA * resistance * compliance)
    assert np.all(np.abs(found / closed - 1.0) < 2e-4)


@pytest.mark.parametrize("inertance", [0.0, 0.004, 0.02], ids=["RCR", "light", "heavy"])
@pytest.mark.parametrize("resistance", [0.1, 0.5])
def test_chamber_sees_three_and_four_elements(resistance: float, inertance: float) -> None:
    """A chamber before a characteristic resistance and a column sees their impedances added."""
    compliance, bed = 0.2, 4.0
    waves = waveforms(_driven(resistance, inertance, compliance, bed), settings=MANY)
    above = waves.pressure_mmhg("chamber") - waves.pressure_mmhg("vein")
    found = _harmonics(above) / _harmonics(waves.flow_ml_s("way"))
    closed = resistance + 1j * OMEGA * inertance + bed / (1.0 + 1j * OMEGA * bed * compliance)
    assert np.all(np.abs(found / closed - 1.0) < 2e-4)


def test_mean_flow_meets_the_resistances_only() -> None:
    """At frequency zero neither compliance nor inertance counts: pressure over flow is R.

    The artery's mean above the vein over the bed's mean flow, to the tolerance of the orbit.
    """
    waves = waveforms(pump(resistance=4.0, inertance=0.05), settings=MANY)
    above = waves.pressure_mmhg("artery") - waves.pressure_mmhg("vein")
    assert above.mean() / waves.flow_ml_s("bed").mean() == pytest.approx(4.0, rel=1e-6)
