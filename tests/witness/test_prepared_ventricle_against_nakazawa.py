"""The left ventricle nine days after a band against survivors of a staged switch.

Who: Nakazawa et al. 1988, Circulation, abstract in an index record: 32 survivors, filled volume 147
(SD 46) % of normal, ejection 64 (SD 12) %, predicted wall stress below 120 x 10^3 dyn/cm2, pressure
ratio above 0.83. Kept to judge; population: prepared by a band. Tolerance: one published SD; the
limits as printed.
"""

from __future__ import annotations

import pytest
from witness.situations import EACH_LAW, ours


@EACH_LAW
def test_filled_volume_and_ejection_lie_within_one_sd(law: str) -> None:
    """Cavity and ejection after a band are those of survivors."""
    assert ours("band", law)["edv_9_d_pct_of_normal"] == pytest.approx(147.0, abs=46.0)
    assert ours("band", law)["ef_9_d_pct"] == pytest.approx(64.0, abs=12.0)


@EACH_LAW
def test_the_prepared_wall_passes_both_limits(law: str) -> None:
    """After a band predicted stress lies below the limit and the pressure ratio above."""
    assert ours("band", law)["predicted_stress_9_d_kdyn_cm2"] < 120.0
    assert ours("band", law)["ratio_9_d"] > 0.83


@EACH_LAW
def test_the_unprepared_wall_fails_both_limits(law: str) -> None:
    """Two months after birth, without a band, it is the other way round."""
    told = ours("late_left_ventricle", law)
    assert told["predicted_stress_kdyn_cm2_60_d"] > 120.0
    assert told["pressure_ratio_60_d"] < 0.83
