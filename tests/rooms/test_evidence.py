"""The evidence room: published rates with their source, and what they do not say."""

from __future__ import annotations

import re

import pytest

from inseries.base.findings import Severity
from inseries.base.numbers import Provenance
from inseries.base.sources import bibliography
from inseries.evidence.rows import (
    Topic,
    cost_of_waiting,
    late_series,
    limits_not_lv,
    rows,
    rows_on,
)


def test_every_row_has_a_source_or_says_it_has_none() -> None:
    """A published row cites a listed source; any other says that none was read."""
    for row in rows():
        if row.provenance is Provenance.PUBLISHED:
            assert row.source in bibliography(), row.id
            assert row.cited != str(row.provenance), row.id
        else:
            assert row.cited == str(row.provenance), row.id


def test_every_row_says_in_whom_and_why_not() -> None:
    """Each row has a population, a denominator and a caution."""
    for row in rows():
        assert row.population, row.id
        assert row.denominator, row.id
        assert row.caution, row.id
        assert row.seen, row.id


def test_bounds_enclose_the_value_and_are_named() -> None:
    """Where a row has bounds they enclose its value, and it says what they are."""
    bounded = [row for row in rows() if row.low is not None]
    assert bounded
    for row in bounded:
        assert row.value is not None
        assert row.high is not None
        assert row.low <= row.value <= row.high, row.id
        assert row.interval, row.id


def test_cost_of_waiting_is_complete_and_confounded() -> None:
    """The three published costs stand with their numbers, none called the ventricle's alone."""
    found = {row.source: (row.value, row.low, row.high) for row in cost_of_waiting()}
    assert found == {
        "anderson2014": (47.0, 23.0, 66.0),
        "obyrne2018": (1.90, 1.11, 3.26),
        "faateh": (1.49, 1.02, 2.15),
    }
    for row in cost_of_waiting():
        assert re.search("not (only )?the ventricle's doing", row.caution), row.id


def test_late_series_are_selected_and_say_so() -> None:
    """Each late series has a number, the ages it covers, and what makes it no promise."""
    series = {row.source: row for row in late_series()}
    assert set(series) == {"late_switch_tgkdc", "recep_kosuyolu", "yasui1989"}
    primary = series["late_switch_tgkdc"]
    assert (primary.age_low_days, primary.age_high_days, primary.n) == (22.0, 125.0, 14)
    assert primary.value == pytest.approx(100 * 13 / 14, abs=0.05)
    assert "12 left the theatre with an open chest" in primary.text
    assert "arterial and atrial switch" in series["recep_kosuyolu"].caution
    assert series["recep_kosuyolu"].value == pytest.approx(100 * 7 / 11, abs=0.05)
    assert "kept loaded" in series["yasui1989"].caution


def test_the_habit_of_three_weeks_is_not_called_published() -> None:
    """The two-to-three-week rule stands as common practice, since the guideline was not read."""
    (rule,) = rows_on("rule_of_practice")
    assert rule.provenance is Provenance.COMMON_PRACTICE


def test_harms_of_prostaglandin_name_apnoea_and_no_dose() -> None:
    """Apnoea is there with its count; what no paper was read for is from memory."""
    harms = rows_on(Topic.PROSTAGLANDIN)
    assert "16 of 94" in harms[0].text
    assert harms[-1].value is None
    assert harms[-1].provenance is Provenance.MEMORY


def test_septostomy_and_brain_stand_with_their_contradiction() -> None:
    """The link of septostomy to brain injury is told together with the series that deny it."""
    (linked,) = [row for row in rows_on("septostomy") if row.source == "mcquillen2006"]
    assert "petit2009" in linked.caution
    assert "petit2009" in {row.source for row in rows_on("brain")}


def test_a_row_speaks_only_at_its_ages() -> None:
    """A late series speaks at day 42, not at day 5 nor at day 200."""
    primary = late_series()[0]
    assert primary.speaks_at(42)
    assert not primary.speaks_at(5)
    assert not primary.speaks_at(200)
    assert late_series()[1].speaks_at(2000)


def test_limits_that_are_not_the_ventricles() -> None:
    """All six limits are named, in words without a forecast, with listed sources."""
    limits = limits_not_lv()
    assert [limit.name for limit in limits] == [
        "hypoxaemia",
        "lung vessels",
        "heart failure",
        "brain",
        "gut",
        "infection",
    ]
    for limit in limits:
        assert limit.estimate is None
        assert limit.severity is Severity.CAUTION
        assert set(limit.sources) <= set(bibliography())


def test_unknown_topic_is_refused() -> None:
    """A topic nobody wrote about is an error, not an empty answer."""
    with pytest.raises(ValueError, match="astrology"):
        rows_on("astrology")
