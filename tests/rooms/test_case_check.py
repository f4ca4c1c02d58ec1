"""Looking over a case: what contradicts, what is missing, what one should know."""

from __future__ import annotations

from pathlib import Path

import pytest

from inseries.case import CheckReport, Loss, check, read_case
from inseries.norms.zscores import echo_z

DEMO = Path(__file__).parents[2] / "src/inseries/desk/demo"
HEAD = '[case]\nid = "x"\nsex = "female"\n[anatomy]\nsegments = "{S,D,D}"\nseptum = "intact"\n'
OPEN = HEAD + 'lv_outflow = "open"\npulmonary_valve = "normal"\n'


def _at(hours: float, *lines: str) -> str:
    return "\n".join(("[[readings]]", f"age_h = {hours}", *lines, ""))


def _event(hours: float, kind: str) -> str:
    return f'[[events]]\nage_h = {hours}\nkind = "{kind}"\n'


def _check(text: str) -> CheckReport:
    return check(read_case(text))


def _names(text: str) -> set[str]:
    return {finding.name for finding in _check(text).contradictions}


CLOSED = 'atrial_defect_mm = 0\nduct_mm = 0\nmethod = "echo-2d"'
CANNOT_BE = {
    "weight_jump": _at(24, "weight_kg = 3.4") + _at(36, "weight_kg = 2.38"),
    "readings_disagree": _at(24, "spo2_foot_pct = 60") + _at(24.1, "spo2_foot_pct = 85"),
    "no_mixing": _at(24, "spo2_right_hand_pct = 95", CLOSED),
    "duct_reopened": _event(24, "duct_closed") + _at(48, "duct_mm = 2.5"),
    "volumes": _at(24, "lv_edv_ml = 5", "lv_esv_ml = 6"),
    "ejection_fraction": _at(24, "lv_edv_ml = 9", "lv_esv_ml = 3", "lv_ef_pct = 40"),
    "arterial_pressure": _at(24, "systolic_mmhg = 40", "diastolic_mmhg = 60"),
    "saturation": _at(24, "sao2_pct = 50", "spo2_right_hand_pct = 80"),
    "haemoglobin": _at(24, "haemoglobin_g_dl = 9", "haematocrit_pct = 55"),
    "atrial_gradient": _at(24, "la_mean_mmhg = 8", "ra_mean_mmhg = 6", "atrial_gradient_mmhg = 9"),
    "lv_pressure": _at(24, "lv_systolic_mmhg = 35", "pulmonary_artery_systolic_mmhg = 60"),
    "rv_pressure": _at(24, "rv_systolic_mmhg = 40", "systolic_mmhg = 70"),
    "septum_position": _at(
        24, "lv_systolic_mmhg = 75", "rv_systolic_mmhg = 50", 'septum_position = "toward_left"'
    ),
    "septum": _at(24, "ventricular_defect_mm = 5"),
    "lv_outflow": _at(24, "lv_outflow_gradient_mmhg = 35"),
    "event_order": _event(24, "switch") + _event(48, "septostomy"),
}


@pytest.mark.parametrize("name", CANNOT_BE)
def test_what_cannot_be_is_found_and_nothing_else(name: str) -> None:
    """Each contradiction is found by its name, alone, in a sentence with a capital and an end."""
    found = _check(OPEN + CANNOT_BE[name]).contradictions
    assert {finding.name for finding in found} == {name}
    assert all(f.sentence[0].isupper() and f.sentence.endswith(".") for f in found)


CAN_BE = {
    "foot above hand": _at(1, "spo2_right_hand_pct = 40", "spo2_foot_pct = 90"),
    "a tenth of weight lost in three days": _at(1, "weight_kg = 3.4") + _at(73, "weight_kg = 3.06"),
    "echo and CMR mass": _at(
        24, "lv_mass_g = 8.3", 'lv_mass_method = "echo-2d"'
    ) + _at(24, "lv_mass_g = 6.0", 'lv_mass_method = "cmr"'),
    "septostomy between two saturations": _at(2.0, "spo2_foot_pct = 50")
    + _event(2.05, "septostomy")
    + _at(2.2, "spo2_foot_pct = 78"),
    "mixing by a defect": _at(24, "spo2_right_hand_pct = 80", "duct_mm = 0",
                              "atrial_defect_mm = 7"),
    "well saturated after the switch": _event(20, "switch")
    + _at(24, "spo2_right_hand_pct = 99", CLOSED),
    "closed septum before the balloon": _at(1, CLOSED) + _event(2, "septostomy")
    + _at(3, "spo2_right_hand_pct = 75"),
    "duct stented open": _event(24, "duct_closed") + _event(30, "duct_stent")
    + _at(48, "duct_mm = 3.5"),
    "left ventricle carries the body after the switch": _event(20, "switch")
    + _at(24, "lv_systolic_mmhg = 70", "pulmonary_artery_systolic_mmhg = 30",
          "rv_systolic_mmhg = 30", "systolic_mmhg = 70"),
}  # fmt: skip


@pytest.mark.parametrize("name", CAN_BE)
def test_what_can_be_is_no_contradiction(name: str) -> None:
    """Signs of this heart and consequences of what was done are not called contradictions."""
    assert not _names(OPEN + CAN_BE[name])


@pytest.mark.parametrize("name", ["harbour-07", "ridge-03", "tight-01"])
def test_demo_cases_do_not_contradict_themselves(name: str) -> None:
    """The invented babies are possible ones."""
    assert not check(read_case(DEMO / f"{name}.toml")).contradictions


def test_foot_above_hand_is_told_as_a_sign_of_two_mechanisms() -> None:
    """The remark names lung resistance and the arch, and never calls it a pass."""
    text = " ".join(r.text for r in _check(OPEN + CAN_BE["foot above hand"]).remarks)
    assert "lung resistance" in text
    assert "arch" in text
    assert "excludes neither" in text


