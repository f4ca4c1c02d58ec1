"""Parts of the window: both laws, model beside rule and series, criteria beyond reach, changes."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from rooms.prior_samples import baby_case, event, reading

from inseries.base.errors import RouteNotPossible
from inseries.course.laws import LAWS
from inseries.desk.by_law import LAW_WORDS, LawsApart, by_law, laws_apart
from inseries.desk.criteria import laxer_comfort, tiers_of
from inseries.desk.reachable import refuse_unreachable
from inseries.desk.three_views import three_views
from inseries.desk.window_result import chance_words, gain_words
from inseries.desk.window_words import how_sure
from inseries.desk.would_move import changes
from inseries.prior.narrow import snapshot

if TYPE_CHECKING:
    from rooms.conftest import Asked

    from inseries.prior.narrow import Narrowed

CASES = pytest.mark.parametrize("name", ["harbour", "ridge", "tight", "thin"])
AGES = np.arange(10.0, 61.0)


@pytest.fixture
def asked(name: str, request: pytest.FixtureRequest) -> Asked:
    """One of the invented babies."""
    return request.getfixturevalue(name)


# ---- three sentences ----------------------------------------------------------------------------


@CASES
def test_what_why_and_how_sure_are_said(asked: Asked) -> None:
    """All three, in that order, first of the sentences; none of them names a last day."""
    window = asked.window
    assert window.sentences[:3] == (window.what, window.why, window.how_sure)
    assert "survivable" in window.what
    assert "left ventricle" in window.why
    assert "days of window" in window.how_sure
    assert "least certain numbers" in window.how_sure


# ---- both laws ----------------------------------------------------------------------------------


@CASES
def test_curves_of_laws_are_parts_of_the_whole(asked: Asked) -> None:
    """Weighed by their shares the curves of both laws give the mean of all draws."""
    window = asked.window
    assert all(curve.law in LAWS for curve in window.by_law)
    if sum(curve.share for curve in window.by_law) > 0.999:
        mixed = sum(curve.share * np.array(curve.survivable) for curve in window.by_law)
        assert mixed == pytest.approx(np.array(window.tiers["survivable"].chance), abs=0.003)
    assert len(window.picture.laws) == (len(window.by_law) if len(window.by_law) > 1 else 0)


def _two_laws(of: list[int]) -> Narrowed:
    """Draws of which only the law and being different matter."""
    z = np.random.default_rng(0).standard_normal((len(of), 3))
    baby = SimpleNamespace(law_of=np.array(of), traits=SimpleNamespace(z=z))
    return SimpleNamespace(baby=baby)  # type: ignore[return-value]


def test_laws_that_disagree_are_told_so() -> None:
    """Forty points apart on a known day: that day, that far, and a sentence."""
    today = _two_laws([0] * 20 + [1] * 20)
    chance = np.full((40, 5), 0.9)
    chance[20:, 3] = 0.5
    apart = laws_apart(today, chance, np.arange(5.0))
    assert apart is not None
    assert (apart.day, apart.apart) == (3.0, pytest.approx(0.4))
    assert apart.told
    said = how_sure(np.linspace(10.0, 40.0, 20), AGES, apart)
    assert f"the {LAW_WORDS[LAWS[0]]} gives a survivable chance about 40 points higher" in said


def test_laws_within_their_error_are_not_told() -> None:
    """Fifteen points apart with an error of twenty are no disagreement, nor are eight points."""
    assert not LawsApart(day=30.0, apart=0.15, low=-0.05, high=0.35).told
    assert not LawsApart(day=30.0, apart=0.08, low=0.06, high=0.10).told


def test_a_law_with_next_to_no_draws_has_no_curve() -> None:
    """Two draws of a law are no curve, and then laws are not compared."""
    today = _two_laws([0] * 30 + [1] * 2)
    chances = {name: np.full((32, 4), 0.5) for name in ("survivable", "comfortable")}
    assert [curve.law for curve in by_law(today, chances)] == [LAWS[0]]
    assert laws_apart(today, chances["survivable"], np.arange(4.0)) is None


# ---- model, rule and series ---------------------------------------------------------------------


def test_a_ventricle_that_stays_good_disagrees_with_the_rule() -> None:
    """Nine in ten all along: the rule stops earlier, and the answer says so."""
    told = three_views(np.full(AGES.size, 0.9), AGES, loaded=False)
    assert not told.agree
    assert "longer than the rule" in told.sentence
    assert [view.who for view in told.views] == [
        "this model, this baby",
        "rule of practice",
        "published series",
    ]


def test_a_ventricle_gone_early_disagrees_with_rule_and_series() -> None:
    """Three in ten at ten days: less time than the rule, and less than the chosen late babies."""
    told = three_views(np.full(AGES.size, 0.3), AGES, loaded=False)
    assert "less time than the rule" in told.sentence
    assert "13 of 14" in told.sentence


def test_a_curve_between_them_contradicts_neither() -> None:
    """Good until three weeks, fair at six: rule and series may both be right."""
    told = three_views(np.interp(AGES, [10, 21, 35, 42, 60], [1, 0.95, 0.74, 0.74, 0.5]), AGES,
                       loaded=False)  # fmt: skip
    assert told.agree


def test_late_and_still_good_is_past_the_rule() -> None:
    """At 45 days with a chance of 60 %: the rule's weeks are past, and the model says otherwise."""
    late = np.arange(45.0, 76.0)
    assert "are past" in three_views(np.full(late.size, 0.6), late, loaded=False).sentence


