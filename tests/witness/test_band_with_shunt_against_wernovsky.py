"""A week after a band with a shunt, against 28 children who had both.

Who: Wernovsky et al. 1992, Circulation 86(5 Suppl):II133, abstract: pressure ratio 0.48 (SD 0.08)
to 0.98 (0.19), mass index by echo 46 (17) to 72 (23) g/m2, within a median of 7 days. Kept to
judge; ages, lumens and shunts are supposed. Tolerance: one published SD; 30 points on the gain of
the means, of which no spread is printed.
"""

from __future__ import annotations

import pytest
from witness.situations import EACH_LAW, ours

SUPPLY = (
    "the shunt fills the left ventricle, filling is held at a limit of left atrial pressure, and "
    "no law runs short of coronary supply; ours also starts from less wall"
)


@EACH_LAW
def test_ratio_and_mass_after_a_week_lie_within_one_sd(law: str) -> None:
    """Both ventricles come to one pressure, and the left mass index to the published one."""
    told = ours("band_with_shunt", law)
    assert told["ratio_7_d"] == pytest.approx(0.98, abs=0.19)
    assert told["echo_mass_7_d_g_m2"] == pytest.approx(72.0, abs=23.0)


@EACH_LAW
@pytest.mark.xfail(strict=True, reason=SUPPLY)
def test_gain_of_a_week(law: str) -> None:
    """Mass gains a little more than half."""
    assert ours("band_with_shunt", law)["mass_gain_7_d_pct"] == pytest.approx(57.0, abs=30.0)
