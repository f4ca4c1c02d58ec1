"""The coarse look: operations beside the walk, begun beside another story, always the same."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from rooms.prior_samples import baby_case, reading

from inseries.desk.criteria import tiers_of
from inseries.prior.narrow import Narrowed, snapshot
from inseries.prior.story import constant
from inseries.prior.window import COARSE_NODES, Outlook, coarse_draws, coarse_outlook


@pytest.fixture(scope="module")
def today() -> Narrowed:
    """Few draws of a girl of twelve days."""
    case = baby_case(reading(288, spo2_right_hand_pct=74))
    return coarse_draws(snapshot(case, draws=10, seed=1))


def _like(today: Narrowed, duct_mm: float | None = None) -> Narrowed:
    """The same draws with work still to count, and another duct if one is given."""
    story = today.baby.story
    if duct_mm is not None:
        story = replace(story, duct_mm=constant(duct_mm))
    return replace(today, baby=today.baby.with_story(story))


def _look(today: Narrowed, beside: Outlook | None = None) -> Outlook:
    return coarse_outlook(
        today, tiers_of(), horizon_day=40.0, seed=1, digest="tests", beside=beside
    )


def test_a_look_is_the_same_each_time_and_counts_all_its_work(today: Narrowed) -> None:
    """Bit for bit, though operations and walk run beside each other; no orbit is lost count of."""
    first, second = _like(today), _like(today)
    looks = [_look(each) for each in (first, second)]
    for tier in looks[0].tiers:
        chances = [look.chance(tier.name, look.node_ages_days) for look in looks]
        assert np.array_equal(*chances)
    tally = first.baby.tally
    assert tally.orbits == second.baby.tally.orbits
    assert tally.beats == second.baby.tally.beats
    operated = COARSE_NODES * today.baby.traits.members * len(looks[0].tiers) * 4
    assert tally.orbits > operated
    assert (tally.orbits - operated) % today.baby.traits.members == 0


def test_a_look_begun_beside_another_finds_the_same_in_fewer_beats(today: Narrowed) -> None:
    """Where a search starts moves a chance by its tolerance only; a day both share costs a beat."""
    as_is = _look(_like(today))
    alone, helped = _like(today, 3.0), _like(today, 3.0)
    looks = [_look(alone), _look(helped, as_is)]
    for tier in as_is.tiers:
        apart, near = (look.chance(tier.name, look.node_ages_days) for look in looks)
        # COARSE settles at 0.01 mL; a draw on the edge of a criterion turns with that
        assert near.mean(axis=0) == pytest.approx(apart.mean(axis=0), abs=0.02)
    assert helped.baby.tally.beats < 0.9 * alone.baby.tally.beats
    assert helped.baby.tally.orbits == alone.baby.tally.orbits
