"""Two routes beside one another: told from the answer that is there, the same of both."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from inseries.base.errors import InseriesError
from inseries.desk.demonstration import demo_case
from inseries.desk.pair import ORDERS, beside, choices, picked
from inseries.desk.routes import compare_routes
from inseries.desk.routes_rank import MEANINGS
from inseries.desk.sheet import sheet

if TYPE_CHECKING:
    from inseries.desk.answer import Answer


@pytest.fixture(scope="module")
def answer() -> Answer:
    """Routes of an invented baby by few draws."""
    return compare_routes(demo_case("brook-05"), draws=12, seed=1)


def test_two_routes_stand_beside_one_another(answer: Answer) -> None:
    """The picture has their lanes alone, the first table one column each, and no word is new."""
    told = picked(answer, {"pair": "primary_switch,wait"})
    two = sheet(told)
    assert [route.name for route in told.result.routes] == ["wait", "primary_switch"]
    assert "lane-band" not in two.figures[0].svg
    assert "lane-wait" in two.figures[0].svg
    first = two.tables[0]
    assert first.columns == ("what", "wait", "primary switch")
    assert all(len(row) == 3 and all(row) for row in first.rows)
    rows = {row[0]: row[1:] for row in first.rows}
    assert rows["why"] == tuple(route.why for route in told.result.routes)


def test_an_order_is_by_what_was_asked(answer: Answer) -> None:
    """Each thing that can be asked orders the same routes; every offer is one that can be."""
    assert set(ORDERS) == set(MEANINGS)
    for by in ORDERS:
        ordered = picked(answer, {"rank_by": by}).result.ranking
        assert ordered is not None
        assert ordered.by == by
        assert {row.name for row in ordered.rows} == {name for name, _ in choices()}


@pytest.mark.parametrize(
    "asked",
    [
        {"pair": "wait,elsewhere"},
        {"pair": "wait,primary_switch,atrial_switch"},
        {"rank_by": "luck"},
    ],
)
def test_what_is_no_choice_is_refused(answer: Answer, asked: dict[str, str]) -> None:
    """A route or an order that is not there is refused with those that are."""
    with pytest.raises(InseriesError) as caught:
        picked(answer, asked)
    assert caught.value.remedy


def test_what_is_not_asked_stays_as_it_is(answer: Answer) -> None:
    """No pair, half a pair: all five, and no table of two."""
    assert sheet(picked(answer, {"pair": "wait"})) == sheet(answer)
    assert beside(answer.result) == ()
