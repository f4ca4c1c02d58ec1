"""The switch tried: more wall carries more, a laxer tier is met more often, the draw is steady."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from rooms.prior_samples import THIN

from inseries.case import read_case
from inseries.desk.criteria import tiers_of
from inseries.prior.baby import Baby
from inseries.prior.bypass import usual_after_bypass
from inseries.prior.from_case import story_of
from inseries.prior.operation import (
    BENT,
    DESIGN_REACH,
    UNKNOWNS,
    Carrying,
    Operation,
    Tier,
    unknowns,
)
from inseries.prior.story import constant
from inseries.prior.traits import drawn

BABY = Baby(drawn(12, 1, "operation", "tests"), replace(story_of(read_case(THIN)), outflow="open"))
SHARES = (0.5, 0.7, 0.85, 1.0)


def _tried(share: float = 1.0, baby: Baby = BABY, **changes: float) -> dict[str, Carrying]:
    walls = baby.walls_at_birth()
    left = replace(walls.left, mass_g=share * walls.left.mass_g)
    operation = Operation(baby, tiers_of(changes), 1, "tests")
    return operation.on(10.0, replace(walls, left=left))


@pytest.fixture(scope="module")
def by_mass() -> list[dict[str, Carrying]]:
    """The same babies with ever more left ventricular wall."""
    return [_tried(share) for share in SHARES]


@pytest.mark.parametrize("tier", ["survivable", "comfortable"])
def test_more_mass_never_lowers_the_chance(by_mass: list[dict[str, Carrying]], tier: str) -> None:
    """Baby by baby, a heavier wall carries at least as much, and in all clearly more."""
    chances = np.array([tried[tier].chance for tried in by_mass])
    # one of 512 drawn unknowns is the step in which a chance is known
    assert (np.diff(chances, axis=0) >= -1.0 / 512).all()
    assert chances[-1].mean() > chances[0].mean() + 0.3


def test_a_laxer_tier_is_never_met_less_often(by_mass: list[dict[str, Carrying]]) -> None:
    """What is comfortable is survivable, baby by baby."""
    for tried in by_mass:
        assert (tried["survivable"].chance >= tried["comfortable"].chance).all()


def test_a_user_may_ask_for_less_or_more() -> None:
    """A lower needed output raises the chance of its tier and leaves the other as it is."""
    usual, lax = _tried(0.7), _tried(0.7, comfortable_cardiac_index_min=2.0)
    assert lax["comfortable"].chance.mean() > usual["comfortable"].chance.mean()
    assert (lax["survivable"].chance == usual["survivable"].chance).all()


def test_chance_and_shortfalls_are_the_whole() -> None:
    """Each drawn operation either carries, or lacks output, or lacks pressure."""
    for carrying in _tried(0.7).values():
        whole = carrying.chance + carrying.short_of_output + carrying.short_of_pressure
        assert whole == pytest.approx(np.ones(12))


def test_a_stenosis_that_stays_takes_away_chance() -> None:
    """A fixed outflow keeps its gradient after the switch; a dynamic one is taken to yield."""
    fixed, dynamic = (
        Baby(BABY.traits, replace(BABY.story, outflow=kind)) for kind in ("fixed", "dynamic")
    )
    index = [
        _tried(0.8, baby)["survivable"].cardiac_index_l_min_m2.mean() for baby in (fixed, dynamic)
    ]
    assert index[0] < index[1]


def test_the_design_is_exact_for_a_bent_surface() -> None:
    """Margins quadratic in two unknowns and straight in the third are carried without error."""
    operation = Operation(BABY, tiers_of(), 1, "tests")

    def surface(z: np.ndarray) -> np.ndarray:
        one, two, three = z.T
        return 2.0 + one - 0.3 * one**2 - 0.5 * two + 0.1 * two**2 + 0.2 * three

    asked = operation._asked(surface(operation.design)[None, :])
    assert asked[0] == pytest.approx(surface(operation.z))
    assert np.abs(operation.design).max() == DESIGN_REACH
    assert (len(UNKNOWNS), BENT) == (3, 2)


def test_the_usual_operation_is_the_middle_of_the_unknowns() -> None:
    """What is drawn as a picture is the middle of what is tried."""
    after = usual_after_bypass()
    assert after.left_strength == unknowns()["left_strength"][0]
    assert after.rate_per_min == unknowns()["rate"][0]


def test_a_tier_that_asks_nothing_is_always_met() -> None:
    """Criteria that any heart meets give chance one: the scale has its upper end."""
    tier = Tier(
        name="any",
        cardiac_index_min_l_min_m2=0.1,
        la_mean_max_mmhg=20.0,
        arterial_mean_min_mmhg=20.0,
    )
    story = replace(BABY.story, duct_mm=constant(0.0))
    baby = Baby(BABY.traits, story)
    told = Operation(baby, (tier,), 1, "tests").on(10.0, baby.walls_at_birth())["any"]
    assert told.chance.tolist() == [1.0] * 12
