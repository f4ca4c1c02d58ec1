"""Sizes of the heart: every reference beside the others, each with its own body surface."""

from __future__ import annotations

import math

import pytest

from inseries.base.errors import NormsError
from inseries.base.sources import bibliography
from inseries.norms.size_forms import Build, normal
from inseries.norms.size_references import items, made, references, references_for
from inseries.norms.size_scores import Child, scores, usual, z_by_surface
from inseries.norms.surface import body_surface_m2

BOY = Child(weight_kg=3.3464, length_cm=49.8842, age_days=3, sex="male")
MAN = Child(weight_kg=70.0, length_cm=176.0, age_days=17 * 365.25, sex="male")


def _sources(item: str, child: Child, method: str = "echo-2d") -> list[str]:
    return [score.reference.made.source for score in usual(item, child, method)]


def test_every_reference_names_source_people_method_and_range() -> None:
    """No row without its source, its people, its method, its ages, and how far it was read."""
    assert len(references()) > 120
    for each in references():
        assert each.made.source in bibliography()
        assert each.made.people
        assert each.made.seen
        assert each.methods
        assert each.unit
        assert each.made.ages[0] < each.made.ages[1]


def test_every_reference_gives_a_size_at_both_ends_of_its_range() -> None:
    """From its smallest to its largest child a reference gives positive sizes that rise with Z."""
    for each in references():
        low, high = each.made.surface_m2 or (0.22, 1.9)
        for surface, length, years in ((low, 50.0, 0.0), (high, 176.0, each.made.ages[1])):
            build = Build(surface_m2=surface, length_cm=length, age_years=years, weight_kg=3.5)
            curve = normal(each.form, each.coefficients, each.sd, build, each.unit_factor)
            assert curve.value(0.0) > 0.0
            if curve.spread is not None:
                assert 0.0 < curve.value(-2.0) < curve.value(0.0) < curve.value(2.0)


def test_references_that_disagree_stand_together() -> None:
    """A newborn's pulmonary annulus of 9 mm is scored by five references, none averaged."""
    found = scores("pulmonary_annulus_mm", 9.0, BOY)
    assert [s.reference.made.source for s in found.held] == [
        "lopez2017",
        "cantinotti2014",
        "cantinotti2017",
        "pettersen2008",
        "daubeney1999",
    ]
    assert found.z_range == pytest.approx((0.03, 1.05), abs=0.1)


def test_each_reference_gets_its_own_body_surface() -> None:
    """Haycock, Du Bois and Boyd stand in one answer, each where its reference was made with it."""
    found = {s.reference.made.source: s.surface_m2 for s in usual("aortic_annulus_mm", BOY)}
    for source, formula in {
        "lopez2017": "haycock",
        "pettersen2008": "du-bois",
        "daubeney1999": "boyd",
    }.items():
        assert found[source] == body_surface_m2(BOY.weight_kg, BOY.length_cm, formula)


def test_a_surface_by_another_formula_is_refused() -> None:
    """A Haycock surface gives no Z where the reference was made with Du Bois."""
    american = next(
        each for each in references_for("aortic_root_mm") if each.made.source == "pettersen2008"
    )
    given = {"surface_m2": 0.2043, "age_years": 0.01}
    assert z_by_surface(american, 9.5, formula="du-bois", **given) is not None
    with pytest.raises(NormsError, match="du-bois") as refusal:
        z_by_surface(american, 9.5, formula="haycock", **given)
    assert refusal.value.code == "other_surface_formula"


def test_a_reference_by_length_takes_no_surface() -> None:
    """The ventricle by length cannot be asked by body surface."""
    japanese = next(each for each in references_for("lv_edd_mm") if each.form == "length")
    with pytest.raises(NormsError, match="weight, length and sex"):
        z_by_surface(japanese, 19.0, surface_m2=0.22, formula="haycock", age_years=0.01)


