"""The verb ``band``: its shape, its aims, the dip and the gain, readiness, harms, refusals."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
import pytest
from pypdf import PdfReader
from rooms.prior_samples import ANATOMY, baby_case, event, reading

from inseries.base.errors import OutputError, RouteNotPossible
from inseries.base.findings import Severity
from inseries.brief.wording import wording_sense
from inseries.cli.screen import screen_text
from inseries.desk import band as asked_for
from inseries.desk import band_words
from inseries.desk.band_plan import band_numbers
from inseries.desk.band_reach import refuse_beyond_reach
from inseries.desk.band_result import BandResult
from inseries.desk.band_search import (
    rules_of_thumb_mm,
    tightest_mm,
)
from inseries.desk.band_told import day_estimate, share_by
from inseries.desk.demonstration import demo_case
from inseries.desk.readiness import asked, first_days, usual_limits
from inseries.desk.spans import figure, signed, span
from inseries.draw.band_course import band_svg
from inseries.draw.window_curve import in_fives
from inseries.norms.thresholds import Population, thresholds_for
from inseries.prior.narrow import Narrowed, narrowed

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from inseries.case import Case
    from inseries.desk.answer import Answer

FEW = 24  # chosen: enough draws for an interval, few enough for a test
LATE = "meadow-11"  # the invented baby that came late, its wall thin


@cache
def _narrowed_once(name: str) -> Narrowed:
    return narrowed(demo_case(name), draws=FEW, seed=1)


@pytest.fixture(scope="module", autouse=True)
def each_baby_narrowed_once() -> Iterator[None]:
    """Readings of one invented baby are fitted once for all bands of this module."""

    def again(case: Case, **_names: object) -> Narrowed:
        today = _narrowed_once(case.id)
        return replace(today, baby=today.baby.at(np.arange(FEW)))

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(asked_for, "narrowed", again)
        yield


def _asked(name: str = LATE, **names: object) -> Answer:
    return asked_for.band(demo_case(name), draws=FEW, seed=1, **names)  # type: ignore[arg-type]


def _result(answer: Answer) -> BandResult:
    assert isinstance(answer.result, BandResult)
    return answer.result


@pytest.fixture(scope="module")
def usual() -> Answer:
    """The late baby, banded as usual today."""
    return _asked()


@pytest.fixture(scope="module")
def shunted() -> Answer:
    """The same with a shunt beside the band."""
    return _asked(shunt_mm=3.0)


@pytest.fixture(scope="module")
def tightened() -> Answer:
    """The same, set again on the fourth day."""
    return _asked(tighten={"4": 0.9})


# ---- shape --------------------------------------------------------------------------------------


def test_every_promised_name_is_there(usual: Answer) -> None:
    """Shunt, targets, course and day of readiness stand under the names others rely on."""
    told = json.loads(usual.to_json())["result"]
    assert {"shunt_mm", "targets", "after", "ready_day"} <= set(told)
    names = "lv_rv_systolic_pressure_ratio lv_systolic_mmhg sao2_upper_pct lv_ef_pct"
    assert {*names.split(), "starting_circumference_mm"} <= set(told["targets"])
    assert set(told["targets"]["starting_circumference_mm"]) == {"value", "low", "high", "unit"}
    for at in told["after"]:
        assert {"hours", "lv_mass_ratio", "lv_ef_pct", "lv_systolic_mmhg"} <= set(at)
    assert [at["hours"] for at in told["after"]] == [0.0, 12.0, 84.0, 168.0, 336.0]
    assert told["after"][0]["lv_mass_ratio"]["value"] == pytest.approx(1.0)


def test_it_says_what_why_and_how_sure(usual: Answer) -> None:
    """Three paragraphs, urgency before them, and no sentence breaks a rule of wording."""
    result = _result(usual)
    assert result.sentences == (result.what, result.why, result.how_sure)
    written = json.loads(usual.to_json())["result"]
    assert [written[name] for name in ("what", "why", "how_sure")] == list(result.sentences)
    assert "only where to start" in result.sentences[0]
    assert "growth laws" in result.sentences[2]
    told = screen_text(usual, colour=False)
    assert told.startswith(result.urgency.level.upper())
    for words in (*result.sentences, *result.harms, *(c.text for c in usual.cautions)):
        assert wording_sense(words) == []


def test_the_terminal_stays_within_its_columns(usual: Answer, tightened: Answer) -> None:
    """No line of the page is wider than 80 columns."""
    for answer in (usual, tightened):
        assert max(map(len, screen_text(answer, colour=False).splitlines())) <= 80


# ---- how tight ----------------------------------------------------------------------------------


def test_each_draw_is_brought_to_the_wanted_ratio() -> None:
    """A ratio asked for is there just after the band, in nearly every draw, to 0.01."""
    result = _result(_asked(ratio=0.65))
    ratio = result.targets.lv_rv_systolic_pressure_ratio
    assert ratio.value == pytest.approx(0.65, abs=0.01)
    assert result.after[0].lv_rv_systolic_pressure_ratio == ratio
    assert result.not_reached <= 0.5


def test_a_pressure_can_be_asked_for_instead() -> None:
    """The left ventricle comes to the pressure asked for, to 1 mmHg."""
    result = _result(_asked(lv_systolic_mmhg=50.0))
    assert result.targets.lv_systolic_mmhg.value == pytest.approx(50.0, abs=1.0)


def test_the_tighter_the_higher_the_pressure_and_the_lower_the_ejection() -> None:
    """Of two circumferences the smaller gives more pressure, less ejection and less lung flow."""
    wide, tight = (_result(_asked(circumference_mm=mm)) for mm in (30.0, 24.0))
    assert tight.targets.lv_systolic_mmhg.value > wide.targets.lv_systolic_mmhg.value + 2.0
    assert tight.targets.lv_ef_pct.value < wide.targets.lv_ef_pct.value
    flows = [r.after[0].pulmonary_flow_ml_min_kg.value for r in (tight, wide)]
    assert flows[0] < flows[1]
    assert tight.targets.starting_circumference_mm.value == pytest.approx(24.0)


def test_the_usual_band_stops_where_function_gives_way(usual: Answer) -> None:
    """In no draw does the usual band leave less ejection than is allowed just after it."""
    ejection = _result(usual).targets.lv_ef_pct
    assert ejection.low is not None
    assert ejection.low >= band_numbers()["low_ejection"] - 0.5


def test_rules_of_thumb_stand_beside() -> None:
    """20 and 24 mm and 1 mm a kg; the tightest published band is 2.25 mm below the first."""
    assert rules_of_thumb_mm(4.0) == (24.0, 28.0)
    assert tightest_mm(4.0) == pytest.approx(21.75)


# ---- what follows -------------------------------------------------------------------------------


def test_pressure_climbs_and_ejection_recovers_as_the_wall_grows(tightened: Answer) -> None:
    """Set again on day 4, ejection dips then; mass, pressure and ejection rise over two weeks."""
    result = _result(tightened)
    days, ejection = result.picture.days, result.picture.lines[2].value
    before, then, later = (ejection[days.index(day)] for day in (3.5, 4.0, 14.0))
    assert then < before
    assert later > then
    after = result.after
    masses = [at.lv_mass_ratio.value for at in after]
    assert masses == sorted(masses)
    assert masses[-1] > 1.3


def test_tightening_again_gains_more_than_leaving_it(usual: Answer, tightened: Answer) -> None:
    """A band set again trains more, and more draws are ready."""
    one, two = _result(usual), _result(tightened)
    assert two.after[-1].lv_mass_ratio.value > one.after[-1].lv_mass_ratio.value
    assert two.ready_by_28_d >= one.ready_by_28_d


def test_a_shunt_keeps_up_lung_flow_and_saturation(usual: Answer, shunted: Answer) -> None:
    """With a shunt lung flow and saturation stay up; its larger gain is told with doubt."""
    alone, beside = _result(usual), _result(shunted)
    assert beside.shunt_mm == 3.0
    for name in ("sao2_upper_pct", "pulmonary_flow_ml_min_kg", "lv_mass_ratio"):
        assert getattr(beside.after[-1], name).value > getattr(alone.after[-1], name).value
    assert "direction only" in beside.sentences[2]
    assert any("shunt" in harm for harm in beside.harms)


def test_a_band_on_for_half_the_day_trains_less() -> None:
    """On for 12 of 24 hours the wall gains less than with the band always on."""
    always, half = (_result(_asked(ratio=0.65, hours_a_day=h)) for h in (24.0, 12.0))
    assert half.after[-1].lv_mass_ratio.value < always.after[-1].lv_mass_ratio.value
    assert [at.hours for at in half.after] == [0.0, 72.0, 168.0, 336.0]
    ids = {row[2] for row in half.shown().tables[5].rows}
    assert {"lebret2005", "intermittent_goats"} <= ids


def test_a_later_day_can_be_asked_for() -> None:
    """A band next week begins at that age, in a ventricle that has lost more."""
    case = demo_case(LATE)
    result = _result(asked_for.band(case, draws=FEW, seed=1, band_day=case.age_days + 7.0))
    assert result.age_days == pytest.approx(case.age_days + 7.0)
    assert result.before.hours == 0.0


@pytest.mark.parametrize("tighter", [False, True])
def test_a_band_that_is_there_is_followed_or_tightened(*, tighter: bool) -> None:
    """A banded baby is told from today on with the band's age; a new ratio tightens its band."""
    case = baby_case(
        reading(700.0, weight_kg=4.0, spo2_right_hand_pct=70),
        event(720.0, "band", band_circumference_mm=27.0),
        reading(840.0, weight_kg=4.1),
    )
    names = {"ratio": 0.9} if tighter else {}
    today = narrowed(case, draws=32, seed=1)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(asked_for, "narrowed", lambda *_a, **_k: today)
        result = _result(asked_for.band(case, draws=32, **names))  # type: ignore[arg-type]
    assert result.banded_days == pytest.approx(30.0)
    assert result.age_days == pytest.approx(35.0)
    ratio = result.targets.lv_rv_systolic_pressure_ratio
    assert ratio.value > result.before.lv_rv_systolic_pressure_ratio.value + 0.05
    assert "5 days old" in result.sentences[0] or tighter
    if not tighter:
        assert result.targets.starting_circumference_mm.value == pytest.approx(27.0)


