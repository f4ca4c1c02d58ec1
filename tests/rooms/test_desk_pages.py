"""What a page shows comes from the verb's own record: pictures, handles, story, a first look."""

from __future__ import annotations

import re
from dataclasses import fields
from typing import TYPE_CHECKING

import pytest

from inseries.base.errors import CaseError
from inseries.desk import quick_window, try_opening
from inseries.desk.demonstration import demo_case
from inseries.desk.figures import DRAWN, figure_of, renamed
from inseries.desk.glance import first_look, full, fuller_look, paper
from inseries.desk.handles import COARSE, handles, options, pages
from inseries.desk.life import life
from inseries.desk.now import now
from inseries.desk.ready import Babies
from inseries.desk.record import check
from inseries.desk.sheet import sheet
from inseries.desk.story import story
from inseries.desk.try_opening import TriedResult
from inseries.desk.verbs import VERBS, result_class
from inseries.desk.window import WINDOW_DRAWS
from inseries.prior.narrow import Narrowed, narrowed, snapshot

if TYPE_CHECKING:
    from pathlib import Path

    from rooms.conftest import Asked

    from inseries.case import Case
    from inseries.desk.answer import Progress


def test_every_question_about_a_case_has_its_page() -> None:
    """Each verb that takes a case is a page, but for those that ask about no one baby."""
    assert {verb.name for verb in pages()} == {
        name for name, verb in VERBS.items() if "case" in verb.takes and name != "check"
    }


def test_every_picture_of_a_page_can_be_drawn() -> None:
    """Whatever a verb of a page keeps as its picture, the pages know how to draw."""
    held = {
        str(field.type)
        for verb in pages()
        for field in fields(result_class(verb))
        if field.name.startswith("picture")
    }
    assert held
    assert held <= set(DRAWN)


def test_a_picture_may_stand_twice(harbour: Asked) -> None:
    """Renamed, every id and every reference to one carries the new beginning."""
    once = figure_of("picture", harbour.window.picture_after)
    again = renamed(once, "again").svg
    ids = set(re.findall(r'\bid="([^"]+)"', again))
    assert ids
    assert all(name.startswith("again-") for name in ids)
    assert set(re.findall(r"url\(#([^)]+)\)", again)) <= ids
    assert set(re.findall(r'labelledby="([^"]+)"', again)[0].split()) <= ids


def test_options_of_an_address_are_numbers_within_reach() -> None:
    """An address gives numbers; words and what is out of reach are refused with the reach."""
    band = VERBS["band"]
    assert options(band, {"band_day": "14", "look": "full"}) == {"band_day": 14.0}
    for wrong in ("soon", "nan", "1e9"):
        with pytest.raises(CaseError) as caught:
            options(band, {"band_day": wrong})
        assert "from 1 to" in caught.value.remedy


def test_every_handle_stands_on_a_page() -> None:
    """No handle is without a page, and none has a reach that is none."""
    found = [handle for verb in pages() for handle in handles(verb)]
    assert found
    assert all(handle.low < handle.high for handle in found)


def test_what_is_tried_moves_the_same_baby() -> None:
    """A tighter septum lowers saturation of the same draws; it is said to be tried."""
    record = demo_case()
    tight, wide = (
        first_look("now", record, {"try_atrial_defect_mm": mm}).result for mm in (2.0, 8.0)
    )
    assert isinstance(tight, TriedResult)
    assert isinstance(wide, TriedResult)
    assert tight.before == wide.before
    assert tight.readouts.sao2_upper_pct.value < wide.readouts.sao2_upper_pct.value - 5.0
    assert tight.readouts.la_mean_mmhg.value > wide.readouts.la_mean_mmhg.value
    assert "what is recorded" in tight.shown().sentences[1]


def test_the_first_look_at_a_window_never_stands_alone() -> None:
    """Urgency opens it, cost of waiting and other limits are beside, and it says it is coarse."""
    laid = sheet(first_look("window", demo_case(), {}))
    assert laid.level in {"emergency", "urgent", "planned"}
    assert "first look" in laid.sentences[1]
    assert [table.title.split()[0] for table in laid.tables] == ["What", "Limits"]
    assert laid.figures


