"""The published schema of every answer."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from datetime import datetime  # noqa: TC003 - the schema reads the type
from typing import TYPE_CHECKING, Any

import pytest
from jsonschema import Draft202012Validator, ValidationError
from rooms import fake_verbs  # noqa: TC002 - the schema reads the type
from rooms.fake_verbs import GUESS, guess

from inseries.base.errors import CaseError
from inseries.desk.answer import refuse
from inseries.desk.schema import UCUM_PATTERN, answer_schema, schema_text
from inseries.desk.verbs import Verb

if TYPE_CHECKING:
    from pathlib import Path


def _validator() -> Draft202012Validator:
    return Draft202012Validator(answer_schema([GUESS]))


def _answer() -> dict[str, Any]:
    return json.loads(guess("harbour-07").to_json())


def test_published_schema_is_current(root: Path) -> None:
    """The file under docs is what the code says now (`python tools/publish_schema.py`)."""
    published = root / "docs" / "reference" / "answer.schema.json"
    assert published.read_text(encoding="utf-8") == schema_text()


def test_schema_is_a_schema() -> None:
    """What is published obeys the rules of JSON Schema 2020-12."""
    Draft202012Validator.check_schema(answer_schema())
    Draft202012Validator.check_schema(answer_schema([GUESS]))


def test_answers_obey_the_schema() -> None:
    """A result and a refusal of a registered verb both pass."""
    _validator().validate(_answer())
    _validator().validate(json.loads(refuse("guess", CaseError("no", code="no")).to_json()))


@pytest.mark.parametrize(
    ("place", "wrong"),
    [
        (("verb",), "unheard"),
        (("case",), 7),
        (("refused",), {"code": "x"}),
        (("result",), None),
        (("result", "colour"), "green"),
        (("result", "pair"), [1.0]),
        (("result", "sure"), "yes"),
        (("result", "seed"), 1.5),
        (("result", "parts", 0, "try"), "never"),
        (("result", "parts", 0, "size", "unit"), "mmHg"),
        (("cautions", 0, "severity"), "loud"),
        (("run", "criteria"), [1]),
    ],
)
def test_wrong_answers_are_caught(place: tuple[str | int, ...], wrong: object) -> None:
    """One wrong value anywhere fails the schema."""
    answer = _answer()
    inside: Any = answer
    for step in place[:-1]:
        inside = inside[step]
    inside[place[-1]] = wrong
    with pytest.raises(ValidationError):
        _validator().validate(answer)


@pytest.mark.parametrize("name", ["inseries", "result", "run", "sources"])
def test_missing_keys_are_caught(name: str) -> None:
    """An answer without one of its keys fails the schema."""
    answer = _answer()
    del answer[name]
    with pytest.raises(ValidationError):
        _validator().validate(answer)


def test_a_field_may_be_added() -> None:
    """A reader that knows today's schema also reads a result with one more field."""
    answer = _answer()
    answer["result"]["newly_found"] = 1
    _validator().validate(answer)


@dataclass(frozen=True, slots=True, kw_only=True)
class Dated:
    """A result that would carry a date."""

    born: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """Another record with the name of the fake's part."""

    other: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Both:
    """Two records of one name."""

    one: Part
    two: fake_verbs.Part


@pytest.mark.parametrize(("result", "why"), [("Dated", "ages, not dates"), ("Both", "called Part")])
def test_results_that_cannot_be_told_are_refused(result: str, why: str) -> None:
    """A date in a result, or two records of one name, stop the schema from being made."""
    verb = Verb(name="dated", question="?", module=__name__, function="f", result=result, takes=())
    with pytest.raises(TypeError, match=why):
        answer_schema([verb])


@pytest.mark.parametrize(
    "unit",
    ["", "%", "1", "mm[Hg]", "g/m2", "mL/min/kg", "L/min/m2", "kdyn/cm2", "d", "/min", "mmol/L",
     "[pH]", "g/dL", "mm", "ng/kg/min", "mm[Hg].min/mL"],
)  # fmt: skip
def test_units_in_use_are_ucum(unit: str) -> None:
    """The pattern of units takes the UCUM units of a bedside."""
    assert re.match(UCUM_PATTERN, unit)


@pytest.mark.parametrize("unit", ["mmHg", "ml", "beats/min", "g/m²", "percent", "g/", "days"])
def test_other_spellings_are_not_ucum(unit: str) -> None:
    """The pattern of units refuses everyday spellings."""
    assert not re.match(UCUM_PATTERN, unit)
