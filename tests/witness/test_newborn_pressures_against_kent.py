"""Arterial pressure of the healthy newborn against 406 newborns at term.

Who: Kent et al. 2007, Pediatr Nephrol, abstract: medians of day 1 and day 4, 65/45 (48) and
70/46 (54) mmHg. Systolic and diastolic were used to fit. Tolerance: between the two medians, since
the reference newborn is three days old.
"""

from __future__ import annotations

import pytest
from witness.situations import ours


@pytest.mark.parametrize(
    ("measure", "low", "high"),
    [
        ("aortic_systolic_mmhg", 65.0, 70.0),
        ("aortic_diastolic_mmhg", 45.0, 46.0),
        pytest.param(
            "aortic_mean_mmhg",
            48.0,
            54.0,
            marks=pytest.mark.xfail(
                strict=True,
                reason="arteries of two elements put the mean half way between the two ends; "
                "published means lie a quarter of the way up",
            ),
        ),
    ],
)
def test_pressure_lies_between_the_medians(measure: str, low: float, high: float) -> None:
    """Systolic, diastolic and mean pressure lie between the medians of day 1 and day 4."""
    assert low <= ours("normal_newborn")[measure] <= high
