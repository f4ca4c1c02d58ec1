"""A case file becomes a case: ages, methods, errors, order, digest."""

from __future__ import annotations

import json
import tomllib
from dataclasses import fields
from datetime import datetime
from pathlib import Path

import jsonschema
import pytest

from inseries.case import Method, canonical, read_case, schema, skeleton
from inseries.case.keys import keys
from inseries.case.positions import with_seconds

ROOT = Path(__file__).parents[2]
DEMOS = sorted((ROOT / "src/inseries/desk/demo").glob("*.toml"))
TEXT = """\
[case]
id = "x"
born = 2026-03-02T04:10
[[readings]]
at = 2026-03-02T05:00
spo2_right_hand_pct = 58
lv_mass_g = 8.9
lv_mass_sd = 0.9
duct_mm = 3.2
weight_kg = 3.4
method = "echo-2d"
duct_method = "echo-doppler"
source = "a report"
[[events]]
age_h = 0.5
kind = "switch"
leaves_open = ["ductal"]
"""


def test_times_without_seconds_become_ages() -> None:
    """50 minutes after birth is an age of 50/1440 days, though TOML 1.0 asks for seconds."""
    assert read_case(TEXT).readings[0].age_days == pytest.approx(50 / 1440)


def test_zones_are_reckoned_with() -> None:
    """05:00 one hour further west is 06:00 at the place of birth."""
    text = '[case]\nid = "x"\nborn = 2026-03-02T04:00+01:00\n[[readings]]\n'
    case = read_case(text + "at = 2026-03-02T05:00Z\nph = 7.3")
    assert case.readings[0].age_days == pytest.approx(2 / 24)


def test_a_time_inside_a_text_is_left_alone() -> None:
    """Seconds are added to times only, not to texts that speak of one."""
    text = TEXT.replace('"a report"', '"seen at 2026-03-02T05:00"')
    assert read_case(text).readings[0].values[0].source == "seen at 2026-03-02T05:00"


def test_methods_are_per_value_then_reading_then_the_usual_instrument() -> None:
    """A value's own method wins, then the reading's where it can be, then the only usual one."""
    case = read_case(TEXT)
    methods = {v.key: v.method for v in case.readings[0].values}
    assert methods["duct_mm"] == Method.ECHO_DOPPLER
    assert methods["lv_mass_g"] == Method.ECHO_2D
    assert methods["spo2_right_hand_pct"] == Method.OXIMETER
    assert methods["weight_kg"] == Method.SCALE


def test_an_ambiguous_method_stays_open() -> None:
    """A mass without a method has none: echo and CMR are different quantities."""
    case = read_case('[case]\nid = "x"\n[[readings]]\nage_h = 1\nlv_mass_g = 8')
    assert case.all("lv_mass_g")[0].method is None


def test_latest_looks_no_further_than_asked() -> None:
    """The latest value at an age is the last one at or before it."""
    rows = "".join(f"[[readings]]\nage_h = {h}\nlactate_mmol_l = {h}\n" for h in (30, 10, 20))
    case = read_case('[case]\nid = "x"\n' + rows)
    found = case.latest("lactate_mmol_l", 20 / 24)
    assert found is not None
    assert found.value == 20
    assert [v.value for v in case.all("lactate_mmol_l")] == [10, 20, 30]
    assert case.latest("lactate_mmol_l", 5 / 24) is None


def test_the_digest_sees_values_and_neither_label_nor_birthday_nor_source() -> None:
    """Moving a whole case in time or renaming it keeps its digest; a value changes it."""
    digest = read_case(TEXT).digest
    moved = TEXT.replace("2026-03-02", "2025-01-09").replace('"x"', '"y"').replace("report", "note")
    assert read_case(moved).digest == digest
    assert read_case(TEXT.replace("8.9", "8.8")).digest != digest


def test_no_date_leaves_the_reader() -> None:
    """The canonical text of a case holds ages only, and every record but birth holds no date."""
    case = read_case(TEXT)
    assert "2026" not in canonical(case)
    for record in (*case.readings, *case.readings[0].values, *case.events):
        assert not any(isinstance(getattr(record, f.name), datetime) for f in fields(record))


@pytest.mark.parametrize("demo", DEMOS, ids=lambda p: p.stem)
def test_demo_cases_say_that_they_are_invented(demo: Path) -> None:
    """Each demo case begins by saying so, and its id is its name."""
    assert demo.read_text(encoding="utf-8").startswith("# An invented baby")
    assert read_case(demo).id == demo.stem


@pytest.mark.parametrize("demo", DEMOS, ids=lambda p: p.stem)
def test_demo_cases_fit_the_published_schema(demo: Path) -> None:
    """Each demo case, as JSON, is valid by the published schema."""
    tables = tomllib.loads(with_seconds(demo.read_text(encoding="utf-8")))
    jsonschema.Draft202012Validator(schema()).validate(json.loads(json.dumps(tables, default=str)))


@pytest.mark.parametrize(
    "slip", [{"weight_g": 3400}, {"spo2_foot_pct": 130}, {"lv_mass_method": "oximeter"}]
)
def test_the_schema_refuses_what_the_reader_refuses(slip: dict[str, object]) -> None:
    """An unknown key, an impossible value and a wrong method are invalid by the schema too."""
    case = {"case": {"id": "x"}, "readings": [{"age_h": 1, "ph": 7.3}]}
    validator = jsonschema.Draft202012Validator(schema())
    assert validator.is_valid(case)
    case["readings"][0].update(slip)
    assert not validator.is_valid(case)


def test_the_published_schema_is_the_one_in_force() -> None:
    """The schema in the documentation is the one made from the tables, and is a valid schema."""
    published = (ROOT / "docs/reference/case.schema.json").read_text(encoding="utf-8")
    jsonschema.Draft202012Validator.check_schema(schema())
    assert json.loads(published) == schema()


def test_the_skeleton_is_a_case_that_claims_nothing() -> None:
    """The skeleton reads as a case without a single value, and names every key."""
    text = skeleton()
    case = read_case(text)
    assert not case.readings
    assert not case.events
    assert all(f"# {name} =" in text for name in keys())
    assert max(map(len, text.splitlines())) <= 80


def test_a_line_of_the_skeleton_left_empty_is_refused() -> None:
    """A key whose # was taken away but whose value was forgotten does not become a 0."""
    text = skeleton().replace("# [[readings]]", "[[readings]]").replace("# duct_mm", "duct_mm")
    with pytest.raises(ValueError, match=r"after the equals sign"):
        read_case(text)
