"""Muscle short of blood: the share that is supplied, and bands tried with it."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
import pytest

from inseries.course.laws import LAWS
from inseries.course.laws.failing_limb import RESERVE, Burden, share_supplied
from inseries.desk.experiments.babies import scenario
from inseries.desk.experiments.band import band
from inseries.desk.experiments.failing_limb import AFTER_DAYS, LUMENS_MM, failing_limb

if TYPE_CHECKING:
    from inseries.circuit.network import Floats

ONE = np.ones(1)
HEALTHY = Burden(
    mean_stress_mmhg=104.0 * ONE,
    rate_per_min=148.0 * ONE,
    drive_mmhg=41.0 * ONE,
    content_ml_ml=0.22 * ONE,
)
EACH_LAW = pytest.mark.parametrize("law", LAWS)
AT_ONCE, HALF_DAY, DAYS_3_5, LAST = 0, 1, 2, len(AFTER_DAYS) - 1


@cache
def _told(law: str) -> dict[str, Floats]:
    return failing_limb(None, law=law)


# ---- the share ----------------------------------------------------------------------------------


def test_a_healthy_wall_is_supplied_with_reserve_to_spare() -> None:
    """At rest nothing is lacking, and nothing until the need has grown by the reserve."""
    assert share_supplied(HEALTHY, HEALTHY) == pytest.approx([1.0])
    strained = replace(HEALTHY, mean_stress_mmhg=HEALTHY.mean_stress_mmhg * RESERVE)
    assert share_supplied(strained, HEALTHY) == pytest.approx([1.0])
    beyond = replace(strained, rate_per_min=HEALTHY.rate_per_min * 1.25)
    assert share_supplied(beyond, HEALTHY) == pytest.approx([1.0 / 1.25])


def test_cyanosis_and_low_pressure_take_from_supply_alike() -> None:
    """Half the content at half the drive leaves a quarter of what can be brought."""
    poor = replace(HEALTHY, content_ml_ml=0.11 * ONE, drive_mmhg=20.5 * ONE)
    assert share_supplied(poor, HEALTHY) == pytest.approx([RESERVE / 4.0])


def test_no_drive_brings_nothing() -> None:
    """Where the right atrium stands above diastolic pressure nothing is brought."""
    assert share_supplied(replace(HEALTHY, drive_mmhg=-2.0 * ONE), HEALTHY) == pytest.approx([0.0])


# ---- behind bands -------------------------------------------------------------------------------


@EACH_LAW
def test_pressure_falls_at_once_as_a_band_is_tightened(law: str) -> None:
    """From the loosest lumen on, less supply, pressure, ejection and flow with each tighter one."""
    for name in ("supplied", "lv_systolic_mmhg", "ef_pct", "lung_flow_ml_s"):
        assert (np.diff(_told(law)[name][AT_ONCE]) < 0.0).all(), name


@EACH_LAW
def test_without_the_limb_pressure_would_rise(law: str) -> None:
    """The same bands on a ventricle that never lacks blood raise its pressure."""
    name = f"band_lumen_{law}"
    loose, tight = (
        band(None, {name: lumen}, law=law)["lv_systolic_at_once_mmhg"] for lumen in (7.0, 4.0)
    )
    assert tight > loose


@EACH_LAW
def test_a_band_like_the_fitted_one_dips_and_recovers(law: str) -> None:
    """At 6 mm ejection is lower at 12 h, back by 3.5 d, and the wall then has what it needs."""
    told, place = _told(law), LUMENS_MM.index(6.0)
    before = float(told["ef_before_pct"][0])
    assert told["ef_pct"][HALF_DAY, place] < before - 5.0
    assert told["ef_pct"][DAYS_3_5, place] == pytest.approx(before, abs=5.0)
    assert told["supplied"][AT_ONCE, place] < 0.9
    assert told["supplied"][DAYS_3_5, place] > 0.97


@EACH_LAW
def test_too_tight_a_band_stays_short_of_blood(law: str) -> None:
    """At 4 mm the wall still lacks blood after nine days, and ejection has not come back."""
    told, place = _told(law), LUMENS_MM.index(4.0)
    assert told["supplied"][LAST, place] < 0.9
    assert told["ef_pct"][LAST, place] < float(told["ef_before_pct"][0]) - 10.0


@EACH_LAW
def test_growth_behind_a_fitted_band_is_little_changed(law: str) -> None:
    """Gain and ratio after nine days are within what the band's own fit leaves open."""
    lumen = scenario()[f"band_lumen_{law}"]
    with_limb = failing_limb(None, law=law, lumens_mm=(lumen,))
    without = band(None, law=law)
    assert with_limb["ratio"][LAST, 0] == pytest.approx(without["ratio_9_d"], abs=0.07)
    assert with_limb["mass_gain_pct"][LAST, 0] == pytest.approx(
        without["mass_gain_9_d_pct"], abs=30.0
    )
