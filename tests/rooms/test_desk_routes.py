"""The verb ``routes``: what is open for the right reasons, what is refused, what stands beside.

Few draws, so only what is far apart is claimed.
"""

from __future__ import annotations

import json
import stat
from dataclasses import replace
from typing import TYPE_CHECKING

import jsonschema
import pytest
from pypdf import PdfReader
from rooms.prior_samples import baby_case, reading

from inseries.base.errors import RouteNotPossible
from inseries.base.sources import bibliography
from inseries.brief.page import page_sense
from inseries.case import Case, EventKind, LvOutflow
from inseries.case.record import Event
from inseries.desk import routes
from inseries.desk.cautions import standing_cautions
from inseries.desk.demonstration import demo_case
from inseries.desk.routes import RoutesResult, compare_routes
from inseries.desk.routes_page import routes_page
from inseries.desk.routes_plan import routes_plan
from inseries.desk.routes_rank import MEANINGS, ranking
from inseries.desk.routes_result import ROUTE_WORDS
from inseries.desk.schema import answer_schema
from inseries.draw.routes_lanes import routes_svg
from inseries.prior.forecast import some
from inseries.prior.narrow import narrowed

if TYPE_CHECKING:
    from pathlib import Path

    from inseries.desk.answer import Answer
    from inseries.desk.routes_result import Route
    from inseries.prior.narrow import Narrowed

EARLY, THIN_WALL, NARROW, DEFECT = "brook-05", "meadow-11", "ledge-14", "delta-08"
BABIES = (EARLY, THIN_WALL, NARROW, DEFECT)
DRAWS = 12  # chosen: far things are told apart


@pytest.fixture(scope="module")
def answers() -> dict[str, Answer]:
    """Routes of each of the four, computed once."""
    return {name: compare_routes(demo_case(name), draws=DRAWS, seed=1) for name in BABIES}


@pytest.fixture(scope="module")
def early() -> Narrowed:
    """The early baby's draws, narrowed once for all that is asked of them."""
    return narrowed(demo_case(EARLY), draws=40, seed=1)


