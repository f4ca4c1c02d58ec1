"""The verb ``window``: its shape, its rules on days, its company, its order, what it refuses."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from rooms.prior_samples import THIN, baby_case, event, reading

from inseries.base.errors import PriorError, RouteNotPossible
from inseries.brief.wording import wording_sense
from inseries.case import read_case
from inseries.cli.screen import screen_text
from inseries.desk.criteria import tiers_of
from inseries.desk.suitability import suitability
from inseries.desk.window import HORIZON_DAY, LEAST_AHEAD_DAYS, window
from inseries.desk.window_curve import first_below
from inseries.prior.curve import MOST_NODES
from inseries.prior.narrow import snapshot
from inseries.prior.operation import Operation
from inseries.prior.window import outlook

if TYPE_CHECKING:
    from rooms.conftest import Asked

CASES = pytest.mark.parametrize("name", ["harbour", "ridge", "tight", "thin"])


@pytest.fixture
def asked(name: str, request: pytest.FixtureRequest) -> Asked:
    """One of the invented babies."""
    return request.getfixturevalue(name)


# ---- shape --------------------------------------------------------------------------------------


@CASES
def test_every_promised_name_is_there(asked: Asked) -> None:
    """Days, tiers, criteria, limits, drivers and company stand under the names others rely on."""
    told = json.loads(asked.answer.to_json())
    result = told["result"]
    promised = "days horizon_day tiers criteria limiting after_switch drivers cost_of_waiting"
    assert set(f"{promised} published other_limits urgency suitability".split()) <= set(result)
    assert set(result["tiers"]) == {"survivable", "comfortable"}
    names = "chance chance_low chance_high below_90_day below_50_day open_ended_for_lv_only"
    for tier in result["tiers"].values():
        assert set(names.split()) <= set(tier)
        assert len(tier["chance"]) == len(result["days"])
    assert all({"name", "effect_days"} <= set(driver) for driver in result["drivers"])
    assert told["run"]["criteria"] == result["criteria"]


@CASES
def test_chances_are_chances_and_lie_in_their_interval(asked: Asked) -> None:
    """From 0 to 1; the mean may leave the 90 % interval only where nearly all draws agree."""
    for tier in asked.window.tiers.values():
        low, mean, high = map(np.array, (tier.chance_low, tier.chance, tier.chance_high))
        assert low.min() >= 0.0
        assert high.max() <= 1.0
        assert (low <= high).all()
        assert (mean <= high + 0.05).all()
        assert (mean >= low - 0.05).all()


@CASES
def test_days_run_from_today_to_the_horizon(asked: Asked) -> None:
    """The first day is today's age, the last the horizon, ascending by a day at most."""
    days = np.array(asked.window.days)
    assert days[0] == pytest.approx(asked.case.age_days)
    assert days[-1] == asked.window.horizon_day == HORIZON_DAY
    assert (np.diff(days) > 0.0).all()
    assert np.diff(days).max() <= 1.0 + 1e-9


@CASES
def test_at_most_sixteen_days_are_tried(asked: Asked) -> None:
    """Each tried day says what limits and what the ventricle would do, the horizon included."""
    tried = [item.day for item in asked.window.limiting]
    assert len(tried) <= MOST_NODES
    assert tried[0] == asked.window.days[0]
    assert tried[-1] == asked.window.horizon_day
    assert tried == [item.day for item in asked.window.after_switch]


@CASES
def test_shares_of_what_limits_are_a_whole(asked: Asked) -> None:
    """Of the operations that fail a tier, each fails by one criterion; none fail, no shares."""
    for item in asked.window.limiting:
        for shares in (item.survivable, item.comfortable):
            assert sum(shares.values()) in (pytest.approx(1.0, abs=0.002), 0.0)


# ---- days below a chance ------------------------------------------------------------------------