def test_a_sheet_keeps_every_caution(harbour: Asked) -> None:
    """Of an answer's cautions none is lost on the way to the page."""
    laid = sheet(harbour.answer)
    kept = {laid.aid, *laid.cautions, *laid.unknown}
    assert {caution.text for caution in harbour.answer.cautions} == kept


def test_the_time_line_tells_what_is_at_hand(harbour: Asked) -> None:
    """Events by name; the window only once it was answered."""
    bare, ahead = life(harbour.case, None), life(harbour.case, harbour.answer)
    assert "septostomy" in bare.alt
    assert "window" not in bare.alt
    assert "window" in ahead.alt


def test_a_story_is_told_from_this_case(harbour: Asked) -> None:
    """Steps at hand have their picture; the rest say which page computes them."""
    today = now(harbour.case, draws=COARSE["now"])
    steps = story(harbour.case, {"now": today, "window": harbour.answer, "routes": None})
    drawn = {step.verb for step in steps if step.figure is not None}
    waits = {step.verb for step in steps if step.figure is None and not step.settled}
    assert (drawn, waits) == ({"now", "window"}, {"repair", "outlook", "routes", "band"})
    assert steps[-1].verb == "band"
    ids = re.findall(r'\bid="([^"]+)"', "".join(s.figure.svg for s in steps if s.figure))
    assert len(ids) == len(set(ids))


def test_the_sheet_of_a_record_has_no_urgency() -> None:
    """Only an answer that judges urgency shows one."""
    assert sheet(check(demo_case())).level == ""


def test_looking_at_the_brief_leaves_no_file(
    harbour: Asked, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The page of the brief shows its first lines; nothing is written into the folder."""
    from inseries.desk import write_brief as writes

    told = (harbour.answer, harbour.window, harbour.now)
    monkeypatch.setattr(writes, "answered", lambda *_, **__: told)
    monkeypatch.chdir(tmp_path)
    laid = sheet(full("brief", harbour.case, {}))
    assert laid.sentences[0].startswith(harbour.now.urgency.level.upper())
    assert paper("now", harbour.case, {}).startswith(b"%PDF")
    assert not list(tmp_path.iterdir())


def test_a_second_look_at_a_window_narrows_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """A case is narrowed once; every look after it, tried or not, uses the same draws."""
    narrowings: list[int] = []

    def counted(case: Case, *, draws: int, seed: int, progress: Progress | None) -> Narrowed:
        narrowings.append(draws)
        return narrowed(case, draws=64, seed=seed, progress=progress)

    monkeypatch.setattr(quick_window, "narrowed", counted)
    monkeypatch.setattr(quick_window, "READY", Babies[quick_window.Ready]())
    record = demo_case()
    once = first_look("window", record, {}).result
    wide = first_look("window", record, {"try_duct_mm": 4.0}).result
    again = first_look("window", record, {}).result
    fuller = fuller_look("window", record, {}).result
    assert narrowings == [WINDOW_DRAWS]
    assert once == again
    assert isinstance(once, quick_window.FirstLook)
    assert isinstance(wide, quick_window.FirstLook)
    assert isinstance(fuller, quick_window.FirstLook)
    a_week = 7
    assert wide.tiers["survivable"].chance[a_week] > once.tiers["survivable"].chance[a_week] + 0.1
    assert wide.urgency == once.urgency
    assert "Tried: duct of 4 mm" in wide.shown().sentences[2]
    assert fuller.tiers["survivable"].chance[0] == pytest.approx(
        once.tiers["survivable"].chance[0], abs=0.15
    )


def test_a_second_drag_on_now_narrows_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """A finger on an opening narrows the draws at its first touch alone."""
    narrowings: list[int] = []

    def counted(case: Case, *, draws: int, seed: int, progress: Progress | None) -> Narrowed:
        narrowings.append(draws)
        return snapshot(case, draws=draws, seed=seed, progress=progress)

    monkeypatch.setattr(try_opening, "snapshot", counted)
    monkeypatch.setattr(try_opening, "READY", Babies[try_opening.Ready]())
    for mm in (2.0, 4.0, 6.0, 2.0):
        first_look("now", demo_case(), {"try_atrial_defect_mm": mm})
    assert narrowings == [COARSE["now"]]
