"""Shift of the curve with pH and temperature, and dissolved oxygen, against other measurements.

Ours takes both shifts from Siggaard-Andersen 1984. Who else: Severinghaus 1979, at 26.6 mmHg
d ln P / d pH = 1 - 2.2 = -1.2, and d ln P / dT = 0.058/((0.243 x 0.266)^3.88 + 1) + 0.013 = 0.071;
Samaja 1983, human blood at fixed carbon dioxide: d log P50 / d pH from -0.39 to -0.35 and
d log P50 / d(1/T) from -2138 to -2162 K. The sources lie a quarter and a third apart; ours must lie
between them. The equation of 1984 is also taken whole, with what pH does to its steepness.
"""

from __future__ import annotations

import math

import pytest
from scipy.optimize import brentq

from inseries.circuit.blood import SOLUBILITY_PER_MMHG, p50_mmhg

KPA_MMHG, BODY_K = 7.5006, 310.15


def _per_ph() -> float:
    return math.log(p50_mmhg(0.5, 7.45) / p50_mmhg(0.5, 7.35)) / 0.1


def _per_degree() -> float:
    return math.log(p50_mmhg(0.5, 7.4, 37.5) / p50_mmhg(0.5, 7.4, 36.5))


def test_bohr_against_severinghaus_and_samaja() -> None:
    """Our shift by pH lies between the two measurements."""
    severinghaus = (26.6 / 26.6) ** 0.184 - 2.2
    samaja = -0.35 * math.log(10.0)
    assert severinghaus < _per_ph() < samaja


def test_warmth_against_severinghaus_and_samaja() -> None:
    """Our shift by temperature lies between the two measurements."""
    severinghaus = 0.058 / ((0.243 * 26.6 / 100.0) ** 3.88 + 1.0) + 0.013
    samaja = 2138.0 * math.log(10.0) / BODY_K**2
    assert samaja < _per_degree() < severinghaus


def _siggaard_half(ph: float, temperature_c: float) -> float:
    """Pressure of half saturation by the 1984 equation, mmHg, base excess 0 and DPG 5 mmol/L."""
    acid, warm = 1.04 * (7.4 - ph), 0.055 * (temperature_c - 37.0)
    x0, y0, h, k = 1.946 + acid + warm, 1.875, 3.5 + acid, 0.5343

    def above(x: float) -> float:
        return y0 + (x - x0) + h * math.tanh(k * (x - x0))

    return math.exp(brentq(above, -2.0, 4.0)) * KPA_MMHG


@pytest.mark.parametrize(("ph", "temperature_c"), [(7.2, 37.0), (7.3, 37.0), (7.4, 34.0)])
def test_shift_against_siggaard_andersen(ph: float, temperature_c: float) -> None:
    """Taken whole the equation moves half saturation as we do, within what steepness adds."""
    theirs = _siggaard_half(ph, temperature_c)
    assert p50_mmhg(0.0, ph, temperature_c) == pytest.approx(theirs, abs=1.0)


def test_half_saturation_against_siggaard_andersen() -> None:
    """Half saturation of adult blood by the equation, within half a mmHg."""
    assert p50_mmhg(0.0) == pytest.approx(_siggaard_half(7.4, 37.0), abs=0.5)


def test_dissolved_oxygen_against_the_textbook() -> None:
    """At 100 mmHg a decilitre dissolves 0.3 mL (0.30 to 0.31 in use), at 670 mmHg two."""
    assert pytest.approx(0.305, abs=0.01) == 100.0 * SOLUBILITY_PER_MMHG * 100.0
    assert pytest.approx(2.0, abs=0.11) == 670.0 * SOLUBILITY_PER_MMHG * 100.0


def test_solubility_against_its_own_unit() -> None:
    """0.0105 mmol/L/kPa at 22.4 mL/mmol is our mL per mL and mmHg to a thousandth."""
    assert pytest.approx(0.0105 * 22.4 / 1000.0 / KPA_MMHG, rel=1e-3) == SOLUBILITY_PER_MMHG
