"""What one more reading would be worth: against a case with an answer on paper, and without any."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from inseries.desk.worth import Asked, Scale

if TYPE_CHECKING:
    from rooms.conftest import Asked as Baby

    from inseries.prior.traits import Floats

SPREAD = 8.0


def _scale(count: int, seed: int) -> tuple[Scale, Floats]:
    days = np.random.default_rng(seed).normal(30.0, SPREAD, count)
    return Scale(days, np.ones(count, dtype=np.int64)), days


@pytest.mark.parametrize("error", [0.5, 1.0, 2.0])
def test_worth_of_a_normal_reading_is_that_on_paper(error: float) -> None:
    """Normal days read with a normal error: the interval shrinks by the textbook factor."""
    told: list[float] = []
    for seed in range(8):
        scale, days = _scale(200, seed)
        values = days / SPREAD
        told.append(scale.worth([Asked(values=values, sd=np.full(200, error))]).mean())
    width = 2.0 * 1.645 * SPREAD
    paper = width * (1.0 - np.sqrt(error**2 / (1.0 + error**2)))
    assert np.mean(told) == pytest.approx(paper, abs=0.08 * width)


def test_a_reading_that_has_nothing_to_do_with_it_is_worth_nothing() -> None:
    """Its worth lies around zero and its error covers zero."""
    for seed in range(10):
        scale, _ = _scale(120, seed)
        other = np.random.default_rng(100 + seed).standard_normal(120)
        again = scale.worth([Asked(values=other, sd=np.full(120, 0.5))])
        assert abs(again.mean()) < 2.0
        assert np.percentile(again, 5.0) <= 0.2


def test_two_readings_are_worth_more_than_one() -> None:
    """The same quantity read twice narrows more than read once, and less than twice as much."""
    scale, days = _scale(200, 1)
    one = Asked(values=days / SPREAD, sd=np.full(200, 1.0))
    single, double = scale.worth([one]).mean(), scale.worth([one, one]).mean()
    assert single < double < 2.0 * single


def test_a_better_reading_is_worth_more() -> None:
    """Half the error, more taken off."""
    scale, days = _scale(150, 2)
    worth = [
        scale.worth([Asked(values=days / SPREAD, sd=np.full(150, sd))]).mean()
        for sd in (2.0, 1.0, 0.5)
    ]
    assert worth == sorted(worth)


@pytest.mark.parametrize("name", ["harbour", "ridge", "tight", "thin"])
def test_measurements_say_when_and_how_much(name: str, request: pytest.FixtureRequest) -> None:
    """Each named reading is worth more than its error, on one of the days that were weighed."""
    asked: Baby = request.getfixturevalue(name)
    for item in asked.window.next_measurements:
        assert 0.0 < item.low <= item.worth_days <= item.high
        assert item.worth_days < item.interval_days
        days = [on.day for on in item.by_day]
        assert item.when_day in days
        assert days == sorted(days)
        assert days[0] == pytest.approx(asked.case.age_days, abs=0.01)
        assert "days of window" in item.words
