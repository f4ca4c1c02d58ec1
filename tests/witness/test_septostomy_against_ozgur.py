"""Septostomy in transposition against 83 pairs of measurements.

Who: Özgür et al. 2014, Turk J Thorac Cardiovasc Surg, abstract; mean (SD) before and after.
Used to fit, with foramen and duct supposed. Tolerance: one published SD.
"""

from __future__ import annotations

import pytest
from witness.situations import ours

TABLE = [
    ("saturation_before_pct", 50.6, 16.3),
    ("la_mean_before_mmhg", 13.3, 5.3),
    ("atrial_gradient_before_mmhg", 6.2, 5.0),
    ("saturation_after_pct", 75.0, 11.8),
    ("la_mean_after_mmhg", 9.5, 4.5),
    ("atrial_gradient_after_mmhg", 0.9, 1.3),
]


@pytest.mark.parametrize(("measure", "mean", "sd"), TABLE)
def test_before_and_after_lie_within_one_sd(measure: str, mean: float, sd: float) -> None:
    """Saturation, left atrial pressure and gradient lie within one SD, before and after."""
    assert ours("septostomy")[measure] == pytest.approx(mean, abs=sd)


def test_the_rise_of_saturation_is_the_published_one() -> None:
    """Saturation rises by 24 (SD 15.2) points."""
    told = ours("septostomy")
    rise = told["saturation_after_pct"] - told["saturation_before_pct"]
    assert rise == pytest.approx(24.0, abs=15.2)
