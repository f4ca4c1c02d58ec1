"""Each rule of clinical sense catches a bad text and lets a good one pass."""

from __future__ import annotations

import pytest

from inseries.brief.sense import clinical_sense
from inseries.brief.wording import wording_sense

GOOD = """PLANNED: look again within 24 hours. Saturation above the duct 72 %, lactate 2.1 mmol/L.
Today the survivable tier stands at 85 % (70 to 95 %), the comfortable tier at 60 % (40 to 80 %).
The chance falls below 50 % between day 24 and 38.
The published cost of waiting: odds of major morbidity +47 % (23 to 66) a day after day 3.
Not the left ventricle's: hypoxaemia, lung vessels, heart failure, brain, gut, infection.
A decision aid from a model, not a device. It does not know the coronary arteries.
"""


def rules(text: str) -> set[str]:
    """The names of the rules a text breaks."""
    return {violation.rule for violation in clinical_sense(text)}


def wording(text: str) -> set[str]:
    """The names of the rules a sentence breaks."""
    return {violation.rule for violation in wording_sense(text)}


def test_a_good_text_passes() -> None:
    """A text that keeps every rule is not stopped."""
    assert clinical_sense(GOOD) == []


@pytest.mark.parametrize(
    ("rule", "bad", "good"),
    [
        ("lone_last_day", "Possible until day 31.", "The chance falls between day 20 and 40."),
        ("lone_last_day", "The last day is 31.", "There is no last day in this curve."),
        ("lone_last_day", "This is the deadline.", "A curve, not a deadline."),
        ("lone_last_day", "A switch no later than day 21.", "A later switch was published."),
        ("lone_last_day", "The window closes on day 33.", "The window narrows week by week."),
        ("lone_last_day", "By day 40 at the latest.", "At day 40, 13 of 14 did well."),
        ("lone_last_day", "below_50_day: 31", "below 50 %: day 31 (24 to 38)"),
        ("lone_last_day", "A switch up to day 21.", "Age at switch; computed up to day 56."),
        ("lone_last_day", "Below 10 % on day 56.", "85 % on day 9, below 5 % on day 56."),
        ("lone_last_day", "It falls below 50 % on day 31.", "Below 50 % between day 24 and 38."),
        ("fine_chance", "The chance is 83 %.", "The chance is 85 %."),
        ("fine_chance", "Survivable 80 % (61 to 95 %).", "Survivable 80 % (60 to 95 %)."),
        ("fine_chance", "Comfortable: 42.5 per cent.", "Comfortable: 40 per cent."),
        ("fine_chance", "A chance of 60 to 72 %.", "Saturation 72 %, and 13 of 14 lived."),
        ("fine_day", "About 5.3 days later.", "About 5 days later, at 9.5 hours of age."),
        (
            "threshold_without_population",
            "Wall 2.9 mm (threshold 4 mm).",
            "Wall 2.9 mm (threshold 4 mm, found in banded ventricles).",
        ),
        ("dose_advice", "Give prostaglandin 20 ng/kg/min.", "Prostaglandin runs since 1 h."),
        ("dose_advice", "Raise the prostaglandin dose.", "Prostaglandin can cause apnoea."),
        ("dose_advice", "It should run at 0.05 µg per kg.", "Reading: 10 ng/kg/min at 2 h."),
        ("one_word_verdict", "The left ventricle is adequate.", "Survivable, by its criteria."),
        ("date", "Born 2026-03-02.", "Born 9 days ago, PMID 24184243."),
        ("date", "Seen on 02.03.2026.", "Version 0.1.10, 68/44 (53) mmHg."),
        ("date", "Seen on 2/3/26.", "Ratio 7/11, 180 mL/min/kg, doi 10.1186/1532-429X-11-19."),
        ("date", "Seen on 2 March 2026.", "J Cardiovasc Magn Reson 25:26, n = 140, 2003–2012."),
        ("date", "On March 2nd, 2026.", "May be seen in 13 of 14 by 2026."),
        ("place_of_a_file", "From /export/roe/baby.toml.", "Flow 180 mL/min/kg, and/or more."),
        ("place_of_a_file", r"From C:\Users\roe\baby.toml", "Ratio: 0.62, at rest."),
        ("place_of_a_file", "Ask roe@example.org.", "Ask the team at the bedside."),
    ],
)
def test_a_wording_rule_catches_the_bad_and_passes_the_good(rule: str, bad: str, good: str) -> None:
    """The bad sentence breaks the rule; the good one breaks none."""
    assert rule in wording(bad)
    assert wording(good) == set()


@pytest.mark.parametrize(
    ("rule", "dropped"),
    [
        ("cost_missing", "The published cost of waiting"),
        ("cost_missing", "odds"),
        ("limits_missing", "hypoxaemia"),
        ("limits_missing", "lung vessels"),
        ("limits_missing", "heart failure"),
        ("limits_missing", "brain"),
        ("limits_missing", "gut"),
        ("limits_missing", "infection"),
        ("caution_missing", "decision aid"),
        ("caution_missing", "not a device"),
        ("caution_missing", "does not know"),
    ],
)
def test_a_text_without_its_company_is_caught(rule: str, dropped: str) -> None:
    """Taking one necessary phrase away from the good text breaks exactly that rule."""
    assert rules(GOOD.replace(dropped, "…")) == {rule}


def test_a_text_without_a_forecast_needs_no_cost_of_waiting() -> None:
    """Urgency alone, with its cautions, is a whole text."""
    lines = GOOD.splitlines()
    assert clinical_sense("\n".join((lines[0], lines[-1]))) == []


@pytest.mark.parametrize(
    "words", ["rod energy", "Shapley", "theta", "θ", "per-criterion", "lv_mass_g", "Kalman"]
)
def test_engine_words_stay_off_the_first_page_only(words: str) -> None:
    """An engine word on the first page is caught, on the second it is not."""
    assert rules(f"{words}\n{GOOD}") == {"engine_words"}
    assert rules(f"{GOOD}\f{words}") == set()


def test_a_forecast_above_an_emergency_is_caught() -> None:
    """An emergency named beneath a chance breaks the rule; named first, it does not."""
    assert rules(f"{GOOD}\nEMERGENCY: the septum is tight.") == {"forecast_first"}
    assert rules(f"EMERGENCY: the septum is tight.\n{GOOD}") == set()


def test_a_violation_says_its_rule_and_the_words() -> None:
    """What is printed names why, and which words."""
    (violation,) = wording_sense("The left ventricle is adequate.")
    assert "not a verdict" in str(violation)
    assert "'adequate'" in str(violation)
