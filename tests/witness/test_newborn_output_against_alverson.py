"""Output of the healthy newborn against two Doppler series.

Who: Alverson et al. 1984, Am J Perinatol 1:148, abstract: 236 (SD 47) mL/min/kg in 14 newborns at
term; Alverson et al. 1987, J Ultrasound Med 6:519, abstract: 3.48 (SD 0.74) L/min/m2 in 31 infants
of the first year. Kept to judge. Tolerance: one published SD, since ours is one middle baby.
"""

from __future__ import annotations

import pytest
from witness.situations import ours


@pytest.mark.parametrize(
    ("measure", "mean", "sd"),
    [("output_ml_min_kg", 236.0, 47.0), ("output_l_min_m2", 3.48, 0.74)],
)
def test_output_lies_within_one_sd(measure: str, mean: float, sd: float) -> None:
    """Output per weight and per body surface lies within one SD of each series."""
    assert ours("normal_newborn")[measure] == pytest.approx(mean, abs=sd)