@pytest.mark.parametrize(
    ("weight", "length", "age_days"),
    [(180.0, 180.0, 3.0), (35.0, 50.0, 3.0), (3.5, 50.0, 3650.0), (0.035, 50.0, 3.0)],
)
def test_a_surface_that_no_child_of_the_age_has_is_refused(
    weight: float, length: float, age_days: float
) -> None:
    """Three square metres for a newborn, a slip of ten in weight, a newborn's at ten years."""
    child = Child(weight_kg=weight, length_cm=length, age_days=age_days, sex="female")
    with pytest.raises(NormsError, match="check weight in kg") as refusal:
        scores("aortic_annulus_mm", 7.0, child)
    assert refusal.value.code == "surface_outside"


def test_a_preterm_newborn_is_not_refused() -> None:
    """Babies of 1 kg and of 0.4 kg are small, not slips."""
    for weight, length, surface in ((1.0, 36.0, 0.1), (0.4, 27.0, 0.055)):
        child = Child(weight_kg=weight, length_cm=length, age_days=3.0, sex="female")
        assert child.surface_m2() == pytest.approx(surface, abs=0.01)


def test_an_age_past_the_table_is_refused_with_what_to_try() -> None:
    """At forty-one years there is no body, hence no plausible surface."""
    old = Child(weight_kg=70.0, length_cm=176.0, age_days=41 * 365.25, sex="male")
    with pytest.raises(NormsError, match="40 years"):
        scores("aortic_root_mm", 34.0, old)


def test_references_outside_their_range_say_so() -> None:
    """A reference of the first three years says why it is silent at seventeen."""
    found = {n.reference.made.source: n.why for n in scores("aortic_root_mm", 30.0, MAN).not_held}
    assert found["cantinotti2014"] == "made from 0 to 3 years"


def test_the_hand_over_is_shown_as_two_answers() -> None:
    """From 15 to 20 years a root has a child's and an adult's answer; past 18 the first says so."""
    for years in (15.5, 17.0, 19.0):
        child = Child(weight_kg=70.0, length_cm=176.0, age_days=years * 365.25, sex="male")
        found = scores("aortic_root_mm", 34.0, child)
        by = {s.reference.made.source: s for s in found.held}
        assert {"lopez2017", "devereux2012"} <= set(by)
        assert by["lopez2017"].z is not None
        assert by["devereux2012"].z is not None
        assert by["lopez2017"].z > by["devereux2012"].z + 1.0
        carried = any("hand-over" in note for note in by["lopez2017"].notes)
        assert carried == (years > 18.0)
    grown = Child(weight_kg=70.0, length_cm=176.0, age_days=21 * 365.25, sex="male")
    assert set(_sources("aortic_root_mm", grown)) == {"devereux2012"}


def test_only_the_root_is_carried_past_eighteen() -> None:
    """At nineteen an annulus has no reference any more, and none is stretched."""
    child = Child(weight_kg=70.0, length_cm=176.0, age_days=19 * 365.25, sex="male")
    assert "lopez2017" not in _sources("aortic_annulus_mm", child)


def test_methods_are_not_mixed() -> None:
    """Echo, M-mode and CMR masses each find their own references, and none of another."""
    assert _sources("lv_mass_g", BOY) == ["lopez2017"]
    assert _sources("lv_mass_g", BOY, "cmr") == ["jhaveri2023"]
    assert _sources("lv_mass_g", BOY, "echo-m-mode") == ["cantinotti2014"]
    assert "kampmann2000" in _sources("lv_wall_mm", BOY, "echo-m-mode")
    assert usual("lv_mass_g", BOY, "clinical-estimate") == ()


def test_between_week_one_and_seven_months_there_is_no_cmr_reference() -> None:
    """A baby of three months has no CMR reference: none is stretched from either side."""
    child = Child(weight_kg=6.0, length_cm=60.0, age_days=91.0, sex="female")
    found = scores("lv_edv_ml", 15.0, child, "cmr")
    assert not found.held
    assert found.z_range is None