# ---- readiness ----------------------------------------------------------------------------------


def test_criteria_are_those_of_banded_ventricles() -> None:
    """Every criterion is a threshold made in banded ventricles, and all of those are asked."""
    own = {item.name for item in thresholds_for(Population.PREPARED_AFTER_BAND)}
    assert {item.threshold.name for item in asked()} == own == set(usual_limits())


def test_a_limit_can_be_changed() -> None:
    """A user's limit takes the place of the published one."""
    (wall,) = (i for i in asked({"wall_4_mm": 3.5}) if i.threshold.name == "wall_4_mm")
    assert wall.limit == 3.5
    assert wall.threshold.limit.value == 4.0


def test_readiness_of_all_is_no_earlier_than_of_each(shunted: Answer) -> None:
    """The share that meets all is at most the smallest share of one, and never falls."""
    result = _result(shunted)
    for name in ("ready_by_7_d", "ready_by_14_d", "ready_by_28_d"):
        assert getattr(result, name) <= min(getattr(item, name) for item in result.criteria)
    assert result.ready_by_7_d <= result.ready_by_14_d <= result.ready_by_28_d


def test_a_ratio_of_the_first_two_days_does_not_count(shunted: Answer) -> None:
    """However high it is at once, the pressure ratio makes nobody ready before day two."""
    result = _result(shunted)
    (ratio,) = (item for item in result.criteria if item.name == "pressure_ratio_0_83")
    assert ratio.ready_day is not None
    assert ratio.ready_day.low is not None
    assert ratio.ready_day.low >= 2.0