@CASES
def test_days_below_follow_their_rule(asked: Asked) -> None:
    """First day below after a run; horizon and open where the run reaches it; else None."""
    result = asked.window
    for tier in result.tiers.values():
        mean, ages = np.array(tier.chance), np.array(result.days)
        for level, day in ((0.9, tier.below_90_day), (0.5, tier.below_50_day)):
            assert day == first_below(mean, ages, level, result.horizon_day)
        runs_on = tier.below_50_day == result.horizon_day and tier.chance[-1] >= 0.5
        assert tier.open_ended_for_lv_only == runs_on


@pytest.mark.parametrize(
    ("chances", "day"),
    [
        ([0.95, 0.92, 0.80, 0.70], 2.0),
        ([0.95, 0.95, 0.95, 0.95], 60.0),
        ([0.80, 0.85, 0.80, 0.70], None),
        ([0.80, 0.95, 0.80, 0.95], 2.0),
        ([0.80, 0.85, 0.92, 0.95], 60.0),
    ],
)
def test_first_day_below(chances: list[float], day: float | None) -> None:
    """A fall, a run to the horizon, never there, a dip, a late rise."""
    assert first_below(np.array(chances), np.arange(4.0), 0.9, 60.0) == day


@CASES
def test_no_such_day_is_ever_said(asked: Asked) -> None:
    """Neither sentences nor tables of the screen name a day below a chance."""
    screen = screen_text(asked.answer, colour=False)
    assert "below_" not in screen
    assert not re.search(r"(?i)last day|too late|closes on", screen)


# ---- what must hold -----------------------------------------------------------------------------


@CASES
def test_the_laxer_tier_never_has_the_lower_chance(asked: Asked) -> None:
    """What is comfortable is survivable, on every day."""
    low, high = (np.array(asked.window.tiers[n].chance) for n in ("comfortable", "survivable"))
    # between tried days two curves of their own may come this near to crossing
    assert (high >= low - 0.002).all()


def test_an_outflow_that_keeps_the_load_keeps_the_window(harbour: Asked, ridge: Asked) -> None:
    """Two girls alike but for a dynamic narrowing: after three weeks more is left to her.

    By so few draws the survivable tier differs by 20 to 38 points from seed to seed (by all draws
    by 30), the comfortable one by 6 to 13: less than its own scatter, so only its side is asked.
    """
    at = [asked.window.days.index(35.0) for asked in (harbour, ridge)]
    for tier, margin in (("survivable", 0.1), ("comfortable", 0.0)):
        less, more = (
            asked.window.tiers[tier].chance[place]
            for asked, place in zip((harbour, ridge), at, strict=True)
        )
        assert more > less + margin, tier


def test_between_days_the_curve_errs_by_a_point_at_most() -> None:
    """Against the switch tried on every candidate day, with draws enough for a smooth mean."""
    today = snapshot(baby_case(reading(30, spo2_right_hand_pct=70)), draws=24, seed=1)
    tiers = tiers_of()
    ahead = outlook(today, tiers, horizon_day=HORIZON_DAY, seed=1, digest="d")
    every = Operation(today.baby, tiers, 1, "d")
    told = [every.on(day.age_days, day.walls) for day in ahead.days]
    for tier in tiers:
        exact = np.array([carrying[tier.name].chance.mean() for carrying in told])
        curve = ahead.chance(tier.name, ahead.ages_days).mean(axis=0)
        assert np.abs(curve - exact).max() <= 0.01
    assert len(ahead.nodes) <= MOST_NODES


