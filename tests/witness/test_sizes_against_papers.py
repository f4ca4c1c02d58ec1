"""References of sizes against figures printed by their papers, or worked by hand from them.

Who: Buechel 2009 (an independent worked table prints 64, 78 and 94 mL for -2, 0 and +2 deviations
at 1 m2); Devereux 2012 and Lopez 2017 at twenty years; Nagasawa 2010; the study network's own
regression lines beside its indexed means; an open analysis of donor hearts, which prints the
annulus equations of Cantinotti 2017 and Pettersen 2008 anew; the ratio of coronary to annulus
(Pediatr Cardiol 2003;24:328).
Tolerance: half the last printed digit; the network's lines differ from its indexed means by the
intercept, at most 0.6 of a deviation from 0.3 m2 up; between references, two of their deviations.
"""

from __future__ import annotations

from math import exp, sqrt

import pytest

from inseries.norms.size_forms import Build, normal
from inseries.norms.size_references import Reference, references_for
from inseries.norms.size_scores import Child, usual

NEWBORN = Child(weight_kg=3.3464, length_cm=49.8842, age_days=3, sex="male")


def _one(item: str, source: str, sex: str | None = None, form: str = "") -> Reference:
    found = [
        each
        for each in references_for(item)
        if each.made.source == source and each.sex in {None, sex} and form in each.form
    ]
    return found[0]


def _value(
    each: Reference, z: float, surface: float, length: float = 0.0, age: float = 0.0
) -> float:
    build = Build(surface_m2=surface, length_cm=length, age_years=age)
    return normal(each.form, each.coefficients, each.sd, build, each.unit_factor).value(z)


@pytest.mark.parametrize(("z", "printed"), [(-2, 64), (0, 78), (2, 94)])
def test_cmr_volume_against_buechel(z: float, printed: float) -> None:
    """A boy of 1 m2: the deviation is in the decimal logarithm, as the worked table shows."""
    boy = _one("lv_edv_ml", "buechel2009", "male")
    assert _value(boy, z, 1.0) == pytest.approx(printed, abs=0.51)


def test_root_at_twenty_against_both() -> None:
    """At twenty years and 1.85 m2 the two answers are 28.0 and 31.9 mm; 34 mm is +2.4 and +0.8."""
    child, adult = (
        _one("aortic_root_mm", "lopez2017"),
        _one("aortic_root_mm", "devereux2012", "male"),
    )
    assert _value(child, 0, 1.85) == pytest.approx(28.0, abs=0.05)
    assert _value(adult, 0, 1.85, age=20) == pytest.approx(31.9, abs=0.05)
    build = Build(surface_m2=1.85, length_cm=176.0, age_years=20.0)
    scored = [normal(e.form, e.coefficients, e.sd, build).z(34.0) for e in (child, adult)]
    assert scored == pytest.approx([2.4, 0.8], abs=0.06)


def test_ventricle_against_nagasawa() -> None:
    """A term newborn of 50 cm: 0.352 x 50 + 1.86 = 19.46 mm, and no Z since no spread was read."""
    each = _one("lv_edd_mm", "nagasawa2010")
    assert _value(each, 0, 0.22, length=50.0) == pytest.approx(19.46, abs=0.005)


@pytest.mark.parametrize(
    ("item", "power", "line"),
    [
        ("mitral_annulus_ap_mm", 0.5, (0.082924814, 2.208397289)),
        ("mitral_annulus_lateral_mm", 0.5, (0.142783317, 2.058261615)),
        ("mitral_annulus_area_cm2", 1.0, (0.196597638, 3.757279658)),
    ],
)
def test_indexed_means_against_the_networks_lines(
    item: str, power: float, line: tuple[float, float]
) -> None:
    """From 0.3 m2 up the indexed mean is within 0.6 deviations of the network's own line."""
    each = _one(item, "lopez2017")
    factor = 10.0 if each.unit == "mm" else 1.0
    for surface in (0.3, 0.6, 1.0, 1.6):
        printed = factor * (line[0] + line[1] * surface**power)
        deviation = _value(each, 1, surface) - _value(each, 0, surface)
        assert abs(_value(each, 0, surface) - printed) < 0.6 * deviation


@pytest.mark.parametrize("surface", [0.21, 0.5, 1.0, 1.7])
def test_annulus_against_an_open_analysis_of_donor_hearts(surface: float) -> None:
    """Two equations printed again by others give the same annulus."""
    italian, american = (_one("aortic_annulus_mm", s) for s in ("cantinotti2017", "pettersen2008"))
    assert _value(italian, 0, surface) == pytest.approx(exp(2.750) * surface**0.515, rel=1e-9)
    log = -0.874 + 2.708 * surface - 1.841 * surface**2 + 0.452 * surface**3
    assert _value(american, 0, surface) == pytest.approx(10.0 * exp(log), rel=1e-9)
    assert american.sd[0] == pytest.approx(sqrt(0.01), abs=1e-6)


@pytest.mark.parametrize(
    "item",
    [
        "aortic_annulus_mm",
        "aortic_root_mm",
        "sinotubular_junction_mm",
        "pulmonary_annulus_mm",
        "pulmonary_trunk_mm",
        "right_pulmonary_artery_mm",
        "left_pulmonary_artery_mm",
        "left_main_coronary_mm",
        "right_coronary_mm",
        "lv_edd_mm",
        "lv_wall_mm",
    ],
)
def test_references_agree_on_a_newborn_within_two_deviations(item: str) -> None:
    """Made on three continents, all references call one newborn usual within two deviations."""
    found = usual(item, NEWBORN)
    assert len(found) > 1
    for each in found:
        for other in found:
            if each.low is not None and each.high is not None:
                assert other.expected is not None
                assert each.low < other.expected < each.high


def test_isthmus_is_where_they_disagree() -> None:
    """The newborn isthmus is 4.5 mm by one reference and 5.9 by another: shown, not averaged."""
    found = {s.reference.made.source: s.expected for s in usual("isthmus_mm", NEWBORN)}
    assert found["cantinotti2014"] == pytest.approx(4.48, abs=0.01)
    assert found["lopez2017"] == pytest.approx(5.85, abs=0.01)


@pytest.mark.parametrize(
    ("item", "source", "published"),
    [
        ("left_main_coronary_mm", "lopez2017", 0.15),
        pytest.param(
            "left_main_coronary_mm",
            "olivieri2009",
            0.15,
            marks=pytest.mark.xfail(
                strict=True,
                reason="the ratio gives 1.04 mm, the lower limit is 1.06 mm: the ratio's series "
                "measured narrower left arteries; which segment was not read",
            ),
        ),
        ("right_coronary_mm", "lopez2017", 0.13),
        ("right_coronary_mm", "olivieri2009", 0.13),
    ],
)
def test_coronary_to_annulus_against_the_published_ratio(
    item: str, source: str, published: float
) -> None:
    """The published ratio lies within two deviations of a newborn's coronary artery."""
    annulus = usual("aortic_annulus_mm", NEWBORN)[0].expected
    found = {score.reference.made.source: score for score in usual(item, NEWBORN)}[source]
    assert annulus is not None
    assert found.low is not None
    assert found.high is not None
    assert found.low < published * annulus < found.high