def test_days_over_draws_keep_those_that_never_come() -> None:
    """Half that never come give no day; a twentieth that never comes leaves it open upwards."""
    never = np.inf
    assert day_estimate(np.array([1.0, 2.0, never, never, never])) is None
    some = day_estimate(np.array([3.0] * 9 + [never]), offset=30.0)
    assert some is not None
    assert (some.value, some.low, some.high) == (33.0, 33.0, None)
    assert share_by(np.array([3.0, never]), 7.0) == 0.5


def test_first_day_that_meets() -> None:
    """The first day on which a draw meets what is asked; infinite where there is none."""
    met = np.array([[False, False], [True, False], [True, False]])
    assert first_days(met, [0.0, 4.0, 7.0]).tolist() == [4.0, np.inf]


# ---- beside it ----------------------------------------------------------------------------------


def test_harms_stand_beside_the_gain(usual: Answer) -> None:
    """Flow, failure in the first hours, low output, both losses and the wider root are named."""
    told = " ".join(_result(usual).harms)
    named = ("lung flow", "first hours", "21 of 28", "3 of 20", "2.4 times", "second operation")
    for words in named:
        assert words in told.replace("Second", "second")
    assert "Harm" in _result(usual).shown().tables[1].title


def test_it_says_what_is_computed_of_a_failing_ventricle(usual: Answer) -> None:
    """The harm tells supply and ejection with their numbers, and that failure is not computed."""
    result = _result(usual)
    (harm,) = (each for each in result.harms if "first hours" in each)
    assert span(result.targets.lv_wall_supplied_pct) in harm
    assert in_fives(result.targets.short_of_blood) in harm
    assert "Not computed: the failure" in harm


