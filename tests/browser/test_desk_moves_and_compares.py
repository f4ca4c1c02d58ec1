"""A finger on a picture, two states beside one another, and work that is long, stopped or fails."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from threading import Event
from typing import TYPE_CHECKING

import pytest
from browsing import CHROMIUM, NAME, go, hold, opened
from playwright.sync_api import expect
from serving import Served, served

from inseries.base.errors import OutputError
from inseries.desk import glance
from inseries.desk.handles import COARSE
from inseries.desk.shelf import invented_text
from inseries.serve import pages as served_pages

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from playwright.sync_api import Browser, Page

    from inseries.case import Case
    from inseries.desk.answer import Answer, Progress

pytestmark = pytest.mark.skipif(
    CHROMIUM is None, reason="no Chromium: install the package chromium, then make test again"
)
FAILS_AT = 4.5
"""A duct that the answer of this desk is made to fail at, in mm."""
LONG_AT = 4.0
"""And one at which it goes on until it is stopped or let go."""


@dataclass(frozen=True, slots=True)
class Slow:
    """A desk whose full answer at one duct waits for the test."""

    desk: Served
    let_go: Event = field(default_factory=Event)
    made: list[float | None] = field(default_factory=list[float | None])


@pytest.fixture(scope="module")
def slow(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Slow]:
    """`now` by few draws, failing at one duct and waiting at another."""
    folder = tmp_path_factory.mktemp("cases")
    (folder / f"{NAME}.toml").write_text(invented_text(NAME), encoding="utf-8")
    let_go, made = Event(), list[float | None]()

    def full(
        verb: str, record: Case, asked: Mapping[str, float], tell: Progress | None = None
    ) -> Answer:
        duct = asked.get("try_duct_mm")
        if duct == FAILS_AT:
            raise OutputError("this duct met no beat", code="x", where="duct", remedy="less.")
        while duct == LONG_AT and tell is not None and not let_go.wait(0.05):
            tell("following the beats", 0.4)
        made.append(duct)
        return glance.full(verb, record, asked, tell, draws=COARSE["now"])

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(served_pages, "full", full)
        with served(folder) as running:
            yield Slow(running, let_go, made)
            let_go.set()


def _rested(page: Page) -> None:
    page.locator("#part[aria-busy=false] .answer").wait_for()


def test_a_defect_dragged_in_the_picture_moves_it(chromium: Browser, slow: Slow) -> None:
    """What is dragged is asked for while it moves, one look at a time, and the address keeps it."""
    with opened(chromium, slow.desk) as (page, _):
        go(page, slow.desk, "now")
        before = page.locator("#part figure svg").first.inner_html()
        going, most = 0, 0

        def count(by: int) -> None:
            nonlocal going, most
            going += by
            most = max(most, going)

        page.on("request", lambda r: count(+1) if "look=first" in r.url else None)
        for over in ("requestfinished", "requestfailed"):
            page.on(over, lambda r: count(-1) if "look=first" in r.url else None)
        grip = page.get_by_role("slider", name="atrial defect, tried, in the picture")
        x, y = hold(page, grip)
        page.mouse.move(x, y + 40, steps=12)
        page.wait_for_function("() => document.querySelector('#part').dataset.look === 'first'")
        assert most == 1
        page.mouse.up()
        page.wait_for_url("**try_atrial_defect_mm=*")
        _rested(page)
        assert page.locator("#part figure svg").first.inner_html() != before
        page.go_back()
        expect(page.get_by_label("atrial defect, tried", exact=True)).to_have_value("")


def test_a_handle_is_moved_by_keys(chromium: Browser, slow: Slow) -> None:
    """An arrow on a handle moves it one step, and it is said in words."""
    with opened(chromium, slow.desk, reduced_motion="reduce") as (page, _):
        go(page, slow.desk, "now")
        grip = page.get_by_role("slider", name="atrial defect, tried, in the picture")
        start = float(grip.get_attribute("aria-valuenow") or "nan")
        grip.focus()
        page.keyboard.press("ArrowDown")
        page.wait_for_url("**try_atrial_defect_mm=*")
        assert float(grip.get_attribute("aria-valuenow") or "nan") != start
        expect(grip).to_have_attribute("aria-valuetext", re.compile(r"^[\d.]+ mm"))


def test_two_states_are_compared(chromium: Browser, slow: Slow) -> None:
    """Pinned, moved: both stand side by side, one over the other by choice, in the address."""
    with opened(chromium, slow.desk) as (page, _):
        go(page, slow.desk, "now")
        page.get_by_label("duct, tried", exact=True).fill("2")
        page.get_by_label("duct, tried", exact=True).press("Tab")
        page.wait_for_url("**try_duct_mm=2")
        _rested(page)
        page.get_by_role("button", name="Pin this to compare").click()
        page.wait_for_url("**pin=try_duct_mm*")
        page.get_by_label("duct, tried", exact=True).fill("3")
        page.get_by_label("duct, tried", exact=True).press("Tab")
        _rested(page)
        pair = page.locator(".pair").first
        expect(pair.locator(".pinned-picture .state")).to_have_text("Pinned: duct, tried 2 mm")
        expect(pair.locator("figure:not(.pinned-picture) .state")).to_have_text(
            "Now: duct, tried 3 mm"
        )
        expect(page.locator(".differs tbody tr").first).to_be_visible()
        page.get_by_label("One over the other").check()
        expect(page.locator(".pair.over").first).to_be_visible()
        page.locator(".swipe-bar input").first.fill("20")
        share = page.locator(".pair.over").first.evaluate(
            "n => n.style.getPropertyValue('--share')"
        )
        assert share == "20%"
        page.reload()
        _rested(page)
        expect(page.locator(".pair.over").first).to_be_visible()
        page.get_by_role("button", name="Take the pin out").click()
        expect(page.locator(".pair")).to_have_count(0)
        page.go_back()
        expect(page.locator(".pair.over").first).to_be_visible()


def test_what_fails_says_why_over_the_last_picture(chromium: Browser, slow: Slow) -> None:
    """The reason stands first, the last good picture below it, greyed; the value stays typed."""
    with opened(chromium, slow.desk, reduced_motion="reduce") as (page, watch):
        watch.expected = ("422",)
        go(page, slow.desk, "now")
        box = page.get_by_label("duct, tried", exact=True)
        box.fill(str(FAILS_AT))
        box.press("Tab")
        expect(page.locator("#part .refused")).to_contain_text("duct: this duct met no beat")
        expect(box).to_have_value(str(FAILS_AT))
        opacity = page.locator("#part .picture").first.evaluate("n => getComputedStyle(n).opacity")
        assert float(opacity) < 0.6
        box.fill("abc")
        box.press("Tab")
        expect(page.locator("#part .refused")).to_contain_text("abc")
        expect(box).to_have_value("abc")


def test_long_work_is_stopped_or_kept(chromium: Browser, slow: Slow) -> None:
    """Stop ends it and says so; asked again and left, it is there when the page is opened again."""
    with opened(chromium, slow.desk) as (page, _):
        go(page, slow.desk, "now")
        box = page.get_by_label("duct, tried", exact=True)
        box.fill(f"{LONG_AT:g}")
        box.press("Tab")
        expect(page.locator("#stage")).to_contain_text("following the beats")
        page.get_by_role("button", name="Stop").click()
        expect(page.locator("#stage")).to_contain_text("stopped; the last answer stays, greyed")
        assert LONG_AT not in slow.made
        page.reload()
        expect(page.locator("#stage")).to_contain_text("following the beats")
        address, other = page.url, page.context.new_page()
        page.close()
        slow.let_go.set()
        for _ in range(100):
            if LONG_AT in slow.made:
                break
            other.wait_for_timeout(50)
        other.goto(address)
        expect(other.locator(".desk")).to_have_attribute("data-ready", "1")
        assert slow.made.count(LONG_AT) == 1


def test_a_note_is_kept_and_every_change_is_named(chromium: Browser, slow: Slow) -> None:
    """A note outlives its page; a change, undone and redone, stands with its hand and time."""
    with opened(chromium, slow.desk) as (page, _):
        go(page, slow.desk, "now")
        page.get_by_label("Who writes").fill("AB")
        page.get_by_label("Note", exact=True).fill("ask again tomorrow")
        page.get_by_role("button", name="Keep the note").click()
        expect(page.locator("#notes li p").first).to_have_text("ask again tomorrow")
        box = page.locator(".entry[open] .field[data-key=lv_mass_g] input")
        box.fill("8.3")
        expect(page.locator(".saved")).to_have_text("written")
        page.get_by_role("button", name="Undo").click()
        expect(box).to_have_value("7.9")
        page.get_by_role("button", name="Redo").click()
        expect(box).to_have_value("8.3")
        page.reload()
        expect(page.locator("#notes li p").first).to_have_text("ask again tomorrow")
        page.get_by_role("link", name="Who changed what").click()
        rows = page.get_by_role("table").first.locator("tbody tr")
        for n, what in enumerate(("redo", "undo", "8.3")):
            expect(rows.nth(n)).to_contain_text("AB")
            expect(rows.nth(n)).to_contain_text("UTC")
            expect(rows.nth(n)).to_contain_text(what)
