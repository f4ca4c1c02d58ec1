"""The verb ``now``: urgency first, the panel with methods, read-outs, harm beside gain."""

from __future__ import annotations

import json
from dataclasses import fields, replace
from math import pi
from typing import TYPE_CHECKING

import numpy as np
import pytest
from rooms.prior_samples import THIN, baby_case, event, reading

from inseries.base.errors import PriorError, RouteNotPossible
from inseries.base.findings import Estimate
from inseries.brief.wording import wording_sense
from inseries.case import Case, read_case
from inseries.cli.screen import screen_text
from inseries.desk.cautions import unknowns
from inseries.desk.demonstration import demo_case
from inseries.desk.now import NowResult, describe, now
from inseries.desk.panel import panel
from inseries.desk.readouts import (
    Body,
    Readouts,
    estimate,
    predicted_stress_kdyn_cm2,
    shell_thickness_mm,
)
from inseries.desk.urgency import Urgency, limits, urgency
from inseries.prior.narrow import snapshot

if TYPE_CHECKING:
    from rooms.conftest import Asked

    from inseries.desk.answer import Answer

NAMES = [
    "sao2_upper_pct",
    "sao2_lower_pct",
    "sao2_pulmonary_artery_pct",
    "svo2_upper_pct",
    "svo2_lower_pct",
    "po2_upper_mmhg",
    "po2_lower_mmhg",
    "aortic_systolic_mmhg",
    "aortic_diastolic_mmhg",
    "aortic_mean_mmhg",
    "pulmonary_artery_mean_mmhg",
    "pulmonary_artery_systolic_mmhg",
    "lv_systolic_mmhg",
    "rv_systolic_mmhg",
    "lv_rv_systolic_pressure_ratio",
    "la_mean_mmhg",
    "ra_mean_mmhg",
    "atrial_gradient_mmhg",
    "systemic_flow_ml_min_kg",
    "pulmonary_flow_ml_min_kg",
    "effective_flow_ml_min_kg",
    "qp_qs",
    "cardiac_index_l_min_m2",
    "oxygen_need_met_pct",
    "lv_mass_g",
    "lv_mass_g_m2",
    "rv_mass_g_m2",
    "lv_wall_mm",
    "lv_edv_ml_m2",
    "lv_ef_pct",
    "rv_edv_ml_m2",
    "rv_ef_pct",
    "lv_wall_stress_kdyn_cm2",
    "heart_rate_per_min",
]


@pytest.fixture(scope="module")
def thin_now() -> Answer:
    """``now`` of a baby with next to no readings, on few draws."""
    return now(THIN, draws=20)


def _told(answer: Answer) -> dict[str, object]:
    return json.loads(answer.to_json())["result"]


# ---- shape --------------------------------------------------------------------------------------


def test_every_promised_name_is_there(thin_now: Answer) -> None:
    """Age, urgency, panel, read-outs and changes stand under the names others rely on."""
    told = _told(thin_now)
    assert {"age_days", "urgency", "panel", "readouts", "what_if"} <= set(told)
    assert {"level", "hours", "why"} <= set(told["urgency"])  # type: ignore[arg-type]
    assert set(NAMES) == set(told["readouts"])  # type: ignore[arg-type]
    for item in told["what_if"]:  # type: ignore[attr-defined]
        assert {"change", "readouts", "harms"} <= set(item)


def test_every_read_out_has_its_interval(thin_now: Answer) -> None:
    """Low, value and high are in order and finite."""
    assert isinstance(thin_now.result, NowResult)
    for field in fields(Readouts):
        told = getattr(thin_now.result.readouts, field.name)
        assert told.low <= told.value <= told.high, field.name


def test_the_run_can_be_asked_again(thin_now: Answer) -> None:
    """Seed, draws and what was effective stand in the record of the run."""
    assert thin_now.run is not None
    assert (thin_now.run.seed, thin_now.run.draws) == (1, 20)
    assert thin_now.run.effective_draws is not None
    assert now(THIN, draws=20).to_json() == thin_now.to_json()