def test_mass_to_volume_is_told_and_not_asked(usual: Answer) -> None:
    """It stands in the table of readiness with its numbers, is no criterion, and says why."""
    result = _result(usual)
    (ready,) = (table for table in result.shown().tables if table.title.startswith("Ready"))
    (row,) = (row for row in ready.rows if row[0].startswith("mass to volume"))
    for at in (result.before, *result.after[-2:]):
        assert span(at.lv_mass_to_volume_g_ml, 2) in row[1]
    assert row[2] == "not asked for"
    assert not any("volume" in item.name for item in result.criteria)
    assert any("Mass to volume" in each.text for each in usual.cautions)


def test_a_strong_ventricle_is_cautioned_not_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where a switch without a band is survivable often enough, the answer says so first."""
    often = {**band_numbers(), "strong_chance": 0.01}
    monkeypatch.setattr(band_words, "band_numbers", lambda: often)
    answer = _asked()
    assert answer.result is not None
    assert "still strong" in answer.cautions[0].text


def test_what_rules_out_the_second_stage_is_said_beside_the_band() -> None:
    """Untransferable coronaries and diseased lung vessels are cautions of a band, in words."""
    case = demo_case(LATE)
    anatomy = replace(case.anatomy, coronary_transfer="untransferable", lung_vessels="diseased")
    answer = asked_for.band(replace(case, anatomy=anatomy), draws=FEW, seed=1)
    told = " ".join(each.text for each in answer.cautions if each.severity is Severity.CAUTION)
    assert "recorded as untransferable" in told
    assert "no band is shown to be safe" in told
    assert _result(answer).suitability.standing != "shown"


def test_the_switch_is_tried_without_a_band_and_after_it(usual: Answer) -> None:
    """Chances now, and one and two weeks after the band; a trained wall carries more often."""
    now, week, two = _result(usual).switch_then
    assert (now.days_after_band, week.days_after_band, two.days_after_band) == (None, 7.0, 14.0)
    assert two.survivable.value > now.survivable.value


def test_the_picture_says_it_in_words_too(tightened: Answer) -> None:
    """The picture is one SVG with title and description, and names what was done when."""
    drawn = band_svg(_result(tightened).picture)
    assert drawn.startswith("<svg")
    assert "set to 0.9" in drawn
    assert "asked: 0.83" in drawn
    assert "dashed: asked before stage two" in drawn
    assert "just after" in drawn


def test_what_is_asked_is_named_off_the_course(usual: Answer) -> None:
    """The limit of stress stands under its line while the course comes down to it from above."""
    view = _result(usual).picture
    (stress,) = (line for line in view.lines if line.name.startswith("Stress"))
    assert stress.aim is not None
    drawn = band_svg(view)
    named = re.search(r'y="([\d.]+)"[^>]*>' + re.escape(stress.aim_text), drawn)
    assert named is not None
    dashed = [float(y) for y in re.findall(r'y1="([\d.]+)"[^>]*stroke-dasharray="7 4"', drawn)]
    nearest = min(dashed, key=lambda y: abs(y - float(named[1])))
    assert (float(named[1]) > nearest) == (stress.value[0] > stress.aim)


def test_a_chance_never_stands_without_the_cost_of_waiting(usual: Answer) -> None:
    """The published cost of waiting and the limits that are not the ventricle's stand beside."""
    result = _result(usual)
    assert {row.source for row in result.cost_of_waiting} == {
        "anderson2014",
        "obyrne2018",
        "faateh",
    }
    assert len(result.other_limits) == 6


