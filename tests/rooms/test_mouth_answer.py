"""The form of an answer."""

from __future__ import annotations

import json
from dataclasses import dataclass

import pytest
from rooms.fake_verbs import guess

from inseries.base import errors
from inseries.base.errors import CaseError, InseriesError
from inseries.base.findings import Estimate
from inseries.desk.answer import Answer, Shown, refuse
from inseries.desk.plain import plain, ucum

KEYS = ["inseries", "schema", "verb", "case", "result", "refused", "cautions", "sources", "run"]


def _leaves(kind: type[InseriesError]) -> list[type[InseriesError]]:
    below = kind.__subclasses__()
    return [leaf for child in below for leaf in _leaves(child)] if below else [kind]


LEAVES = [leaf for leaf in _leaves(InseriesError) if leaf.__module__ == errors.__name__]


def test_envelope_has_the_published_keys_in_order() -> None:
    """Every answer has the same nine keys in the same order, whatever it holds."""
    assert list(json.loads(guess("a").to_json())) == KEYS
    assert list(json.loads(Answer(verb="x").to_json())) == KEYS


def test_records_become_objects() -> None:
    """Estimates, enums, tuples, optional fields and reserved words have one form in JSON."""
    result = json.loads(guess("a").to_json())["result"]
    assert result["colour"] == "pink"
    assert result["pair"] == [2.0, 3]
    assert result["parts"] == [
        {
            "name": "septum",
            "size": {"value": 0.333333, "unit": "mm[Hg]", "low": 0.1, "high": 0.9},
            "try": "again",
        }
    ]
    assert "shown" not in result
    assert "sentences" not in result


def test_same_question_same_bytes() -> None:
    """The same answer is told in the same bytes."""
    assert guess("a", seed=3).to_json() == guess("a", seed=3).to_json()


@pytest.mark.parametrize("number", [float("nan"), float("inf"), float("-inf")])
def test_a_number_that_is_none_is_raised_at_once(number: float) -> None:
    """NaN or infinity never becomes JSON; the error names its place."""

    @dataclass(frozen=True, slots=True, kw_only=True)
    class Holder:
        parts: tuple[Estimate, ...]

        def shown(self) -> Shown:
            return Shown()

    answer = Answer(verb="x", result=Holder(parts=(Estimate(value=number, unit="g"),)))
    with pytest.raises(ValueError, match=r"result\.parts\[0\]\.value"):
        answer.to_json()


def test_what_json_lacks_is_raised() -> None:
    """A value without a form in JSON, such as a set, is an error and not a guess."""
    with pytest.raises(TypeError, match=r"run\.what holds a set"):
        plain({"what": {1}}, "run")


def test_digits_that_differ_between_machines_are_not_printed() -> None:
    """Two numbers that differ in their last bits print alike; minus zero prints as zero."""
    assert plain(0.1 + 0.2, "x") == plain(0.3, "x")
    assert json.dumps(plain(-0.0, "x")) == "0.0"


@pytest.mark.parametrize("kind", LEAVES, ids=lambda kind: kind.__name__)
def test_every_error_is_a_refusal(kind: type[InseriesError]) -> None:
    """Each leaf of the error tree becomes a refusal with all its fields and exit code 1."""
    error = kind("It is so", code="so", where="here", value=3.5, unit="mmHg", remedy="that.")
    answer = refuse("check", error)
    assert answer.exit_code == 1
    assert json.loads(answer.to_json())["refused"] == {
        "code": "so",
        "where": "here",
        "value": 3.5,
        "unit": "mm[Hg]",
        "try": "that.",
        "what": "It is so",
    }


def test_the_tree_of_errors_was_found() -> None:
    """The leaves above are those drawn at the head of the error tree."""
    drawn = (errors.__doc__ or "").split("Every error")[0]
    assert len(LEAVES) >= 6
    assert all(leaf.__name__ in drawn for leaf in LEAVES)


@pytest.mark.parametrize("value", [float("nan"), float("inf"), 10**400, [1, 2], {"a": 1}])
def test_a_refused_value_may_be_anything(value: object) -> None:
    """What was wrong may be what JSON cannot hold; it is then told as text."""
    told = json.loads(refuse("check", CaseError("no", code="no", value=value)).to_json())
    assert told["refused"]["value"] == str(value)


@pytest.mark.parametrize(
    ("ours", "theirs"),
    [("mmHg", "mm[Hg]"), ("ml/min/kg", "mL/min/kg"), ("g/m2", "g/m2"), ("%", "%"), ("", "")],
)
def test_units_are_told_in_ucum(ours: str, theirs: str) -> None:
    """Spellings of the bedside become UCUM; UCUM stays."""
    assert ucum(ours) == theirs
    assert ucum(theirs) == theirs