@pytest.mark.parametrize("name", ["harbour", "ridge", "tight", "thin"])
def test_its_sentences_make_clinical_sense(name: str, request: pytest.FixtureRequest) -> None:
    """Nothing on the screen of `now` breaks the rules of wording, or the width."""
    asked: Asked = request.getfixturevalue(name)
    screen = screen_text(replace(asked.answer, result=asked.now), colour=False)
    assert wording_sense(screen) == []
    assert max(len(line) for line in screen.splitlines()) <= 80


# ---- urgency ------------------------------------------------------------------------------------

CALM = Estimate(value=100.0, low=99.0, high=100.0, unit="%")


def _urgency(case: Case, met: float = 100.0, upper: float = 70.0) -> Urgency:
    told = dict.fromkeys(NAMES, CALM)
    told["oxygen_need_met_pct"] = replace(CALM, value=met)
    told["sao2_upper_pct"] = replace(CALM, value=upper, low=upper - 10, high=upper + 10)
    return urgency(case, Readouts(**told))


def test_a_tight_septum_is_an_emergency_in_its_first_line() -> None:
    """The first line of the invented boy says emergency and what to do."""
    told = _urgency(demo_case("tight-01"))
    assert (told.level, told.hours) == ("emergency", limits()["emergency_hours"])
    assert "open it first" in told.headline
    assert "does not replace" in told.why[0]
    assert any("legs are pinker" in reason for reason in told.why)


def test_a_settled_baby_is_planned() -> None:
    """Good saturation, low lactate, an open septum: no emergency by what is recorded."""
    assert _urgency(demo_case("harbour-07")).level == "planned"


@pytest.mark.parametrize(
    ("values", "level"),
    [
        ({"spo2_right_hand_pct": 45}, "emergency"),
        ({"spo2_right_hand_pct": 60}, "urgent"),
        ({"spo2_right_hand_pct": 75}, "planned"),
        ({"sao2_pct": 45}, "emergency"),
        ({"spo2_right_hand_pct": 75, "lactate_mmol_l": 6}, "emergency"),
        ({"spo2_right_hand_pct": 75, "lactate_mmol_l": 3.5}, "urgent"),
        ({"spo2_right_hand_pct": 62, "atrial_defect_mm": 2}, "emergency"),
        ({"spo2_right_hand_pct": 75, "atrial_defect_mm": 2}, "planned"),
        ({"atrial_defect_mm": 2, "atrial_gradient_mmhg": 7}, "emergency"),
    ],
)
def test_each_sign_has_its_level(values: dict[str, float], level: str) -> None:
    """Saturation, lactate, defect and gradient each raise the level past their own limit."""
    assert _urgency(baby_case(reading(20, **values))).level == level


def test_delivery_below_need_is_an_emergency_though_nothing_else_says_so() -> None:
    """A computed shortfall counts like a reading."""
    pink = baby_case(reading(20, spo2_right_hand_pct=75, lactate_mmol_l=1))
    assert _urgency(pink, met=80.0).level == "emergency"
    assert _urgency(pink, met=95.0).level == "urgent"


def test_a_saturation_nobody_measured_is_not_calm() -> None:
    """With neither saturation nor lactate the answer is to measure them now."""
    told = _urgency(baby_case())
    assert (told.level, told.hours) == ("urgent", limits()["unknown_hours"])
    assert "Measure" in told.headline
    assert "60 to 80" in told.why[0]


def test_a_computed_saturation_alone_is_never_an_emergency() -> None:
    """A low computed saturation beside a good lactate is urgent, not more."""
    assert _urgency(baby_case(reading(20, lactate_mmol_l=1)), upper=40.0).level == "urgent"


def test_septostomy_overtakes_what_was_read_before() -> None:
    """After the septum was torn an old defect is no emergency, and old saturation says its age."""
    blue = reading(3, spo2_right_hand_pct=48, atrial_defect_mm=2, atrial_gradient_mmhg=8)
    before, after = baby_case(blue), baby_case(blue, event(4, "septostomy"))
    assert "tight" in _urgency(before).headline
    told = _urgency(after)
    assert "tight" not in told.headline
    assert "before septostomy at 3 h" in told.why[0]
    better = baby_case(blue, event(4, "septostomy"), reading(6, spo2_right_hand_pct=78))
    assert _urgency(better).level == "planned"