def test_a_wall_short_of_blood_is_told(usual: Answer, shunted: Answer) -> None:
    """A band with a shunt leaves more draws short of coronary supply, and the answer warns."""
    alone, beside = _result(usual).targets, _result(shunted).targets
    assert beside.short_of_blood > alone.short_of_blood
    assert beside.lv_wall_supplied_pct.value < alone.lv_wall_supplied_pct.value <= 100.0
    assert any("coronaries could bring" in caution.text for caution in shunted.cautions)


def test_the_printed_page_says_what_the_answer_says(tmp_path: Path) -> None:
    """A private PDF: the question, urgency, the sentences, harms and sources; no key of a table."""
    file = tmp_path / "band.pdf"
    answer = _asked(page_path=file)
    result = _result(answer)
    assert result.page == "band.pdf"
    assert file.stat().st_mode & 0o777 == 0o600
    words = " ".join(" ".join(p.extract_text().split()) for p in PdfReader(file).pages)
    for told in ("How tight should the band be", "only where to start", "21 of 28", "Wernovsky"):
        assert told in words
    assert "wernovsky1992" not in words
    with pytest.raises(OutputError):
        _asked(page_path=file)


def test_a_signed_number_has_a_true_minus_and_none_before_nothing() -> None:
    """Plus above nothing, a true minus below, no sign where nothing is left after rounding."""
    assert [signed(value) for value in (12.4, -12.4, 0.3, -0.3, 0.0)] == [
        "+12", "\u221212", "0", "0", "0",
    ]  # fmt: skip
    assert signed(-0.04, 1) == figure(-0.04, 1) == "0.0"