def test_the_rule_is_not_held_against_a_loaded_ventricle() -> None:
    """With a defect or a narrowing another series speaks, and no disagreement is made up."""
    told = three_views(np.full(AGES.size, 0.9), AGES, loaded=True)
    assert told.agree
    assert "kept loaded" in told.sentence
    assert "46 of 48" in told.views[2].says


# ---- criteria -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "changes",
    [
        {"survivable_cardiac_index_min": 12.0},
        {"comfortable_la_mean_max": 0.5},
        {"survivable_arterial_mean_min": 150.0, "comfortable_cardiac_index_min": 9.0},
    ],
)
def test_criteria_that_nothing_meets_are_refused_with_the_nearest(
    changes: dict[str, float],
) -> None:
    """What is offered instead can be met, and names the criteria that were asked."""
    with pytest.raises(RouteNotPossible) as refusal:
        refuse_unreachable(changes)
    assert refusal.value.code == "criteria_beyond_reach"
    pairs = [part.split("=") for part in refusal.value.remedy.split(", ")]
    near = {name: float(value) for name, value in pairs}
    assert set(near) == set(changes)
    refuse_unreachable(near)


@pytest.mark.parametrize("changes", [None, {}, {"survivable_cardiac_index_min": 3.0}])
def test_criteria_that_can_be_met_are_taken(changes: dict[str, float] | None) -> None:
    """No change and a stricter but possible one pass."""
    refuse_unreachable(changes)


def test_a_comfort_that_asks_less_is_noticed() -> None:
    """The packaged tiers are in order; a laxer comfortable tier is told."""
    assert not laxer_comfort(tiers_of())
    assert laxer_comfort(tiers_of({"survivable_cardiac_index_min": 2.6}))


# ---- what would move it -------------------------------------------------------------------------


@CASES
def test_every_change_has_its_harm_and_its_interval(asked: Asked) -> None:
    """Gain with an interval, chances a week and three weeks on, harm in words, for each change."""
    assert asked.window.what_would_move
    for item in asked.window.what_would_move:
        gain = item.gain_days
        assert gain.low is not None
        assert gain.high is not None
        assert gain.low <= gain.high
        assert item.harms
        assert all(item.harms)
        days = [chance.day - asked.window.age_days for chance in item.chances]
        assert days == pytest.approx([7.0, 21.0], abs=0.01)
        assert "days" in chance_words(item)
        assert "to" in gain_words(item)


def _names(case_today: Narrowed) -> list[str]:
    return [change.name for change in changes(case_today)]


def test_changes_follow_what_the_baby_has() -> None:
    """An open duct may close, a closed one may be reopened; a narrowing and a defect may go."""
    open_duct = snapshot(baby_case(reading(30, spo2_right_hand_pct=72, duct_mm=3)), draws=4, seed=1)
    assert "The duct closes" in _names(open_duct)
    assert "A stent keeps the duct open" in _names(open_duct)
    assert any("stays dynamic" in name for name in _names(open_duct))
    closed = snapshot(
        baby_case(event(150, "duct_closed"), reading(240, spo2_right_hand_pct=72)), draws=4, seed=1
    )
    assert any("reopens" in name for name in _names(closed))
    story = replace(open_duct.baby.story, outflow="dynamic", ventricular_mm=5.0)
    both = _names(replace(open_duct, baby=open_duct.baby.with_story(story)))
    assert any("narrowing of the left outflow goes" in name for name in both)
    assert any("defect closes" in name for name in both)
    assert not any("stays dynamic" in name for name in both)


def test_a_duct_long_closed_is_not_asked_to_open_for_a_drug() -> None:
    """Weeks after it closed only the stent is told, with how seldom such a duct opens."""
    late = baby_case(event(100, "duct_closed"), reading(900, spo2_right_hand_pct=70))
    told = changes(snapshot(late, draws=4, seed=1))
    assert not any("Prostaglandin" in change.name for change in told)
    assert any("hardly ever" in change.harm for change in told)


def test_load_gives_days_and_its_loss_takes_them(harbour: Asked, tight: Asked) -> None:
    """A wide duct lengthens the window of a baby without load; its closing shortens another's."""
    gains = {item.change: item.gain_days.value for item in harbour.window.what_would_move}
    assert gains["A stent in a reopened duct"] > 2.0
    assert gains["A band round the lung artery today"] > 2.0
    lost = {item.change: item.gain_days.value for item in tight.window.what_would_move}
    assert lost["The duct closes"] < lost["A stent keeps the duct open"]