def test_same_bytes_again_and_at_another_thread_count(
    thin: Asked, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A second run on one thread prints what the first printed on all."""
    monkeypatch.setattr("inseries.circuit.orbit._cores", lambda: 1)
    run = thin.answer.run
    assert run is not None
    assert run.draws is not None
    assert window(THIN, draws=run.draws).to_json() == thin.answer.to_json()


# ---- company and order --------------------------------------------------------------------------


@CASES
def test_the_window_never_stands_without_its_company(asked: Asked) -> None:
    """Cost of waiting, late series and every limit that is not the left ventricle's are there."""
    assert len(asked.window.cost_of_waiting) >= 3
    assert len(asked.window.published) >= 3
    said = " ".join(item.sentence for item in asked.window.other_limits).lower()
    for word in ("oxygen", "lung vessels", "brain", "infection", "necrotising", "duct"):
        assert word in said
    assert all(row.denominator and row.caution for row in asked.window.cost_of_waiting)


@CASES
def test_its_words_make_clinical_sense(asked: Asked) -> None:
    """The screen breaks no rule of wording and fits 80 columns."""
    screen = screen_text(asked.answer, colour=False)
    assert wording_sense(screen) == []
    assert max(len(line) for line in screen.splitlines()) <= 80


def test_an_emergency_stands_first(tight: Asked) -> None:
    """First line and first caution name it; only then comes any chance."""
    screen = screen_text(tight.answer, colour=False)
    assert screen.startswith("EMERGENCY: The atrial septum is tight")
    assert "emergency" in tight.answer.cautions[0].text
    assert screen.index("EMERGENCY") < screen.index("Chance")


def test_an_emergency_comes_before_a_doubtful_operation(thin: Asked) -> None:
    """Where both are said, the emergency is said first."""
    from inseries.desk.window import _cautions

    doubtful = read_case(THIN.replace('lv_outflow = "open"', 'lv_outflow = "fixed"'))
    result = replace(
        thin.window,
        urgency=replace(thin.window.urgency, level="emergency"),
        suitability=suitability(doubtful),
    )
    today = snapshot(doubtful, draws=4, seed=1)
    first, second = _cautions(doubtful, today, result)[:2]
    assert "emergency" in first.text
    assert "Not shown" in second.text


def test_an_open_duct_is_said_to_be_taken_as_open(tight: Asked, harbour: Asked) -> None:
    """While prostaglandin runs the answer says what it takes for granted; closed, it does not."""
    said = [any("duct is taken" in c.text for c in a.answer.cautions) for a in (tight, harbour)]
    assert said == [True, False]


@CASES
def test_standing_cautions_are_there(asked: Asked) -> None:
    """What this is, what it does not know; that one law speaks, where only one does."""
    said = " ".join(caution.text for caution in asked.answer.cautions)
    for words in ("decision aid", "not a device", "does not know"):
        assert words in said
    assert ("One growth law" in said) is (len(asked.window.by_law) < 2)


# ---- suitability --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("anatomy", "shown"),
    [
        ('lv_outflow = "open"\npulmonary_valve = "normal"', True),
        ('lv_outflow = "dynamic"\npulmonary_valve = "normal"', True),
        ('lv_outflow = "fixed"\npulmonary_valve = "normal"', False),
        ('lv_outflow = "valvar"\npulmonary_valve = "normal"', False),
        ('lv_outflow = "open"\npulmonary_valve = "bicuspid"', False),
        ('lv_outflow = "open"', False),
        ('pulmonary_valve = "normal"', False),
        ('septum = "intact"', False),
    ],
)
def test_a_switch_is_shown_only_where_nothing_is_missing(anatomy: str, shown: bool) -> None:
    """Fixed, valvar, a bad valve or nothing stated: not shown, other operations named."""
    told = suitability(baby_case(anatomy=f"[anatomy]\n{anatomy}\n"))
    assert (told.standing == "shown") is shown
    assert ("Rastelli" in told.sentence) is not shown


