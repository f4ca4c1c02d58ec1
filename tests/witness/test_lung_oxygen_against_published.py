"""Oxygen behind the lungs in air and in oxygen.

Who: the alveolar gas equation as taught, 107 mmHg where carbon dioxide has 36 mmHg and R is 0.8;
Lees 1967, infants with too much lung flow, alveolar minus arterial oxygen pressure 22.4 (8.6) mmHg,
shunt and not uneven ventilation being the cause; the table of the hyperoxia test as taught: in pure
oxygen a healthy child passes 300 mmHg, one with parallel circulations stays below 50 mmHg and 85 %,
from below 40 mmHg and 75 % in air.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from inseries.circuit.blood import ALVEOLAR_IN_AIR_MMHG, alveolar_mmhg, carriage, lung_content
from inseries.circuit.newborn import normal_newborn, parallel_newborn
from inseries.circuit.orbit import FINE, find_orbit
from inseries.circuit.readouts import read
from inseries.routes import with_atrial_defect

if TYPE_CHECKING:
    from inseries.circuit.readouts import Readings


def test_alveolar_oxygen_against_the_textbook() -> None:
    """The worked value in air, half a unit; in pure oxygen all but water and carbon dioxide."""
    assert alveolar_mmhg(0.21, 36.0) == pytest.approx(107.0, abs=0.5)
    assert alveolar_mmhg(1.0, 40.0) == pytest.approx(760.0 - 47.0 - 40.0)
    assert alveolar_mmhg() == pytest.approx(ALVEOLAR_IN_AIR_MMHG)


def test_alveolar_minus_lung_vein_against_lees() -> None:
    """The measured mean in air lies between ours with a newborn's blood and with an adult's.

    The infants measured were of all ages under a year, so that their curve lay between the two.
    """
    drops: list[float] = []
    for share in (1e-6, 0.8):
        blood = replace(normal_newborn().blood, fetal_share=share)
        carried = carriage(blood, 1)
        behind = carried.pressure(lung_content(blood, carried))
        drops.append(ALVEOLAR_IN_AIR_MMHG - float(behind[0, 0]))
    assert drops[0] < 22.4 < drops[1]
    assert drops[1] < 22.4 + 2.0 * 8.6


def _breathing(fraction: float, *, parallel: bool) -> Readings:
    circuit = with_atrial_defect(parallel_newborn(), 5.0) if parallel else normal_newborn()
    return read(find_orbit(circuit.with_blood(inspired_fraction=fraction), settings=FINE))


def test_hyperoxia_in_health_against_the_table() -> None:
    """A healthy newborn in pure oxygen has more than 300 mmHg in the aorta."""
    assert _breathing(1.0, parallel=False).po2_mmhg("AoU")[0] > 300.0


def test_hyperoxia_in_transposition_against_the_table() -> None:
    """With parallel loops pure oxygen leaves the arms below 50 mmHg and 85 %."""
    air, oxygen = (_breathing(f, parallel=True) for f in (0.21, 1.0))
    assert air.po2_mmhg("AoU")[0] < 40.0
    assert air.saturation_pct("AoU")[0] < 75.0
    assert air.po2_mmhg("AoU")[0] < oxygen.po2_mmhg("AoU")[0] < 50.0
    assert air.saturation_pct("AoU")[0] < oxygen.saturation_pct("AoU")[0] < 85.0
