"""Pressure of the unprepared left ventricle after weeks, and after a band, against catheter series.

Who: Yacoub et al. 1980, Circulation 62(2 Pt 2):I190, abstract: 38 (SD 6) mmHg in 20 children of one
month to 2.5 years, used to fit; 79.6 (SD 11) after band and shunt, kept to judge. Serial
catheterisation of 19 infants (index record without author): left ventricle to lung artery gradient
above 5 mmHg in every study beyond two weeks, kept to judge. Boutin et al. 1994: left over right
ventricular pressure 0.5 before a band, used to fit. Tolerance: one published SD; for the ratio,
printed without spread, the 16 % that 6 is of 38.
"""

from __future__ import annotations

import pytest
from witness.situations import EACH_LAW, ours


@EACH_LAW
@pytest.mark.parametrize("age", ["30", "60"])
def test_unprepared_pressure_lies_within_one_sd(age: str, law: str) -> None:
    """After one and two months the left ventricle's pressure is the published one."""
    told = ours("late_left_ventricle", law)
    assert told[f"lv_systolic_mmhg_{age}_d"] == pytest.approx(38.0, abs=6.0)


@EACH_LAW
def test_ratio_before_a_band(law: str) -> None:
    """After a month the left ventricle has half the right one's pressure."""
    assert ours("late_left_ventricle", law)["pressure_ratio_30_d"] == pytest.approx(0.5, rel=0.16)


@EACH_LAW
def test_pressure_after_a_band_lies_within_one_sd(law: str) -> None:
    """A banded left ventricle comes from the one published pressure to the other."""
    assert ours("band", law)["lv_systolic_before_mmhg"] == pytest.approx(38.0, abs=6.0)
    assert ours("band", law)["lv_systolic_9_d_mmhg"] == pytest.approx(79.6, abs=11.0)


@EACH_LAW
@pytest.mark.xfail(
    strict=True,
    reason="as the septum bows toward the left the outflow narrows, which is not in the model",
)
def test_gradient_toward_the_lung_artery(law: str) -> None:
    """Beyond two weeks there is a gradient above 5 mmHg."""
    assert ours("late_left_ventricle", law)["outlet_gradient_mmhg_30_d"] > 5.0