@pytest.mark.parametrize(
    ("anatomy", "why", "nearest"),
    [
        ('coronary_transfer = "untransferable"', "coronary arteries", "the atrial switch"),
        ('lung_vessels = "diseased"', "lung vessels", "by catheter"),
    ],
)
def test_what_the_record_says_against_a_switch_is_said_first(
    anatomy: str, why: str, nearest: str
) -> None:
    """A good outflow and valve do not make a switch of coronaries that cannot be moved."""
    good = 'lv_outflow = "open"\npulmonary_valve = "normal"'
    told = suitability(baby_case(anatomy=f"[anatomy]\n{good}\n{anatomy}\n"))
    assert told.standing == "not shown"
    assert why in told.sentence
    assert nearest in told.sentence
    assert "Rastelli" not in told.sentence


# ---- criteria and refusals ----------------------------------------------------------------------


def test_criteria_can_be_changed() -> None:
    """A user's value takes the place of the packaged one, of that tier alone."""
    usual, changed = tiers_of(), tiers_of({"survivable_la_mean_max": 16.0})
    assert changed[0].la_mean_max_mmhg == 16.0
    assert changed[1] == usual[1]
    assert usual[0].la_mean_max_mmhg >= usual[1].la_mean_max_mmhg
    assert usual[0].cardiac_index_min_l_min_m2 <= usual[1].cardiac_index_min_l_min_m2


@pytest.mark.parametrize(
    ("changes", "code", "remedy"),
    [
        ({"survivable_la_max": 16.0}, "unknown_criterion", "survivable_la_mean_max"),
        ({"survivable_la_mean_max": -1.0}, "criterion_not_positive", "positive"),
        ({"survivable_la_mean_max": float("nan")}, "criterion_not_positive", "positive"),
    ],
)
def test_a_criterion_that_cannot_be_is_refused(
    changes: dict[str, float], code: str, remedy: str
) -> None:
    """An unknown name gets the nearest one, a value that is no criterion is refused."""
    with pytest.raises(RouteNotPossible) as refusal:
        tiers_of(changes)
    assert refusal.value.code == code
    assert remedy in refusal.value.remedy


@pytest.mark.parametrize("kind", ["switch", "atrial_switch"])
def test_after_an_operation_there_is_no_window(kind: str) -> None:
    """A baby already repaired is refused."""
    with pytest.raises(RouteNotPossible) as refusal:
        window(baby_case(event(200, kind)), draws=4)
    assert refusal.value.code == "after_operation"


def test_without_weight_there_is_no_window() -> None:
    """Every size follows from the weight."""
    with pytest.raises(PriorError):
        window('[case]\nid = "x"\n[[readings]]\nage_h = 2\nspo2_right_hand_pct = 70\n', draws=4)


def test_an_older_baby_is_looked_at_a_month_ahead() -> None:
    """At 70 days the horizon lies beyond it, and the answer says that nothing was compared."""
    late = baby_case(reading(70 * 24, weight_kg=5.0))
    answer = window(late, draws=4)
    told = json.loads(answer.to_json())["result"]
    assert told["horizon_day"] == 70 + LEAST_AHEAD_DAYS
    assert any("beyond two months" in caution.text for caution in answer.cautions)


def test_the_ring_after_a_switch_is_one_circuit(harbour: Asked) -> None:
    """The second picture is one ring: body, lungs and exchange carry the same flow."""
    ring = harbour.window.picture_after
    assert ring.topology == "series"
    assert ring.crossings == ()
    assert ring.lung_flow_ml_min_kg == pytest.approx(ring.body_flow_ml_min_kg, rel=0.03)
    assert ring.upper_saturation_pct > 90


@CASES
def test_low_oxygen_while_waiting_is_said(asked: Asked) -> None:
    """Where saturation would fall low before any switch a caution says so; elsewhere none does."""
    low = any(day.sao2_upper_before_pct.value < 65 for day in asked.window.after_switch)
    assert low == any("While waiting" in caution.text for caution in asked.answer.cautions)


def test_a_tight_septum_is_low_while_waiting(tight: Asked) -> None:
    """The emergency's own caution about waiting is there."""
    assert any("While waiting" in caution.text for caution in tight.answer.cautions)
