"""Left mass by echo four months after birth, and after three more behind a band with a shunt.

Who: Cevik et al. 2019, Cardiol Young 29:649, abstract: 19 infants of 122 (SD 46) days taken in for
a mass below 35 g/m2: 26.6 (4.8) g/m2, after 98 (43) days 70.5 (12). Kept to judge; lumen and shunt
are supposed, and mass is carried from the scale of magnetic resonance to that of echo by the ratio
of newborn means. Tolerance: one published SD. The second figure meets a ceiling chosen beforehand.
"""

from __future__ import annotations

import pytest
from witness.situations import EACH_LAW, ours


@EACH_LAW
def test_mass_of_the_unprepared_ventricle(law: str) -> None:
    """Four months after birth the index is the published one."""
    assert ours("late_training", law)["echo_mass_before_g_m2"] == pytest.approx(26.6, abs=4.8)


@EACH_LAW
def test_mass_after_months_of_training(law: str) -> None:
    """Three months behind a band with a shunt it is the published one."""
    assert ours("late_training", law)["echo_mass_after_g_m2"] == pytest.approx(70.5, abs=12.0)
