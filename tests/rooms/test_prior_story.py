"""The story of a baby from its case: size, blood and openings over age."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from rooms.prior_samples import ANATOMY, HEAD, baby_case, event, reading

from inseries.base.errors import PriorError
from inseries.case import read_case
from inseries.prior.from_case import (
    CLOSING_DAYS,
    DUCT_UNDER_PROSTAGLANDIN_MM,
    OLDEST_DAYS,
    duct_track,
    story_of,
)
from inseries.prior.plain import CLOSING_DUCT, CYANOTIC_FLOOR_G_DL

if TYPE_CHECKING:
    from inseries.prior.story import Story


def _story(*entries: str, anatomy: str = ANATOMY) -> Story:
    return story_of(baby_case(*entries, anatomy=anatomy))


def _duct(*entries: str, at: float) -> float:
    return duct_track(baby_case(*entries))[0](at)


# ---- size ---------------------------------------------------------------------------------------


def test_without_a_weight_there_is_no_story() -> None:
    """A case without weight is refused, and told what to add."""
    with pytest.raises(PriorError) as refusal:
        story_of(read_case(HEAD + reading(5, spo2_right_hand_pct=70)))
    assert refusal.value.code == "no_weight"
    assert "weight_kg" in refusal.value.remedy


def test_a_child_of_a_year_is_refused() -> None:
    """Beyond half a year nothing here was compared with anything, so there is no answer."""
    with pytest.raises(PriorError) as refusal:
        _story(reading(24 * (OLDEST_DAYS + 1), weight_kg=8))
    assert refusal.value.code == "too_old"


def test_weight_goes_through_its_readings_and_on_along_its_centile() -> None:
    """Each weight on the scale is met; the last is followed by growth."""
    story = _story(reading(240, weight_kg=3.2))
    assert story.weight_kg(1 / 24) == pytest.approx(3.4)
    assert story.weight_kg(10.0) == pytest.approx(3.2)
    assert story.weight_kg(40.0) > story.weight_kg(20.0) > 3.2


def test_a_baby_weighed_late_was_smaller_at_birth() -> None:
    """One weight at 40 days does not make the newborn as heavy."""
    late = read_case(HEAD + reading(960, weight_kg=4.2))
    story = story_of(late)
    assert story.weight_kg(40.0) == pytest.approx(4.2)
    assert 2.8 < story.weight_kg(0.0) < 3.6


def test_surface_follows_weight_and_length() -> None:
    """A heavier or longer baby has more surface."""
    plain = _story().surface_m2(1 / 24)
    assert 0.20 < plain < 0.24
    assert _story(reading(2, length_cm=54)).surface_m2(1 / 24) > plain


# ---- blood --------------------------------------------------------------------------------------


def test_haemoglobin_is_as_measured() -> None:
    """A measured haemoglobin is used and marked as measured."""
    story = _story(reading(30, haemoglobin_g_dl=13.0))
    assert story.haemoglobin_measured
    assert story.haemoglobin_g_dl(2.0) == 13.0


def test_haemoglobin_nobody_measured_stops_falling_in_cyanosis() -> None:
    """The fall of the first two months is cut where cyanosis holds it."""
    story = _story()
    assert not story.haemoglobin_measured
    assert story.haemoglobin_g_dl(60.0) == pytest.approx(CYANOTIC_FLOOR_G_DL)
    assert story.haemoglobin_g_dl(0.0) > CYANOTIC_FLOOR_G_DL


# ---- duct ---------------------------------------------------------------------------------------


def test_a_duct_nobody_looked_at_closes_as_ducts_do() -> None:
    """Without readings and drugs the published diameters are taken."""
    assert _duct(at=1.0) == CLOSING_DUCT(1.0)
    assert _duct(at=5.0) == 0.0


def test_a_duct_that_nothing_holds_closes_after_its_reading() -> None:
    """A wide duct at five hours without prostaglandin is closed by the fifth day."""
    wide = reading(5, duct_mm=4.5)
    assert _duct(wide, at=5 / 24) == pytest.approx(4.5)
    assert 0.0 < _duct(wide, at=2.0) < 4.5
    assert _duct(wide, at=5.0) == 0.0


def test_a_duct_open_late_without_drug_is_believed() -> None:
    """A duct seen open at ten days, when usual ones have closed, stays as it was seen."""
    assert _duct(reading(240, duct_mm=2.0), at=40.0) == 2.0


def test_prostaglandin_holds_the_duct() -> None:
    """While prostaglandin runs the duct stays as last read, or as wide as such ducts are."""
    start = event(4, "prostaglandin_start")
    assert _duct(reading(5, duct_mm=3.5), start, at=50.0) == 3.5
    assert _duct(start, at=50.0) == DUCT_UNDER_PROSTAGLANDIN_MM


def test_a_duct_closes_once_prostaglandin_stops() -> None:
    """From the stop it takes its days to close, and the walk must not step across."""
    given = (reading(5, duct_mm=3.0), event(4, "prostaglandin_start"))
    case = baby_case(*given, event(120, "prostaglandin_stop"))
    track, breaks = duct_track(case)
    assert track(5.0) == pytest.approx(3.0)
    assert track(5.0 + CLOSING_DAYS / 2) == pytest.approx(1.5)
    assert track(5.0 + CLOSING_DAYS) == 0.0
    assert breaks == (5.0, 5.0 + CLOSING_DAYS)


def test_prostaglandin_given_again_holds_it_again() -> None:
    """Only the last stop counts, and only if nothing was started after it."""
    entries = [
        event(4, "prostaglandin_start"),
        event(48, "prostaglandin_stop"),
        event(50, "prostaglandin_start"),
    ]
    assert _duct(*entries, at=30.0) == DUCT_UNDER_PROSTAGLANDIN_MM


def test_a_reading_after_the_stop_is_believed() -> None:
    """A duct seen open three days after the stop was open then."""
    given = (reading(5, duct_mm=3.0), event(4, "prostaglandin_start"))
    entries = (*given, event(48, "prostaglandin_stop"), reading(120, duct_mm=1.5))
    assert _duct(*entries, at=5.0) == pytest.approx(1.5)
    assert _duct(*entries, at=5.0 + CLOSING_DAYS) == 0.0


def test_a_duct_recorded_closed_is_closed() -> None:
    """From the recorded age on it is closed, whatever was read before."""
    entries = (event(4, "prostaglandin_start"), event(48, "prostaglandin_stop"))
    closed = (*entries, event(60, "duct_closed"))
    assert _duct(*closed, at=2.0) == pytest.approx(DUCT_UNDER_PROSTAGLANDIN_MM)
    assert _duct(*closed, at=2.5) == 0.0
    assert _duct(event(12, "duct_closed"), at=3.0) == 0.0


def test_a_stent_opens_the_duct_at_once_and_keeps_it() -> None:
    """At the stent the diameter jumps to its size and stays."""
    case = baby_case(reading(5, duct_mm=2.0), event(240, "duct_stent", stent_mm=3.5))
    track, breaks = duct_track(case)
    assert track(9.99) == 0.0
    assert track(10.0) == track(60.0) == 3.5
    assert 10.0 in breaks


# ---- septa and outflow --------------------------------------------------------------------------


def test_septostomy_parts_the_readings_of_the_atrial_defect() -> None:
    """Echo before it speaks of the foramen, echo after it of the tear."""
    story = _story(
        reading(3, atrial_defect_mm=2.0),
        event(5, "septostomy"),
        reading(6, atrial_defect_mm=6.0),
        reading(60, atrial_defect_mm=7.0),
    )
    assert (story.foramen_mm, story.tear_mm) == (2.0, 6.5)
    assert story.septostomy_day == pytest.approx(5 / 24)
    assert story.septostomy_day in story.breaks_days


def test_a_tear_nobody_measured_is_left_to_the_draws() -> None:
    """After septostomy without echo the size is unknown, not that of the foramen."""
    story = _story(reading(3, atrial_defect_mm=2.0), event(5, "septostomy"))
    assert (story.foramen_mm, story.tear_mm) == (2.0, None)


def test_the_ventricular_defect_is_the_measured_one_or_the_stated_one() -> None:
    """A measured diameter comes before the one stated with the anatomy; none means closed."""
    stated = '[anatomy]\nseptum = "vsd"\nvsd_mm = 6\n'
    assert _story().ventricular_mm == 0.0
    assert _story(anatomy=stated).ventricular_mm == 6.0
    assert _story(reading(9, ventricular_defect_mm=4.5), anatomy=stated).ventricular_mm == 4.5


def test_an_outflow_nobody_looked_at_is_unknown() -> None:
    """The outflow is as stated, or None."""
    assert _story().outflow == "open"
    assert _story(anatomy="").outflow is None