def test_an_old_reading_says_its_age() -> None:
    """A saturation of the week before is told as such."""
    case = baby_case(reading(20, spo2_right_hand_pct=75), reading(240, weight_kg=3.3))
    assert "last seen at 20 h" in _urgency(case).why[0]


@pytest.mark.parametrize(("then", "word"), [(5.0, "rising"), (1.0, "falling"), (2.0, None)])
def test_lactate_has_a_direction(then: float, word: str | None) -> None:
    """Two readings give a direction, equal ones none."""
    case = baby_case(
        reading(20, lactate_mmol_l=2, spo2_right_hand_pct=75), reading(22, lactate_mmol_l=then)
    )
    told = " ".join(_urgency(case).why)
    assert [each in told for each in ("rising", "falling")] == [
        word == "rising",
        word == "falling",
    ]


def _with_met(case: Case, met: float, low: float) -> Urgency:
    told = dict.fromkeys(NAMES, CALM)
    told["oxygen_need_met_pct"] = replace(CALM, value=met, low=low)
    told["sao2_upper_pct"] = replace(CALM, value=72.0, low=65.0, high=78.0)
    return urgency(case, Readouts(**told))


@pytest.mark.parametrize(
    ("lactate", "said"),
    [(None, "measure it"), (1.5, "measure it again"), (3.4, "the high lactate fits")],
)
def test_unmet_need_says_what_lactate_will_do(lactate: float | None, said: str) -> None:
    """Where delivery falls below need, lactate is named beside what was seen of it."""
    seen = {} if lactate is None else {"lactate_mmol_l": lactate}
    told = _with_met(baby_case(reading(20, spo2_right_hand_pct=75, **seen)), 93.0, 80.0)
    assert told.level == "urgent"
    assert any("95 % of the oxygen need" in why and said in why for why in told.why)


def test_need_met_in_most_draws_only_is_said() -> None:
    """A calm baby whose need a few draws do not meet is told to watch lactate."""
    case = baby_case(reading(20, spo2_right_hand_pct=75, lactate_mmol_l=1))
    assert "watch lactate" in " ".join(_with_met(case, 100.0, 84.0).why)
    assert "watch lactate" not in " ".join(_with_met(case, 100.0, 100.0).why)


def test_a_high_lactate_is_trusted_over_the_computed_need() -> None:
    """Computed delivery that meets the need does not talk a high lactate away."""
    case = baby_case(reading(20, spo2_right_hand_pct=75, lactate_mmol_l=6))
    assert "trust the lactate" in " ".join(_with_met(case, 100.0, 100.0).why)
    assert "trust the lactate" not in " ".join(_with_met(case, 80.0, 70.0).why)


# ---- the panel ----------------------------------------------------------------------------------


def _panel(*entries: str) -> dict[str, object]:
    rows = panel(baby_case(*entries), Readouts(**dict.fromkeys(NAMES, CALM)))
    return {row.name: row for row in rows}


def test_the_panel_always_has_its_six_rows(harbour: Asked) -> None:
    """Mass, wall, mass to volume, cavity, septum, ratio; each has a method and Z or a reason."""
    rows = harbour.now.panel
    assert [row.what for row in rows[:5]] == ["Mass", "Wall", "Mass to volume", "Cavity", "Septum"]
    assert len(rows) == 6
    for row in rows:
        assert row.method
        assert (row.z is None) == bool(row.z_reason)
        assert (row.z is None) == (row.z_reference is None)


def test_thresholds_carry_population_and_method(harbour: Asked) -> None:
    """No number stands without in whom and how it was found."""
    found = [text for row in harbour.now.panel for text in row.thresholds]
    assert found
    assert all("ventricles" in text and "(" in text for text in found)


def test_a_value_without_method_has_no_z() -> None:
    """Nobody said how it was measured: value yes, Z no, and the reason is given."""
    rows = _panel(reading(20, length_cm=50, lv_mass_g=8, lv_edv_ml=8))
    for name in ("lv_mass_g", "lv_mass_to_volume_g_ml"):
        assert rows[name].z is None  # type: ignore[attr-defined]
        assert rows[name].z_reason == "no method is stated"  # type: ignore[attr-defined]