@pytest.mark.parametrize(
    ("anatomy", "told"),
    [
        ("", "outflow is not stated"),
        ('lv_outflow = "fixed"', "narrowed (fixed)"),
        ('lv_outflow = "valvar"', "narrowed (valvar)"),
        ('lv_outflow = "open"\npulmonary_valve = "stenotic"', "valve is stenotic"),
        ('lv_outflow = "open"', "pulmonary valve is not stated"),
    ],
)
def test_suitability_is_not_shown(anatomy: str, told: str) -> None:
    """A fixed outflow, a bad valve or missing data: that a switch is the operation is not shown."""
    texts = [r.text for r in _check(HEAD + anatomy).remarks if "is not shown" in r.text]
    assert any(told in text for text in texts)


def test_an_open_outflow_with_a_normal_valve_draws_no_such_remark() -> None:
    """With both stated and sound there is nothing to say about suitability."""
    assert not [r for r in _check(OPEN).remarks if "not shown" in r.text]


def test_echo_and_cmr_mass_are_called_different_quantities() -> None:
    """Two masses by echo and CMR draw a caution against reading a trend into them."""
    texts = [r.text for r in _check(OPEN + CAN_BE["echo and CMR mass"]).remarks]
    assert any("different quantities" in text for text in texts)


def test_the_echo_mean_in_the_remark_is_that_of_the_reference() -> None:
    """About 36 g/m2 by echo in a healthy newborn is what the packaged reference gives."""
    assert echo_z("lv_mass_g", 8.0, 0.22).expected / 0.22 == pytest.approx(36, abs=1)


def test_a_mass_without_method_is_remarked_on() -> None:
    """Nothing is defaulted in silence: a mass without its method draws a caution."""
    texts = [r.text for r in _check(OPEN + _at(24, "lv_mass_g = 8")).remarks]
    assert any("without its method" in text for text in texts)


def test_other_values_without_method_are_listed() -> None:
    """A defect without method is named in a note, a weight on a scale is not."""
    report = _check(OPEN + _at(24, "duct_mm = 3", "weight_kg = 3.4"))
    texts = [r.text for r in report.remarks if "No method is stated" in r.text]
    assert texts == ["No method is stated for: duct."]


def test_corrected_transposition_is_not_taken_for_ours() -> None:
    """{S,L,L} draws a caution that its circulation is not computed here."""
    texts = [r.text for r in _check(OPEN.replace("{S,D,D}", "{S,L,L}")).remarks]
    assert any("corrected transposition" in text for text in texts)


def test_an_empty_case_lacks_the_costly_things_first() -> None:
    """For each verb, what costs much certainty stands before what costs little."""
    lacking = _check(HEAD).missing
    order = list(Loss)
    assert "nothing seen yet" in _check(HEAD).sentences[0]
    for verb in ("now", "window"):
        losses = [order.index(m.loss) for m in lacking if m.verb == verb]
        assert losses == sorted(losses)
        assert losses[0] == 0


def test_either_pressures_or_the_septum_will_do() -> None:
    """The position of the septum stands in for the two ventricular pressures, and the reverse."""
    septum = OPEN + _at(24, 'septum_position = "flat"')
    pressures = OPEN + _at(24, "lv_systolic_mmhg = 50", "rv_systolic_mmhg = 60")
    lone = OPEN + _at(24, "lv_systolic_mmhg = 50")
    missing = [any("septum" in m.what and "pressure" in m.what for m in _check(t).missing)
               for t in (septum, pressures, lone)]  # fmt: skip
    assert missing == [False, False, True]


def test_an_old_value_is_asked_for_again() -> None:
    """A mass seen a week before the last reading is named with its age; a fresh one is not."""
    mass = 'lv_mass_g = 8\nmethod = "echo-2d"'
    old = _check(OPEN + _at(24, mass) + _at(24 * 9, "ph = 7.4")).missing
    fresh = _check(OPEN + _at(24 * 9, mass)).missing
    asked = [m for m in old if m.verb == "window" and m.keys == ("lv_mass_g",) and m.age_days]
    assert [m.age_days for m in asked] == [1.0]
    assert "last seen at 24 h" in asked[0].sentence
    assert not [m for m in fresh if m.age_days is not None]


def test_a_trend_needs_two_masses_by_one_method() -> None:
    """An echo mass and a CMR mass are one value each; two by echo make a trend."""
    echo, cmr = ('lv_mass_g = 8\nmethod = "echo-2d"', 'lv_mass_g = 6\nmethod = "cmr"')
    mixed = _check(OPEN + _at(24, echo) + _at(48, cmr)).missing
    same = _check(OPEN + _at(24, echo) + _at(48, echo)).missing
    assert any("second" in m.what for m in mixed)
    assert not any("second" in m.what for m in same)


def test_sentences_tell_ages_and_never_dates() -> None:
    """The record as sentences holds neither year nor month of the file, and the values."""
    text = " ".join(check(read_case(DEMO / "harbour-07.toml")).sentences)
    assert "2026" not in text
    assert "At 50 min:" in text
    assert "left ventricular mass 7.9 ± 0.8 g" in text
    assert "At 2 h 30 min: septostomy." in text


def test_sources_and_names_behind_events_are_not_told() -> None:
    """Free text of a source and the name of a releasing clinician stay in the file."""
    text = OPEN + _at(2, "ph = 7.3", 'source = "Placeholder Hospital"')
    text += _event(3, "released") + 'by = "Dr Placeholder"\n'
    report = _check(text)
    assert "Placeholder" not in repr(report)
