"""Sharing a spread out to groups of unknowns: what is known is found, what is not there is not."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from rooms.prior_samples import THIN

from inseries.desk.attribution import shares
from inseries.desk.drivers import GROUPS, Operated, _halves, days_of_window, drivers
from inseries.prior.narrow import snapshot
from inseries.prior.traits import spreads

if TYPE_CHECKING:
    from inseries.prior.traits import Floats

GROUPED = [[0], [1, 2], [3], [4, 5, 6], [7]]


def _draws(count: int, seed: int) -> Floats:
    return np.random.default_rng(seed).standard_normal((count, 8))


def test_a_straight_line_is_shared_out_by_its_slopes() -> None:
    """Independent traits get the squares of their slopes; the shares add up to the spread."""
    z = _draws(400, 1)
    days = 20.0 + 3.0 * z[:, 0] - 2.0 * z[:, 3] + 1.0 * z[:, 5]
    told = shares(z, days, GROUPED)
    assert told.variance == pytest.approx([9.0, 0.0, 4.0, 1.0, 0.0], rel=0.15, abs=0.1)
    assert told.variance.sum() == pytest.approx(days.var(), rel=0.15)
    assert told.explained > 0.98
    assert told.slopes[0] > 0.0 > told.slopes[3]


def test_a_product_belongs_to_both_its_traits() -> None:
    """What two traits do only together is shared in halves."""
    z = _draws(600, 2)
    days = 0.2 * z[:, 0] + 0.2 * z[:, 3] + 3.0 * z[:, 0] * z[:, 3]
    told = shares(z, days, GROUPED)
    assert told.variance[0] == pytest.approx(told.variance[2], rel=0.2)
    assert told.variance[0] + told.variance[2] > 0.9 * days.var()


def test_tied_traits_share_what_they_explain_together() -> None:
    """Of two traits that go together only one acts: both are named, the acting one more."""
    z = _draws(600, 3)
    z[:, 7] = 0.9 * z[:, 0] + np.sqrt(1.0 - 0.9**2) * z[:, 7]
    told = shares(z, 5.0 * z[:, 0], GROUPED)
    assert told.variance[0] > told.variance[4] > 0.2 * told.variance[0]


@pytest.mark.parametrize("count", [60, 200])
def test_a_group_without_effect_is_seldom_named(count: int) -> None:
    """In forty ensembles the error of an idle group covers zero in nine of ten at least."""
    named = np.zeros(len(GROUPED))
    for seed in range(40):
        z = _draws(count, seed)
        noise = np.random.default_rng(1000 + seed).standard_normal(count)
        told = shares(z, 6.0 * z[:, 0] + noise, GROUPED)
        named += np.percentile(told.again, 5.0, axis=0) > 0.0
    assert named[0] == 40
    assert named[1:].max() <= 4


def test_draws_kept_twice_do_not_make_it_surer() -> None:
    """A set of draws and the same set twice give the same shares and the same errors."""
    z = _draws(80, 4)
    days = 3.0 * z[:, 0] + np.random.default_rng(5).standard_normal(80)
    one, two = shares(z, days, GROUPED), shares(np.repeat(z, 2, 0), np.repeat(days, 2), GROUPED)
    assert two.variance == pytest.approx(one.variance)
    assert two.again == pytest.approx(one.again)


def test_every_trait_belongs_to_one_group_at_most() -> None:
    """Groups name traits that exist, none of them twice."""
    named = [trait for group in GROUPS.values() for trait in group]
    assert len(named) == len(set(named))
    assert set(named) <= {trait.name for trait in spreads()}


@given(st.lists(st.floats(0.0, 1.0), min_size=3, max_size=12))
def test_days_of_window_lie_between_none_and_all(chances: list[float]) -> None:
    """Each day counts by its chance: never fewer than none, never more than were looked at."""
    ages = np.arange(len(chances), dtype=np.float64) + 10.0
    days = float(days_of_window(np.array([chances]), ages)[0])
    assert 0.0 <= days <= ages[-1] - ages[0] + 1e-9
    full = days_of_window(np.ones((1, len(chances))), ages)
    assert full[0] == pytest.approx(ages[-1] - ages[0])


def test_a_driver_says_days_way_and_what_more_means() -> None:
    """Days made of muscle strength alone are given to it, longer with stronger muscle."""
    from inseries.case import read_case

    today = snapshot(read_case(THIN), draws=60, seed=1)
    strength = [trait.name for trait in spreads()].index("muscle_strength")
    days = 30.0 + 4.0 * today.baby.traits.z[:, strength]
    first = drivers(today, days)[0]
    assert first.name == "Strength of the muscle"
    assert first.low <= first.effect_days <= first.high
    assert first.low > 0.0
    assert first.share > 0.8
    assert "longer with stronger muscle" in first.words


def test_days_that_do_not_differ_have_no_drivers() -> None:
    """Where every draw has the same window there is nothing to share out."""
    from inseries.case import read_case

    today = snapshot(read_case(THIN), draws=30, seed=1)
    assert drivers(today, np.full(today.baby.traits.members, 40.0)) == ()


def test_what_bypass_leaves_is_named_beside_the_baby() -> None:
    """Days made of strength after bypass, and less of the muscle's, are shared out like that."""
    from inseries.case import read_case

    today = snapshot(read_case(THIN), draws=60, seed=1)
    strength = [trait.name for trait in spreads()].index("muscle_strength")
    mine = today.baby.traits.z[:, strength]
    bypass = np.random.default_rng(7).standard_normal((512, 3))
    own = 3.0 * (mine - mine.mean()) / mine.std()
    met = 30.0 + own[:, None] + 6.0 * bypass[:, 0] - 2.0 * bypass[:, 1]
    told = drivers(today, met.mean(axis=1), Operated(days_met=met, unknowns=bypass))
    names = [item.name for item in told]
    assert names[0] == "Strength after bypass"
    assert "Lung resistance after bypass" not in names
    by_name = {item.name: item for item in told}
    assert by_name["Stiffness after bypass"].effect_days == pytest.approx(-2.0, abs=0.3)
    assert {item.of for item in told} == {"baby", "operation"}
    whole = 3.0**2 + 6.0**2 + 2.0**2
    assert told[0].share == pytest.approx(36.0 / whole, abs=0.05)
    assert by_name["Strength of the muscle"].share == pytest.approx(9.0 / whole, abs=0.05)


def test_what_both_do_only_together_is_halved() -> None:
    """A product of a trait and of what bypass leaves belongs to baby and operation alike."""
    rng = np.random.default_rng(8)
    mine, bypass = rng.standard_normal(400), rng.standard_normal((512, 3))
    met = 30.0 + 4.0 * np.outer(mine - mine.mean(), bypass[:, 0] - bypass[:, 0].mean())
    assert _halves(Operated(days_met=met, unknowns=bypass)) == pytest.approx((0.5, 0.5), abs=0.01)