def test_sex_not_stated_silences_only_what_asks_for_it() -> None:
    """Without sex the references for both still answer, those by sex say what they need."""
    child = Child(weight_kg=30.0, length_cm=135.0, age_days=3650.0)
    found = scores("aortic_root_mm", 22.0, child)
    assert found.held
    silent = {n.reference.made.source: n.why for n in found.not_held}
    assert "sex is not stated" in silent["gautier2010"]


def test_a_limit_is_no_z() -> None:
    """The mass by height gives an upper limit only: 45 g/m2.7 for a boy past nine years."""
    child = Child(weight_kg=32.0, length_cm=140.0, age_days=3650.0, sex="male")
    found = {s.reference.made.source: s for s in scores("lv_mass_g", 80.0, child).held}[
        "khoury2009"
    ]
    assert found.z is None
    assert found.expected is None
    assert found.high == pytest.approx(45.0 * 1.4**2.7)


def test_what_was_read_second_hand_says_so() -> None:
    """Coefficients that came through an open calculator carry a note; the network's own do not."""
    found = {s.reference.made.source: s.notes for s in usual("aortic_annulus_mm", BOY)}
    assert any("open calculator" in note for note in found["pettersen2008"])
    assert found["lopez2017"] == ()


def test_taken_surface_formula_is_said() -> None:
    """Where the formula of body surface was not read, the answer says that Haycock was taken."""
    (cmr,) = usual("lv_mass_g", BOY, "cmr")
    assert any("Haycock taken" in note for note in cmr.notes)


def test_a_size_of_zero_and_an_unknown_item_are_refused() -> None:
    """A size is above zero; an unknown item names its nearest."""
    with pytest.raises(NormsError, match="above zero"):
        scores("aortic_annulus_mm", 0.0, BOY)
    with pytest.raises(NormsError, match="aortic_annulus_mm"):
        scores("aortic_anulus_mm", 7.0, BOY)


def test_first_reference_is_the_networks() -> None:
    """The default of every echo item is the Pediatric Heart Network's, as before."""
    echo = [item for item in items() if references_for(item)[0].made.source == "lopez2017"]
    assert len(echo) == 34
    assert set(made().values()) == {each.made for each in references()}


def test_cmr_deviations_are_in_the_decimal_logarithm() -> None:
    """Two deviations of a boy's ventricle are 22 % up and 18 % down, as printed."""
    child = Child(weight_kg=28.5, length_cm=131.0, age_days=9 * 365.25, sex="male")
    (boy,) = usual("lv_edv_ml", child, "cmr")
    assert boy.low is not None
    assert boy.high is not None
    assert boy.expected is not None
    assert boy.high / boy.expected == pytest.approx(10 ** (2 * 0.0426))
    assert math.log10(boy.expected / boy.low) == pytest.approx(2 * 0.0426)


@pytest.mark.parametrize(
    ("weight", "length", "mean", "upper"),
    [(3.5, 50.0, 2.6, 3.7), (2.0, 44.0, 2.4, 3.5)],
)
def test_a_printed_table_is_read_on_its_rows(
    weight: float, length: float, mean: float, upper: float
) -> None:
    """The wall of the right ventricle of a newborn comes by weight, as the table prints it."""
    child = Child(weight_kg=weight, length_cm=length, age_days=3.0, sex="female")
    (found,) = usual("rv_wall_mm", child, "echo-m-mode")
    assert found.expected == pytest.approx(mean)
    assert found.high == pytest.approx(upper)
    assert found.surface_m2 is None


def test_a_printed_table_ends() -> None:
    """Over four kilograms yet under a quarter of a square metre the table has no row."""
    child = Child(weight_kg=4.4, length_cm=50.0, age_days=20.0, sex="female")
    found = scores("rv_wall_mm", 2.6, child, "echo-m-mode")
    assert {n.why for n in found.not_held} >= {"made from 2 to 4 kg"}
