"""What holds for every case and every unit."""

from __future__ import annotations

import contextlib
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inseries.base.errors import CaseError
from inseries.base.units import UNITS, convert, same_quantity
from inseries.case import canonical, read_case
from inseries.case.keys import bounds, keys

NUMBERS = [key for key in keys().values() if not key.choices]
WORDS = [key for key in keys().values() if key.choices]


@st.composite
def _values(draw: st.DrawFn, age_h: float) -> dict[str, object]:
    told: dict[str, object] = {}
    for key in draw(st.lists(st.sampled_from(NUMBERS), min_size=1, max_size=4, unique=True)):
        low, high = bounds(key, age_h / 24)
        # A thousandth inside: ages are rounded when written, and bounds move with age.
        margin = (high - low) / 1000
        told[key.name] = draw(st.floats(low + margin, high - margin))
        if draw(st.booleans()):
            told[f"{key.stem}_method"] = f'"{draw(st.sampled_from(key.methods))}"'
        if draw(st.booleans()):
            told[f"{key.name}_sd"] = draw(st.floats(1e-3, min(key.high - key.low, 5.0)))
    for key in draw(st.lists(st.sampled_from(WORDS), max_size=2, unique=True)):
        told[key.name] = f'"{draw(st.sampled_from(key.choices))}"'
    return told


@st.composite
def _texts(draw: st.DrawFn) -> str:
    lines = ['[case]\nid = "law"\nsex = "male"\n[anatomy]\nsegments = "{S,D,D}"']
    for age_h in draw(st.lists(st.floats(0, 2000), max_size=4)):
        lines += ["[[readings]]", f"age_h = {age_h!r}"]
        lines += [f"{name} = {value}" for name, value in draw(_values(age_h)).items()]
    if draw(st.booleans()):
        lines += ["[[events]]", f"age_h = {draw(st.floats(0, 2000))!r}", 'kind = "septostomy"']
    return "\n".join(lines) + "\n"


@given(_texts())
def test_writing_and_reading_a_case_changes_nothing(text: str) -> None:
    """A case, written canonically and read again, has the same digest and the same text."""
    case = read_case(text)
    again = read_case(canonical(case))
    assert again.digest == case.digest
    assert canonical(again) == canonical(case)
    assert again.readings == () or again.age_days == pytest.approx(case.age_days, abs=1e-5)


@given(st.sampled_from(NUMBERS), st.floats(allow_nan=True, allow_infinity=True))
def test_a_number_is_taken_within_its_bounds_or_refused(key: object, number: float) -> None:
    """Any float is either within the bounds of its key and kept as it is, or refused."""
    text = f'[case]\nid = "law"\n[[readings]]\nage_h = 72\n{key.name} = {number!r}\n'
    low, high = bounds(key, 3.0)
    if low <= number <= high or (key.zero and number == 0):
        assert read_case(text).all(key.name)[0].value == number
    else:
        with pytest.raises(CaseError):
            read_case(text)


@given(st.text(alphabet=st.characters(codec="utf-8"), max_size=200))
def test_no_text_breaks_the_reader(text: str) -> None:
    """Any text, alone or after a whole case, is read or refused; nothing else ever happens."""
    for before in ("\n", '[case]\nid = "law"\n[[readings]]\nage_h = 1\nph = 7.3\n'):
        with contextlib.suppress(CaseError):
            read_case(before + text)


@given(st.sampled_from(sorted(UNITS)), st.floats(1e-6, 1e6), st.data())
def test_a_conversion_and_back_is_where_it_began(
    unit: str, number: float, data: st.DataObject
) -> None:
    """Converting to any unit of the same quantity and back gives the number again."""
    others = same_quantity(unit)
    if others:
        other = data.draw(st.sampled_from(others))
        assert convert(convert(number, unit, other), other, unit) == pytest.approx(
            number, rel=1e-12
        )


@given(st.sampled_from(sorted(UNITS)), st.sampled_from(sorted(UNITS)))
def test_only_the_same_quantity_converts(unit: str, other: str) -> None:
    """Two units convert into one another exactly where they measure the same."""
    if UNITS[unit].measures == UNITS[other].measures:
        assert math.isfinite(convert(1.0, unit, other))
    else:
        with pytest.raises(CaseError):
            convert(1.0, unit, other)
