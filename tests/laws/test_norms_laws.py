"""Laws of the norms: inverses close, curves rise."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inseries.norms import blood, growth, oxygen, surface, zscores

SEXES = st.sampled_from(["female", "male"])
DAYS = st.floats(0, 1826)
Z = st.floats(-2.99, 2.99)


@given(SEXES, DAYS, Z)
def test_weight_and_z_are_inverse(sex: growth.Sex, age_days: float, z: float) -> None:
    """A weight made from a z-score gives that z-score back."""
    weight = growth.weight_kg(sex, age_days, z)
    assert growth.weight_z(sex, age_days, weight) == pytest.approx(z, abs=1e-9)


@given(SEXES, DAYS, Z)
def test_length_and_z_are_inverse(sex: growth.Sex, age_days: float, z: float) -> None:
    """A length made from a z-score gives that z-score back."""
    length = growth.length_cm(sex, age_days, z)
    assert growth.length_z(sex, age_days, length) == pytest.approx(z, abs=1e-9)


@given(SEXES, DAYS, Z, Z)
def test_weight_rises_with_z(sex: growth.Sex, age_days: float, a: float, b: float) -> None:
    """At one age a higher z-score never means a lower weight."""
    low, high = sorted((a, b))
    assert growth.weight_kg(sex, age_days, low) <= growth.weight_kg(sex, age_days, high)


@given(st.floats(1.5, 80), st.floats(40, 190), st.sampled_from(list(surface.SurfaceFormula)))
def test_surface_rises_with_weight_and_length(weight: float, length: float, formula: str) -> None:
    """A heavier or longer child has more surface, by every formula."""
    here = surface.body_surface_m2(weight, length, formula)
    assert surface.body_surface_m2(1.05 * weight, length, formula) > here
    assert surface.body_surface_m2(weight, 1.05 * length, formula) > here


@given(st.sampled_from(zscores.echo_items()), st.floats(0.13, 2.5), st.floats(-4, 4))
def test_expected_plus_z_deviations_scores_z(item: str, surface_m2: float, z: float) -> None:
    """A value z deviations above its expectation scores z, at every size."""
    at = zscores.echo_z(item, 1.0, surface_m2)
    made = at.expected + z * at.sd
    assert zscores.echo_z(item, made, surface_m2).z == pytest.approx(z, abs=1e-9)


@given(st.floats(0.1, 99.9), st.floats(18, 30))
def test_saturation_and_pressure_are_inverse(saturation: float, p50: float) -> None:
    """A saturation turned into a pressure and back is the same."""
    pressure = oxygen.po2_mmhg(saturation, p50)
    assert oxygen.saturation_pct(pressure, p50) == pytest.approx(saturation, abs=1e-9)


@given(st.floats(0, 500), st.floats(0, 500), st.floats(18, 30))
def test_saturation_rises_with_pressure(a: float, b: float, p50: float) -> None:
    """More pressure never means less saturation, and it stays between 0 and 100 %."""
    low, high = (oxygen.saturation_pct(p, p50) for p in sorted((a, b)))
    assert 0.0 <= low <= high <= 100.0


@given(st.floats(18, 30))
def test_half_is_saturated_at_p50(p50: float) -> None:
    """At its own P50 every curve is half full."""
    assert oxygen.saturation_pct(p50, p50) == pytest.approx(50.0, abs=0.01)


@given(st.floats(2, 60), st.floats(2, 60))
def test_haemoglobin_falls_after_the_second_day(a: float, b: float) -> None:
    """From day two to day sixty usual haemoglobin only falls."""
    early, late = sorted((a, b))
    assert blood.haemoglobin_g_dl(early).value >= blood.haemoglobin_g_dl(late).value