@pytest.fixture
def held(early: Narrowed, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever case is asked about stands on the early baby's draws."""

    def thinned(_case: Case, *, draws: int, **_names: object) -> Narrowed:
        return some(early, draws)

    monkeypatch.setattr(routes, "narrowed", thinned)


def _result(answer: Answer) -> RoutesResult:
    assert isinstance(answer.result, RoutesResult)
    return answer.result


def _route(answer: Answer, name: str) -> Route:
    return next(route for route in _result(answer).routes if route.name == name)


def _survivable(answer: Answer, name: str) -> float:
    chance = _route(answer, name).chance
    assert chance is not None
    return chance.survivable.value


# ---- the four babies ----------------------------------------------------------------------------


def test_all_five_routes_are_told_for_each(answers: dict[str, Answer]) -> None:
    """Five names in one order, each with three sentences, harms and published rows."""
    for answer in answers.values():
        told = _result(answer).routes
        assert [route.name for route in told] == list(ROUTE_WORDS)
        for route in told:
            assert route.what
            assert route.why
            assert route.how_sure
            assert route.harms
            assert route.published


def test_the_early_baby_has_her_window(answers: dict[str, Answer]) -> None:
    """Days after birth a primary switch is open with a high chance, and waiting lowers it."""
    early = answers[EARLY]
    assert _route(early, "primary_switch").possible
    assert _survivable(early, "primary_switch") > 0.85
    assert _survivable(early, "wait") <= _survivable(early, "primary_switch")


def test_the_thin_wall_has_less(answers: dict[str, Answer]) -> None:
    """The late baby with a thin wall has a lower chance than the early baby; a band grows it."""
    thin = answers[THIN_WALL]
    assert _survivable(thin, "primary_switch") < _survivable(answers[EARLY], "primary_switch") - 0.1
    band = _route(thin, "band_then_switch")
    assert band.suitability == "shown"
    before = band.by_day[0].lv_mass_g.value
    under = [day for day in band.by_day if day.loops == "two loops, banded"]
    assert under[-1].lv_mass_g.value > 1.03 * before


def test_a_loaded_ventricle_keeps_its_window(answers: dict[str, Answer]) -> None:
    """Behind a narrowing or with a defect pressure and chance are above those of the thin wall."""
    thin = answers[THIN_WALL]
    for name in (NARROW, DEFECT):
        loaded = answers[name]
        assert _survivable(loaded, "primary_switch") > _survivable(thin, "primary_switch") + 0.1
        assert _ratio(loaded) > _ratio(thin) + 0.1


def _ratio(answer: Answer) -> float:
    return _route(answer, "wait").by_day[0].lv_rv_systolic_pressure_ratio.value


def test_a_band_says_what_there_is_without_it(answers: dict[str, Answer]) -> None:
    """The chance without a band, the criteria met and by whom stand in the reason."""
    why = _route(answers[THIN_WALL], "band_then_switch").why
    assert "Without a band" in why
    assert "banded ventricles" in why


# ---- each route ---------------------------------------------------------------------------------


def test_no_chance_where_nothing_can_hold_one(answers: dict[str, Answer]) -> None:
    """Conditioning and atrial switch have no chance and say why."""
    for answer in answers.values():
        for name in ("conditioning_then_switch", "atrial_switch"):
            route = _route(answer, name)
            assert route.chance is None
            assert route.chance_why


def test_conditioning_adds_hardly_any_mass(answers: dict[str, Answer]) -> None:
    """Hours of a band add four per cent at most, and evidence is called thin."""
    route = _route(answers[THIN_WALL], "conditioning_then_switch")
    gain = route.by_day[-1].lv_mass_g.value / route.by_day[0].lv_mass_g.value - 1.0
    assert -0.01 < gain < 0.05
    assert "thin" in route.how_sure
    assert "injure" in " ".join(route.harms)


def test_a_switch_makes_one_pink_ring(answers: dict[str, Answer]) -> None:
    """After the switch saturation is high and the left ventricle bears the body's pressure."""
    route = _route(answers[EARLY], "primary_switch")
    before = next(day for day in route.by_day if day.loops == "two loops")
    after = next(day for day in route.by_day if day.loops == "one ring")
    assert after.sao2_upper_pct.value > before.sao2_upper_pct.value + 10
    assert after.lv_systolic_mmhg.value > after.rv_systolic_mmhg.value
    assert after.age_days == route.timeline[0].age_days
    assert route.by_day[-1].age_days == 365


def test_an_atrial_switch_leaves_the_right_ventricle_to_the_body(
    answers: dict[str, Answer],
) -> None:
    """Pink, with the right ventricle at the body's pressure and the left one below it."""
    last = _route(answers[EARLY], "atrial_switch").by_day[-1]
    assert last.loops == "atrial switch"
    assert last.sao2_upper_pct.value > 90
    assert last.rv_systolic_mmhg.value > 1.5 * last.lv_systolic_mmhg.value


def test_support_stands_inside_the_primary_switch(answers: dict[str, Answer]) -> None:
    """It lowers filling on the first day, with its harm and its own published rows."""
    route = _route(answers[THIN_WALL], "primary_switch")
    (option,) = route.options
    assert option.by_day[1].filling_mmhg.value < 15
    assert "Bleeding" in option.harm
    assert {row.source for row in option.published} <= set(bibliography())


@pytest.mark.usefixtures("held")
def test_fewer_draws_beyond_are_counted() -> None:
    """With more draws than are followed beyond, each day says how many it rests on."""
    answer = compare_routes(demo_case(EARLY), draws=28, seed=1)
    result = _result(answer)
    assert result.draws_beyond == 16
    days = _route(answer, "wait").by_day
    assert days[0].draws == 28
    assert days[-1].draws == 16


def test_curves_stand_apart_with_their_denominators(answers: dict[str, Answer]) -> None:
    """Long-term series say who is counted; waiting has none."""
    answer = answers[EARLY]
    assert _route(answer, "wait").published_curves == ()
    for name in ("primary_switch", "atrial_switch"):
        curves = _route(answer, name).published_curves
        assert curves
        assert all(curve.denominator for curve in curves)


# ---- what rules a route out ---------------------------------------------------------------------


def _changed(**anatomy: object) -> Case:
    case = demo_case(EARLY)
    return replace(case, anatomy=replace(case.anatomy, **anatomy))  # type: ignore[arg-type]


@pytest.mark.usefixtures("held")
@pytest.mark.parametrize(
    ("anatomy", "words", "nearest"),
    [
        ({"lv_outflow": LvOutflow.FIXED}, "fixed", "Rastelli"),
        ({"lv_outflow": None}, "not stated", "look by echo"),
        ({"pulmonary_valve": "stenotic"}, "stenotic", "Rastelli"),
        ({"coronary_transfer": "untransferable"}, "untransferable", "the atrial switch"),
        ({"lung_vessels": "diseased"}, "vascular disease", "by catheter"),
    ],
)
def test_what_is_not_shown_is_not_computed(
    anatomy: dict[str, object], words: str, nearest: str
) -> None:
    """Outflow, valve, coronaries or lungs rule every switch out, each with reason and nearest."""
    answer = compare_routes(_changed(**anatomy), draws=6, seed=1)
    for name in ("primary_switch", "band_then_switch", "conditioning_then_switch"):
        route = _route(answer, name)
        assert not route.possible
        assert route.suitability == "not shown"
        assert words in route.why
        assert nearest in route.why
        assert route.by_day == ()
        assert route.chance is None
    wait = _route(answer, "wait")
    assert wait.chance is None
    assert "tier" not in wait.what
    assert "Survivable" not in wait.how_sure
    atrial = _route(answer, "atrial_switch")
    assert atrial.possible is ("lung_vessels" not in anatomy)
    assert atrial.suitability == "not asked"
    assert routes_svg(_result(answer).picture)


def test_a_window_gone_is_said() -> None:
    """Criteria that this ventricle hardly meets close the primary switch with the reason."""
    hard = {"survivable_cardiac_index_min": 3.4, "comfortable_cardiac_index_min": 3.6}
    answer = compare_routes(demo_case(THIN_WALL), draws=8, seed=1, criteria=hard)
    route = _route(answer, "primary_switch")
    assert not route.possible
    assert "window has gone" in route.why
    assert "Nearest: look below at a band before it" in route.why
    assert route.chance is not None
    banded = _route(answer, "band_then_switch")
    assert banded.possible is ("with this band too" not in banded.why)


@pytest.mark.usefixtures("held")
@pytest.mark.parametrize(
    ("anatomy", "words"),
    [
        ({"coronary_transfer": "untransferable"}, "untransferable"),
        ({"lung_vessels": "diseased"}, "until their resistance is measured"),
    ],
)
def test_every_decision_says_what_no_number_takes_into_account(
    anatomy: dict[str, object], words: str
) -> None:
    """Coronaries that cannot be moved and diseased lungs stand in the cautions of any verb."""
    case = _changed(**anatomy)
    assert any(words in told.text for told in standing_cautions(case))
    answer = compare_routes(case, draws=6, seed=1)
    assert any(words in told.text for told in answer.cautions)


def test_criteria_that_nothing_can_meet_are_refused() -> None:
    """Refused before anything is computed, with the nearest that can be met."""
    with pytest.raises(RouteNotPossible) as caught:
        compare_routes(demo_case(EARLY), criteria={"survivable_cardiac_index_min": 9.0})
    assert caught.value.code == "criteria_beyond_reach"
    assert "survivable_cardiac_index_min=" in caught.value.remedy


def test_an_emergency_comes_first() -> None:
    """With a tight septum waiting is no route and the first words are the emergency."""
    answer = compare_routes(demo_case("tight-01"), draws=6, seed=1)
    result = _result(answer)
    assert result.urgency.level == "emergency"
    assert not _route(answer, "wait").possible
    assert result.shown().sentences[0].startswith("EMERGENCY")
    assert any("before any of these routes" in caution.text for caution in answer.cautions)


@pytest.mark.parametrize(
    ("asked", "code", "nearest"),
    [
        ({"switch_day": -1.0}, "before_birth", "an age from 12.3 d on"),
        ({"switch_day": 5.0}, "before_today", "an age from 12.3 d on"),
        ({"band_day": 400.0}, "beyond_norms", "365"),
        ({"band_day": 20.0, "second_stage_day": 20.01}, "one_hour", "29"),
        ({"band_day": 20.0, "second_stage_day": 15.0}, "band_after_switch", "from 12.3 to 15"),
        ({"band_mm": 0.0}, "not_positive", "above 0"),
        ({"atrial_day": 3.0}, "before_today", "an age from 12.3 d on"),
        ({"shunt_mm": 9.0}, "shunt_out_of_bounds", "2 to 6"),
        ({"band_day": 20.0, "banded": True}, "twice", "second stage"),
    ],
)
def test_bad_plans_are_refused_with_the_nearest(
    asked: dict[str, float], code: str, nearest: str
) -> None:
    """Each contradiction has its code and the nearest thing that can be done."""
    with pytest.raises(RouteNotPossible) as caught:
        routes_plan(12.28, **asked)  # type: ignore[arg-type]
    assert caught.value.code == code
    assert nearest in caught.value.remedy


def test_usual_days_are_whole_and_ahead() -> None:
    """Without wishes a switch and a band come within a day, an atrial switch at three months."""
    plan = routes_plan(12.28)
    assert plan.switch_day == plan.band_day == 13
    assert plan.atrial_day == 90
    assert plan.near_day == 60
    assert routes_plan(100.2).atrial_day == 101
    assert routes_plan(12.28, atrial_day=120.0).atrial_day == 120
    assert routes_plan(100.2).near_day == 131


def test_after_a_switch_there_are_no_routes() -> None:
    """A case past its repair is refused."""
    case = demo_case(EARLY)
    done = Event(kind=EventKind.SWITCH, age_days=case.age_days, details={})
    with pytest.raises(RouteNotPossible):
        compare_routes(replace(case, events=(*case.events, done)), draws=4)


# ---- order --------------------------------------------------------------------------------------


def test_no_order_without_a_wish(answers: dict[str, Answer]) -> None:
    """Nothing is ranked unless a criterion was chosen; an unknown one is refused by name."""
    assert _result(answers[EARLY]).ranking is None
    with pytest.raises(RouteNotPossible) as caught:
        compare_routes(demo_case(EARLY), rank_by="survivabel", draws=4)
    assert caught.value.remedy == "survivable"


@pytest.mark.parametrize("by", list(MEANINGS))
def test_an_order_is_by_one_thing_and_no_verdict(by: str, answers: dict[str, Answer]) -> None:
    """Places rise, routes of which it says nothing have none, and it calls itself no verdict."""
    order = ranking(_result(answers[THIN_WALL]).routes, by)
    assert order is not None
    assert "not a verdict" in order.meaning
    places = [row.place for row in order.rows if row.place is not None]
    assert places == sorted(places)
    assert places[0] == 1
    assert len(order.rows) == len(ROUTE_WORDS)


# ---- form ---------------------------------------------------------------------------------------


def test_the_answer_fits_its_schema(answers: dict[str, Answer]) -> None:
    """Each answer as JSON is valid; chance is null for conditioning."""
    schema = answer_schema()
    for answer in answers.values():
        told = json.loads(answer.to_json())
        jsonschema.Draft202012Validator(schema).validate(told)
        names = {route["name"]: route for route in told["result"]["routes"]}
        assert names["conditioning_then_switch"]["chance"] is None
        assert set(told["sources"]) <= set(bibliography())


@pytest.mark.parametrize("name", BABIES)
def test_the_page_makes_clinical_sense(name: str, answers: dict[str, Answer]) -> None:
    """Urgency, sentences, picture and tables break no rule for readers, cost of waiting beside."""
    answer = answers[name]
    page = routes_page(demo_case(name), answer, _result(answer))
    assert [str(found) for found in page_sense(page) if found.rule != "engine_words"] == []
    assert any("cost of waiting" in table.title for table in page.tables)


@pytest.mark.usefixtures("held")
def test_the_page_is_written_for_its_owner_alone(tmp_path: Path) -> None:
    """A PDF of mode 0600 with the name alone in the answer; an existing one is not replaced."""
    file = tmp_path / "routes.pdf"
    case = demo_case(EARLY)
    answer = compare_routes(case, draws=40, seed=1, page_path=file)
    assert file.read_bytes().startswith(b"%PDF")
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert _result(answer).page == "routes.pdf"
    assert str(tmp_path) not in answer.to_json()
    text = " ".join("".join(page.extract_text() for page in PdfReader(file).pages).split())
    assert "Five routes beside one another" in text or "primary switch" in text.lower()
    assert "other babies" in text


def test_same_seed_same_answer() -> None:
    """Case and seed give the same bytes again."""
    first, second = (
        compare_routes(baby_case(reading(72, weight_kg=3.4)), draws=4, seed=3).to_json()
        for _ in range(2)
    )
    assert first == second