def test_mass_and_cavity_of_different_days_or_methods_are_not_divided() -> None:
    """Mass to volume needs both by one method and within a day."""
    echo = {"lv_mass_method": "echo-2d", "lv_edv_method": "echo-2d"}
    apart = _panel(
        reading(20, lv_mass_g=8, lv_mass_method="echo-2d"),
        reading(200, lv_edv_ml=8, lv_edv_method="echo-2d"),
    )
    mixed = _panel(reading(20, lv_mass_g=8, lv_edv_ml=8, **(echo | {"lv_edv_method": "cmr"})))
    for rows in (apart, mixed):
        assert rows["lv_mass_to_volume_g_ml"].text == "not measured"  # type: ignore[attr-defined]
    both = _panel(reading(20, length_cm=50, lv_mass_g=8, lv_edv_ml=8, **echo))
    assert both["lv_mass_to_volume_g_ml"].text == "1.00 g/mL"  # type: ignore[attr-defined]


def test_an_old_measurement_says_its_age() -> None:
    """A mass of the first day, looked at on day ten, is told with its age."""
    rows = _panel(reading(20, lv_mass_g=8), reading(240, weight_kg=3.3))
    assert rows["lv_mass_g"].method == "method not stated, at 20 h"  # type: ignore[attr-defined]


# ---- arithmetic by hand -------------------------------------------------------------------------


def test_wall_of_a_spherical_shell_by_hand() -> None:
    """A cavity of radius 1 cm in a sphere of radius 1.4 cm has a wall of 4 mm."""
    inner, outer = 4.0 / 3.0 * pi * 1.0**3, 4.0 / 3.0 * pi * 1.4**3
    mass = 1.05 * (outer - inner)
    assert shell_thickness_mm(np.array([mass]), np.array([inner])) == pytest.approx([4.0])


def test_predicted_stress_by_hand() -> None:
    """60 mmHg, 2 cm across, 3 mm thick: 0.334 · 60 · 2 / (0.3 · 1.15) = 116·10³ dyn/cm²."""
    cavity = pi / 3.0 * 2.0**3 / 1.0  # ellipsoid twice as long as wide: π D³ / 3
    told = predicted_stress_kdyn_cm2(np.array([60.0]), np.array([cavity]), np.array([3.0]))
    assert told == pytest.approx([0.334 * 60.0 * 2.0 / (0.3 * 1.15)])


def test_an_interval_leaves_out_five_per_cent_on_each_side() -> None:
    """Of 0 to 100 the middle is 50 and the interval 5 to 95; what is not a number is left out."""
    told = estimate(np.array([*np.arange(101.0), np.nan]), "1")
    assert (told.low, told.value, told.high) == (5.0, 50.0, 95.0)


def test_oxygen_taken_up_is_flow_times_difference() -> None:
    """Fick: what arrives in the body's veins less what leaves them is the need that is met."""
    case = read_case(THIN)
    today = snapshot(case, draws=8, seed=1)
    _, r = describe(case, today)
    content = {part.name: r.oxygen.content[:, i] for i, part in enumerate(r.circuit.parts)}
    onward, back = r.both_ways_ml_s("body_veins")
    arrived = r.flow_ml_s("upper_body") * content["AoU"]
    arrived += r.flow_ml_s("lower_body") * content["AoD"] + back * content["RA"]
    need = np.asarray(r.circuit.blood.consumption_ml_min) / 60.0 * r.oxygen.need_met
    taken = arrived - onward * content["SV"]
    # what each of the other parts gains in a beat the body's veins may lose, with its oxygen
    beat_s = 60.0 / np.asarray(r.circuit.rate_per_min)
    open_ = len(content) * r.orbit.gap_ml / beat_s * content["AoU"]
    assert (np.abs(taken - need) <= open_).all()
    assert (open_ < 0.02 * need).all()


# ---- changes and refusals -----------------------------------------------------------------------


