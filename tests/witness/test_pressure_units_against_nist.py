"""Conversion of units against outside values."""

from __future__ import annotations

import pytest

from inseries.base.units import convert

# NIST Special Publication 811 (2008), appendix B.8: millimetre of mercury, conventional,
# 1.333224 E+02 Pa; centimetre of water, conventional, 9.80665 E+01 Pa. Printed to seven and six
# digits, so half a unit of the last digit is the tolerance.
NIST_PA = {"mm[Hg]": (133.3224, 5e-5), "cm[H2O]": (98.0665, 5e-5)}


@pytest.mark.parametrize("unit", NIST_PA)
def test_pressure_units_against_nist(unit: str) -> None:
    """One mmHg and one cmH2O are as many pascals as NIST prints."""
    pascals, half_a_digit = NIST_PA[unit]
    assert convert(1.0, unit, "kPa") * 1000 == pytest.approx(pascals, abs=half_a_digit)


def test_wood_unit_against_its_cgs_value() -> None:
    """One Wood unit is 79.9934 dyn·s/cm5, not 80 (1 mmHg = 1333.22387 dyn/cm2, 1 min = 60 s)."""
    inner = convert(1.0, "mm[Hg].min/L", "mm[Hg].s/mL")
    # mmHg to dyn/cm2 by NIST SP 811; the value printed there to seven digits
    assert inner * 1333.224 == pytest.approx(79.9934, abs=1e-4)
