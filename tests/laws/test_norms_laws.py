"""Laws of the norms: inverses close, curves rise."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inseries.case.keys import bounds, keys
from inseries.norms import blood, growth, surface, zscores
from inseries.norms.body import body_at
from inseries.norms.size_forms import Build, normal
from inseries.norms.size_references import Reference, references

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


@given(st.floats(0.02, 1.0), st.floats(0, 80), st.floats(0, 80), st.floats(8, 20))
def test_more_transfused_leaves_less_fetal(
    share: float, a: float, b: float, blood_g: float
) -> None:
    """Adult cells only lower the fetal share, the more the lower, and never take all of it."""
    less, more = (
        blood.fetal_share_after_transfusion(share, given_ml, blood_g) for given_ml in sorted((a, b))
    )
    assert 0.0 < more <= less <= share


@given(st.floats(2, 60), st.floats(2, 60))
def test_haemoglobin_falls_after_the_second_day(a: float, b: float) -> None:
    """From day two to day sixty usual haemoglobin only falls."""
    early, late = sorted((a, b))
    assert blood.haemoglobin_g_dl(early).value >= blood.haemoglobin_g_dl(late).value


@given(SEXES, st.floats(0.05, 39.0), st.floats(0.01, 1.0), st.floats(-2, 2))
def test_a_body_never_shrinks(sex: growth.Sex, years: float, step: float, z: float) -> None:
    """Past the first days no change of reference makes a child smaller, at any z within two."""
    now, later = body_at(sex, years, z), body_at(sex, years + step, z)
    assert later.weight_kg >= now.weight_kg * (1.0 - 1e-3)
    assert later.length_cm >= now.length_cm - 1e-9
    assert later.surface_m2 >= now.surface_m2 * (1.0 - 1e-3)


@given(SEXES, st.sampled_from([2.0, 2.5, 4.5, 5.5, 9.0, 10.0, 20.0]), st.floats(-2, 2))
def test_no_seam_is_a_step(sex: growth.Sex, years: float, z: float) -> None:
    """An hour to either side of each change of reference the body is the same."""
    before, after = body_at(sex, years - 1e-4, z), body_at(sex, years + 1e-4, z)
    assert after.weight_kg == pytest.approx(before.weight_kg, rel=2e-4)
    assert after.length_cm == pytest.approx(before.length_cm, rel=2e-4)


@given(st.sampled_from(references()), st.floats(0.2, 1.8), st.floats(-3, 3))
def test_every_reference_scores_back_its_own_values(
    reference: Reference, surface_m2: float, z: float
) -> None:
    """A value made at a Z gives that Z back, in whatever form the reference was published."""
    r, build = reference, Build(surface_m2=surface_m2, length_cm=100.0, age_years=16.0)
    curve = normal(r.form, r.coefficients, r.sd, build, r.unit_factor)
    if curve.spread is None:
        assert curve.z(curve.value(0.0)) is None
    elif curve.scale != "square root" or curve.centre + z * curve.spread > 0.0:
        assert curve.z(curve.value(z)) == pytest.approx(z, abs=1e-6)


@given(SEXES, st.floats(0, 7305), st.floats(-2, 2))
def test_a_case_takes_every_usual_body(sex: growth.Sex, age_days: float, z: float) -> None:
    """The bounds that catch slips in a case never refuse a body that the references call usual."""
    body = body_at(sex, age_days / 365.25, z)
    for name, value in (("weight_kg", body.weight_kg), ("length_cm", body.length_cm)):
        low, high = bounds(keys()[name], age_days)
        assert low < value < high


@given(st.sampled_from([r for r in references() if r.sd]), st.floats(0.2, 1.9), st.floats(-3, 3))
def test_a_case_takes_every_usual_size(reference: Reference, surface_m2: float, z: float) -> None:
    """What a reference calls usual lies within what a case takes for that key."""
    key = keys().get(reference.item)
    if key is None:
        return
    r, build = reference, Build(surface_m2=surface_m2, length_cm=170.0, age_years=16.0)
    value = normal(r.form, r.coefficients, r.sd, build, r.unit_factor).value(z)
    if value > 0.0:
        assert key.low <= value <= key.high


@given(st.sampled_from(zscores.echo_items()), st.floats(0.13, 2.5), st.floats(0.2, 3.0))
def test_the_first_reference_scores_as_echo_z(item: str, surface_m2: float, share: float) -> None:
    """The default among the references is the one that the panel uses alone."""
    alone = zscores.echo_z(item, 1.0, surface_m2)
    value = share * alone.expected
    first = next(r for r in references() if r.item == item)
    build = Build(surface_m2=surface_m2, length_cm=100.0, age_years=5.0)
    curve = normal(first.form, first.coefficients, first.sd, build, first.unit_factor)
    assert curve.z(value) == pytest.approx(zscores.echo_z(item, value, surface_m2).z, abs=1e-9)
