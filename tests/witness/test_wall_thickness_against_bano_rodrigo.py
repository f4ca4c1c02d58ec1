"""Thickness of the unloaded left wall against 92 transposed and 189 normal hearts at autopsy.

Who: Bano-Rodrigo et al. 1980, abstract in an index record: with intact septum the wall stays
constant to four years and is thinner than normal after four months; with a ventricular defect it is
like normal. Kept to judge. Tolerance: 10 %, a tenth of a millimetre in three, since no spread was
seen. Mass: Yasui et al. 1989, J Thorac Cardiovasc Surg 98:601, abstract, met left ventricles below
0.6 of normal mass among children of up to three years; direction only.
"""

from __future__ import annotations

import pytest
from witness.situations import EACH_LAW, each_law_but, ours


@EACH_LAW
def test_with_intact_septum_the_wall_is_thinner_than_normal(law: str) -> None:
    """At four months the wall is thinner than in health, and its mass lower."""
    assert ours("wall_thickness", law)["intact_over_normal_late"] < 1.0
    assert ours("wall_thickness", law)["intact_mass_over_normal_late"] < 1.0


@each_law_but(
    emptied_stretch="a defect loads by volume: fibres end the beat hardly longer than usual"
)
def test_with_a_defect_the_wall_is_like_normal(law: str) -> None:
    """At four months the wall with a ventricular defect is that of health."""
    assert ours("wall_thickness", law)["defect_over_normal_late"] == pytest.approx(1.0, abs=0.1)


@EACH_LAW
def test_a_defect_protects_the_wall(law: str) -> None:
    """At a month the left ventricle with a defect is heavier than without."""
    assert ours("protection", law)["defect_mass_over_none"] > 1.0


@EACH_LAW
@pytest.mark.xfail(
    strict=True,
    reason="our unprepared ventricle widens as it thins, and no law lays down fibrous tissue",
)
def test_with_intact_septum_the_wall_stays_constant(law: str) -> None:
    """At four months the wall is as thick as at birth."""
    assert ours("wall_thickness", law)["intact_late_over_birth"] == pytest.approx(1.0, abs=0.1)
