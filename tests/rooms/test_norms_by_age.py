"""Bodies, growth, vital signs, blood and oxygen from birth to forty years."""

from __future__ import annotations

import hashlib
import runpy
from importlib.resources import files
from pathlib import Path

import pytest

from inseries.base.errors import NormsError
from inseries.norms import blood, growth, pressure, vitals
from inseries.norms.body import CDC_Z_LIMIT, SEAMS, body_at, references_at
from inseries.norms.growth_scores import growth_scores
from inseries.norms.later_growth import cdc_2000, who_2007
from inseries.norms.oxygen_equations import consumptions_for
from inseries.norms.size_scores import Child

ROOT = Path(__file__).resolve().parents[2]
BOY = Child(weight_kg=3.5, length_cm=50.0, age_days=5, sex="male")
TEN = Child(weight_kg=31.2, length_cm=137.8, age_days=3652.5, sex="male")

# First sixteen digits of the checksum of each table that was typed or written by a tool: a change
# of a digit is meant, and checked against its source, before it is written here.
TYPED = {
    "cdc2000.toml": "e837b7ae063044cf",
    "phn2017.toml": "fdc0d6d5fa5a7e95",
    "newborn_cmr.toml": "66c4bdffaf135438",
    "echo_sizes.toml": "43ce1b797d70c81b",
    "other_sizes.toml": "2f627aa9accc447f",
    "pressure_by_age.toml": "c6ce315c98979fb7",
}


@pytest.mark.parametrize("name", TYPED)
def test_typed_tables_have_not_moved(name: str) -> None:
    """Not a digit of a typed table changes unnoticed."""
    text = files("inseries.norms").joinpath(name).read_bytes()
    assert hashlib.sha256(text).hexdigest()[:16] == TYPED[name]


def test_the_page_of_norms_says_what_the_tables_say() -> None:
    """docs/reference/norms.md is what the tables are now (`python tools/publish_norms.py`)."""
    tool = runpy.run_path(str(ROOT / "tools" / "publish_norms.py"))
    page = (ROOT / "docs" / "reference" / "norms.md").read_text(encoding="utf-8")
    assert page == tool["page"]()


@pytest.mark.parametrize(
    ("years", "keys"),
    [
        (0.0, ("who2006",)),
        (4.4, ("who2006",)),
        (5.0, ("who2006", "who2007")),
        (6.0, ("who2007",)),
        (9.5, ("who2007", "cdc2000")),
        (10.0, ("cdc2000",)),
        (40.0, ("cdc2000",)),
    ],
)
def test_a_body_names_its_references(years: float, keys: tuple[str, ...]) -> None:
    """Where two references are mixed both are named; the seams are listed in words."""
    assert references_at(years) == keys
    assert body_at("female", years).references == keys
    assert len(SEAMS) == 4


def test_a_body_is_its_reference_where_there_is_one() -> None:
    """Away from the seams a body is the reference's own, and past twenty the last row, said so."""
    assert body_at("male", 1.0).weight_kg == growth.weight_kg("male", 365.25)
    assert body_at("male", 7.0).length_cm == who_2007("length", "male", 7 * 365.25).median
    assert body_at("male", 15.0, 1.0).weight_kg == cdc_2000("weight", "male", 15 * 365.25).value(
        1.0
    )
    grown, later = body_at("male", 20.0), body_at("male", 33.0)
    assert (later.weight_kg, later.length_cm) == (grown.weight_kg, grown.length_cm)
    assert (grown.held, later.held) == (False, True)


@pytest.mark.parametrize(
    ("years", "z", "code"),
    [
        (-0.1, 0.0, "age_outside_table"),
        (40.5, 0.0, "age_outside_table"),
        (1.0, 3.5, "beyond_three_deviations"),
        (15.0, CDC_Z_LIMIT + 0.1, "beyond_two_deviations"),
    ],
)
def test_bodies_that_no_reference_gives_are_refused(years: float, z: float, code: str) -> None:
    """Before birth, past forty, and past the centiles that a reference was fitted to."""
    with pytest.raises(NormsError) as refusal:
        body_at("male", years, z)
    assert refusal.value.code == code


