"""What holds for every track, curve and crossing day."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from inseries.desk.window_curve import CHANCE_STEP, first_below, five
from inseries.prior.curve import MOST_NODES, monotone, refined
from inseries.prior.story import Track

AGES = st.lists(st.floats(0.0, 365.0), min_size=1, max_size=8, unique=True).map(sorted)
CHANCES = st.lists(st.floats(0.0, 1.0), min_size=2, max_size=40)


@st.composite
def tracks(draw: st.DrawFn) -> Track:
    """A quantity at some ages."""
    ages = draw(AGES)
    values = draw(st.lists(st.floats(-50.0, 50.0), min_size=len(ages), max_size=len(ages)))
    return Track(ages_days=tuple(ages), values=tuple(values))


@given(tracks(), st.floats(0.0, 400.0))
def test_a_track_stays_between_its_values(track: Track, age: float) -> None:
    """No age gives more or less than was ever said."""
    assert min(track.values) - 1e-9 <= track(age) <= max(track.values) + 1e-9


@given(tracks())
def test_a_track_meets_its_points_and_is_flat_beyond(track: Track) -> None:
    """At each age the value said for it; before the first and after the last nothing changes."""
    for age, value in zip(track.ages_days, track.values, strict=True):
        assert track(age) == value
    assert track(track.ages_days[0] - 1.0) == track.values[0]
    assert track(track.ages_days[-1] + 1.0) == track.values[-1]


@given(st.floats(0.0, 1.0))
def test_a_chance_is_said_in_fives(chance: float) -> None:
    """In steps of five points, never further off than half a step."""
    told = five(chance)
    assert told % CHANCE_STEP == 0
    assert abs(told - 100.0 * chance) <= CHANCE_STEP / 2 + 1e-9


@given(CHANCES, st.floats(0.0, 1.0))
def test_the_first_day_below_comes_after_a_day_at_or_above(
    chances: list[float], level: float
) -> None:
    """None where the level is never reached; else below there, or the horizon if never below."""
    mean, ages = np.array(chances), np.arange(len(chances), dtype=float)
    day = first_below(mean, ages, level, 99.0)
    if (mean < level).all():
        assert day is None
    elif day == 99.0:
        first = int(np.argmax(mean >= level))
        assert (mean[first:] >= level).all()
    else:
        assert day is not None
        assert mean[int(day)] < level
        assert (mean[: int(day)] >= level).any()


@given(
    st.floats(0.0, 45.0),
    st.tuples(st.floats(-10.0, 90.0), st.floats(-10.0, 90.0)),
    st.tuples(st.floats(3.0, 25.0), st.floats(3.0, 25.0)),
)
def test_a_falling_curve_is_known_to_a_point(
    today: float, centres: tuple[float, float], widths: tuple[float, float]
) -> None:
    """Two tiers that fall over days to weeks, tried on at most 16 days, err by a point at most."""
    horizon = max(60.0, np.ceil(today + 30.0))
    ages = np.array([today, *np.arange(horizon, today, -2.0)[::-1]])

    def chances(at: np.ndarray) -> np.ndarray:
        return 1.0 / (1.0 + np.exp((at[:, None] - np.array(centres)) / np.array(widths)))

    known = refined(lambda node: chances(ages[[node]])[0], ages)
    nodes = sorted(known)
    every = np.linspace(today, horizon, 200)
    curve = monotone(ages[nodes], np.array([known[node] for node in nodes]), every)
    assert len(nodes) <= MOST_NODES
    assert np.abs(curve - chances(every)).max() <= 0.01


@given(CHANCES)
def test_a_curve_between_nodes_never_leaves_their_range(chances: list[float]) -> None:
    """Between two nodes the curve lies between their values."""
    nodes = np.arange(len(chances), dtype=float) ** 1.5
    values = np.array(chances)[:, None]
    for left in range(len(chances) - 1):
        curve = monotone(nodes, values, np.linspace(nodes[left], nodes[left + 1], 9))
        low, high = sorted(chances[left : left + 2])
        assert (curve >= low - 1e-9).all()
        assert (curve <= high + 1e-9).all()
