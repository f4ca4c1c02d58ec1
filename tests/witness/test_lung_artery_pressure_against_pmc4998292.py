"""Lung artery pressure by the hour, with the duct of that hour, against 76 healthy newborns.

Who: PMC4998292, abstract; mean (SD) by echo at 2, 6, 12, 24 and 48 h. Kept to judge (72 h was used
to fit). Tolerance: one published SD, since ours is one middle baby.
"""

from __future__ import annotations

import pytest
from witness.situations import ours

TIED = pytest.mark.xfail(
    strict=True,
    reason="a duct of 4.6 mm ties the lung artery to an aorta whose mean is near 50 mmHg: the two "
    "published series do not fit one baby",
)
SHUT = pytest.mark.xfail(
    strict=True,
    reason="four of five ducts of the series were shut by 48 h; ours is the mean open one",
)


@pytest.mark.parametrize(
    ("measure", "mean", "sd"),
    [
        pytest.param("mean_2_h_mmhg", 63.4, 7.0, marks=TIED),
        ("mean_6_h_mmhg", 51.8, 9.8),
        ("mean_12_h_mmhg", 40.9, 9.3),
        ("mean_24_h_mmhg", 34.4, 9.9),
        pytest.param("mean_48_h_mmhg", 26.2, 7.5, marks=SHUT),
        pytest.param("systolic_2_h_mmhg", 76.6, 7.3, marks=TIED),
        ("systolic_6_h_mmhg", 65.5, 9.3),
        ("systolic_12_h_mmhg", 52.5, 9.1),
        ("systolic_24_h_mmhg", 43.8, 7.9),
        ("systolic_48_h_mmhg", 38.1, 8.3),
    ],
)
def test_pressure_by_hour_lies_within_one_sd(measure: str, mean: float, sd: float) -> None:
    """Mean and systolic pressure at each hour lie within one SD."""
    assert ours("lung_artery_by_hour")[measure] == pytest.approx(mean, abs=sd)
