"""The area of a narrow outflow from flow and mean gradient, against Gorlin's formula.

Gorlin 1951 (constant as carried by migliore2017): area in cm² is the mean flow while the valve is
open, mL/s, over 44.3 times the root of the mean gradient, mmHg. Ours is ΔP = 4 v², of which the
constant would be 50 for a steady flow. Tolerance, derived: for a flow whose shape lies between a
half sine (mean over root mean square 0.900) and a constant (1), Gorlin's area lies between
50/44.3 * 0.900 = 1.016 and 50/44.3 = 1.129 of the area that the jet uses; the valve's own friction,
at most 3 % of the gradient here, takes off at most 1.5 % of it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from inseries.circuit.flat import ORIFICE_LOSS, quadratic_loss
from inseries.circuit.newborn import normal_newborn, parallel_newborn
from inseries.circuit.waveforms import waveforms
from inseries.routes import with_atrial_defect, with_left_outflow

if TYPE_CHECKING:
    from inseries.circuit.network import Circuit

GORLIN, BERNOULLI = 44.3, 50.0
LEAST, MOST = BERNOULLI / GORLIN * 0.900 * (1.0 - 0.015), BERNOULLI / GORLIN


def _used_cm2(circuit: Circuit) -> float:
    """Area that the jet uses: of all narrow places of the outlet together."""
    return float(np.sqrt(ORIFICE_LOSS / quadratic_loss(circuit.edge("lv_outlet"))))


def _gorlin_cm2(circuit: Circuit, artery: str) -> float:
    waves = waveforms(circuit)
    flow = waves.flow_ml_s("lv_outlet")
    gradient = waves.pressure_mmhg("LV") - waves.pressure_mmhg(artery)
    open_ = flow > 0.0
    return float(flow[open_].mean() / (GORLIN * np.sqrt(gradient[open_].mean())))


@pytest.mark.parametrize("area_cm2", [0.1, 0.15, 0.2])
@pytest.mark.parametrize("artery", ["AoU", "PA"])
def test_gorlin_finds_the_area_of_an_outflow(area_cm2: float, artery: str) -> None:
    """Before the aorta and before the lung artery, the formula tells the area that the jet uses."""
    circuit = normal_newborn() if artery == "AoU" else with_atrial_defect(parallel_newborn(), 6.0)
    narrow = with_left_outflow(circuit, area_cm2)
    ratio = _gorlin_cm2(narrow, artery) / _used_cm2(narrow)
    assert LEAST <= ratio <= MOST