def test_each_change_names_its_harm(harbour: Asked, tight: Asked) -> None:
    """No gain stands without harm; prostaglandin's names apnoea, septostomy's its limits."""
    for item in (*harbour.now.what_if, *tight.now.what_if):
        assert item.harms, item.change
    by_name = {item.change: " ".join(item.harms) for item in harbour.now.what_if}
    assert "Apnoea" in by_name["Prostaglandin reopens the duct"]
    torn = {item.change: " ".join(item.harms) for item in tight.now.what_if}
    assert "above 65 %" in torn["Septostomy"]


def test_septostomy_would_help_the_boy_with_the_tight_septum(tight: Asked) -> None:
    """It raises saturation and lowers the left atrium; a girl with a torn septum is not offered."""
    was = tight.now.readouts
    then = next(i.readouts for i in tight.now.what_if if i.change == "Septostomy")
    assert then.sao2_upper_pct.value > was.sao2_upper_pct.value
    assert then.atrial_gradient_mmhg.value < was.atrial_gradient_mmhg.value


def test_a_torn_septum_is_not_torn_again(harbour: Asked) -> None:
    """With a wide defect septostomy is not among the changes."""
    assert "Septostomy" not in {item.change for item in harbour.now.what_if}


def test_pure_oxygen_is_asked_of_a_baby_in_air_only(harbour: Asked, tight: Asked) -> None:
    """In air oxygen raises saturation some points; a boy on 80 % has nothing left to try."""
    name = "Pure oxygen to breathe"
    then = next(i.readouts for i in harbour.now.what_if if i.change == name)
    gained = then.sao2_upper_pct.value - harbour.now.readouts.sao2_upper_pct.value
    assert 2.0 < gained < 15.0
    assert name not in {item.change for item in tight.now.what_if}


def test_what_is_breathed_is_said_where_it_is_not_known() -> None:
    """Never recorded, or recorded long ago: air is taken, and that is said; today: nothing is."""
    never, long_ago, today = (
        " ".join(text for text in unknowns(baby_case(*rows)) if "nspired" in text)
        for rows in (
            (),
            (reading(2, inspired_oxygen_pct=40), reading(90, weight_kg=3.3)),
            (reading(2, inspired_oxygen_pct=40),),
        )
    )
    assert "not recorded" in never
    assert "at 2 h (40 %)" in long_ago
    assert today == ""


@pytest.mark.parametrize("kind", ["switch", "atrial_switch"])
def test_a_baby_after_its_operation_is_refused(kind: str) -> None:
    """What this edition does not compute is refused, not guessed."""
    with pytest.raises(RouteNotPossible) as refusal:
        now(baby_case(event(240, kind)), draws=8)
    assert refusal.value.code == "after_operation"
    assert kind in refusal.value.where


@pytest.mark.parametrize("kind", ["band", "shunt"])
def test_a_band_or_shunt_without_its_size_is_refused(kind: str) -> None:
    """The circulation hangs on it; what to add is said."""
    with pytest.raises(PriorError) as refusal:
        now(baby_case(event(240, kind)), draws=8)
    assert refusal.value.code == "no_size"
    assert "_mm" in refusal.value.remedy


def test_a_banded_baby_is_answered() -> None:
    """Behind a recorded band the left ventricle bears more, and a shunt is named in the answer."""
    at = reading(250, spo2_right_hand_pct=78)
    plain, banded = (
        now(baby_case(*events, at), draws=12).result
        for events in ((), (event(240, "band", band_circumference_mm=24, shunt_mm=3.5),))
    )
    assert isinstance(plain, NowResult)
    assert isinstance(banded, NowResult)
    assert banded.readouts.lv_systolic_mmhg.value > plain.readouts.lv_systolic_mmhg.value + 10.0
    assert "shunt" in banded.why
    assert "shunt" not in plain.why


def test_size_is_that_of_the_day(harbour: Asked) -> None:
    """Index and grams belong together."""
    r = harbour.now.readouts
    body = Body(weight_kg=3.35, surface_m2=r.lv_mass_g.value / r.lv_mass_g_m2.value)
    assert 0.20 < body.surface_m2 < 0.24