def test_growth_is_told_by_every_reference_that_holds() -> None:
    """One answer in infancy, two from two years on, none of WHO for weight past ten."""
    ages = {10: ["who2006"], 900: ["who2006", "cdc2000"], 3000: ["who2007", "cdc2000"]}
    for day, keys in ages.items():
        assert [s.source for s in growth_scores("weight", "male", day, 10.0)] == keys
    assert [s.source for s in growth_scores("weight", "male", 4000, 36.0)] == ["cdc2000"]
    assert len(growth_scores("length", "male", 4000, 143.0)) == 2
    with pytest.raises(NormsError, match="20 years"):
        growth_scores("weight", "male", 9000, 70.0)


def test_growth_beyond_three_deviations_has_no_z() -> None:
    """A weight far out keeps its medians and gets no Z."""
    (found,) = growth_scores("weight", "female", 3, 35.0)
    assert found.z is None
    assert found.median == pytest.approx(3.2, abs=0.1)


def test_pressures_by_age_stand_side_by_side() -> None:
    """From one year on two references, newest first; before, one; at eleven months none."""
    two = vitals.pressures_for("female", 5 * 365.25)
    assert [each.source for each in two] == ["flynn2017", "nhbpep2004"]
    assert [each.systolic.value for each in two] == [93.0, 93.0]
    assert [each.diastolic.high for each in two] == [71.0, 72.0]
    assert [p.source for p in vitals.pressures_for("male", 2.0)] == ["kent2007"]
    assert [p.source for p in vitals.pressures_for("male", 91.3125)] == ["gemelli1990"]
    for day in (29.0, 330.0, 7000.0):
        with pytest.raises(NormsError, match="1 to 17 years"):
            vitals.pressures_for("male", day)


def test_pressure_between_ages_is_derived() -> None:
    """On a printed age the row itself, between two a straight line that says so."""
    on, between = vitals.pressures_for("male", 365.25)[0], vitals.pressures_for("male", 548.0)[0]
    assert on.systolic.provenance == "published"
    assert between.systolic.provenance == "derived"
    assert 86.0 < between.systolic.value < 89.0


def test_heart_and_breathing_slow_with_age() -> None:
    """After the first month the heart, and from birth the breath, only slow down to 18 years."""
    days = [30.0, 200.0, 500.0, 900.0, 2000.0, 4000.0, 6574.0]
    rates = [pressure.heart_rate_per_min(day).value for day in days]
    breaths = [vitals.breaths_per_min(day).value for day in [0.0, *days]]
    assert rates == sorted(rates, reverse=True)
    assert breaths == sorted(breaths, reverse=True)
    with pytest.raises(NormsError):
        vitals.breaths_per_min(7000.0)


def test_haemoglobin_parts_by_sex_after_nine_years() -> None:
    """To nine years one table, after that girls and boys; without sex it is refused there."""
    assert blood.haemoglobin_g_dl(4 * 365.25).value == pytest.approx(12.5)
    girl, boy = (blood.haemoglobin_g_dl(15 * 365.25, sex).value for sex in ("female", "male"))
    assert girl == pytest.approx(14.0, abs=1e-3)
    assert boy == pytest.approx(14.5, abs=1e-3)
    with pytest.raises(NormsError, match="female or male"):
        blood.haemoglobin_g_dl(15 * 365.25)


def test_oxygen_use_of_a_newborn_is_a_spread_of_answers() -> None:
    """Four answers from 104 to 158 mL/min/m2 in a newborn, LaFarge's equation not among them."""
    found = consumptions_for(BOY, 140.0)
    values = [round(each.per_surface.value) for each in found]
    assert (min(values), max(values)) == (104, 158)
    assert "lafarge1970" not in {key for each in found for key in each.sources}
    assert {each.sources for each in consumptions_for(TEN, 85.0)} == {
        ("lundell1996",),
        ("lafarge1970",),
        ("seckeler2015",),
    }


def test_oxygen_equations_against_hand_working() -> None:
    """3.5 kg, 50 cm, 140 /min gives 142.7; ten years, 85 /min gives LaFarge's 143.8."""
    infant = [e for e in consumptions_for(BOY, 140.0) if "256 infants" in e.people]
    assert infant[0].per_surface.value == pytest.approx(142.7, abs=0.05)
    ten = [e for e in consumptions_for(TEN, 85.0) if e.sources == ("lafarge1970",)]
    assert ten[0].per_surface.value == pytest.approx(143.8, abs=0.05)


def test_oxygen_use_needs_a_rate() -> None:
    """A heart that does not beat uses an equation for nothing."""
    with pytest.raises(NormsError, match="above zero"):
        consumptions_for(BOY, 0.0)