# ---- refusals -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("names", "code"),
    [
        ({"ratio": 0.7, "circumference_mm": 24.0}, "two_aims"),
        ({"ratio": 1.2}, "beyond_published"),
        ({"ratio": -0.7}, "not_positive"),
        ({"ratio": float("nan")}, "not_positive"),
        ({"ratio": 0.3}, "already_there"),
        ({"lv_systolic_mmhg": 120.0}, "below_tested"),
        ({"circumference_mm": 18.0}, "below_tested"),
        ({"shunt_mm": 12.0}, "shunt_out_of_bounds"),
        ({"shunt_mm": -3.0}, "shunt_out_of_bounds"),
        ({"band_day": 1.0}, "before_today"),
        ({"band_day": 350.0}, "beyond_norms"),
        ({"tighten": {"40": 0.9}}, "not_watched"),
        ({"tighten": {"4": 0.6}}, "already_there"),
        ({"tighten": {"soon": 0.9}}, "not_a_day"),
        ({"tighten": {"3": 0.9}, "hours_a_day": 12.0}, "two_ways"),
        ({"hours_a_day": 30.0}, "not_hours"),
        ({"criteria": {"wall": 3.5}}, "unknown_criterion"),
        ({"criteria": {"wall_4_mm": 0.0}}, "criterion_not_positive"),
        ({"criteria": {"wall_4_mm": 30.0}}, "criteria_beyond_reach"),
        ({"criteria": {"predicted_stress_120": 5.0}}, "criteria_beyond_reach"),
    ],
)
def test_what_cannot_be_is_refused_with_the_nearest_that_can(
    names: dict[str, object], code: str
) -> None:
    """Contradictions and numbers nobody published are refused, each with what to try."""
    with pytest.raises(RouteNotPossible) as refused:
        _asked(**names)
    assert refused.value.code == code
    assert refused.value.remedy


def test_the_refusal_of_a_tight_band_names_the_tightest_published() -> None:
    """Millimetres below the tightest published band are refused with the nearest that can be."""
    with pytest.raises(RouteNotPossible) as refused:
        _asked(circumference_mm=15.0)
    assert refused.value.unit == "mm"
    assert "22.0 mm" in refused.value.remedy or "21.9 mm" in refused.value.remedy


def test_every_published_limit_of_readiness_can_be_met() -> None:
    """The favourable ventricles reach each published limit, and a nearest one is met by them."""
    refuse_beyond_reach(usual_limits())
    for name, limit in (("wall_4_mm", 30.0), ("predicted_stress_120", 5.0)):
        with pytest.raises(RouteNotPossible) as refused:
            refuse_beyond_reach({name: limit})
        near = float(refused.value.remedy.split()[0])
        assert abs(near - usual_limits()[name]) < abs(limit - usual_limits()[name])
        refuse_beyond_reach({name: near})


@pytest.mark.parametrize(
    ("name", "loaded_by"),
    [("ledge-14", "narrows as it squeezes"), ("delta-08", "between the ventricles")],
)
def test_a_loaded_ventricle_is_refused_by_what_loads_it(name: str, loaded_by: str) -> None:
    """With no aim said, the refusal tells this baby's own pressure and what to try, not an aim."""
    with pytest.raises(RouteNotPossible) as refused:
        _asked(name)
    error = refused.value
    assert error.code == "loaded_already"
    assert loaded_by in error.what
    assert isinstance(error.value, float)
    assert error.value + band_numbers()["step_above_present"] > band_numbers()["greatest_ratio"]
    assert "`window`" in error.remedy
    assert f"above {error.value:g} and up to 1" in error.remedy
    answered = _result(_asked(name, ratio=(error.value + 1.0) / 2.0))
    assert answered.targets.lv_rv_systolic_pressure_ratio.value > error.value


def test_no_smaller_step_is_offered_above_the_bodys_pressure() -> None:
    """A left ventricle above the body's pressure is told to try no ratio."""
    with pytest.raises(RouteNotPossible) as refused:
        _asked("tight-01")
    assert refused.value.code == "loaded_already"
    assert "--ratio" not in refused.value.remedy


@pytest.mark.parametrize("outflow", ["fixed", "valvar"])
def test_a_fixed_narrowing_is_not_banded(outflow: str) -> None:
    """A narrow left outflow that stays loads the ventricle already: no band."""
    case = baby_case(anatomy=ANATOMY.replace("open", outflow))
    with pytest.raises(RouteNotPossible) as refused:
        asked_for.band(case, draws=FEW)
    assert refused.value.code == "outflow_narrow"


def test_no_band_after_a_switch() -> None:
    """A baby after its switch is refused."""
    case = baby_case(event(216.0, "switch"))
    with pytest.raises(RouteNotPossible) as refused:
        asked_for.band(case, draws=FEW)
    assert refused.value.code == "after_operation"
