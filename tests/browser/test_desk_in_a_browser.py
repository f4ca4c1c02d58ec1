"""The desk in a real Chromium: quiet, reachable by keys, readable, and nothing typed is lost.

Answers that take long are replaced by a short one: what is asked here is the page.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from axe_playwright_python.sync_playwright import Axe
from browsing import CHROMIUM, NAME, go, opened
from playwright.sync_api import expect
from serving import Served, served

from inseries.desk import glance
from inseries.desk.handles import COARSE, pages
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


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A desk whose long answers are those of `now` by few draws."""
    made: dict[tuple[object, ...], Answer] = {}

    def quick(
        verb: str, record: Case, asked: Mapping[str, float], tell: Progress | None = None
    ) -> Answer:
        if verb == "check":
            return glance.full(verb, record, {}, tell)
        tries = {k: v for k, v in asked.items() if k.startswith("try_")}
        key = (record.digest, *sorted(tries.items()))
        if key not in made:
            made[key] = glance.full("now", record, tries, tell, draws=COARSE["now"])
        return replace(made[key], verb=verb)

    folder = tmp_path_factory.mktemp("cases")
    (folder / f"{NAME}.toml").write_text(invented_text(NAME), encoding="utf-8")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(served_pages, "full", quick)
        patch.setattr(served_pages, "first_look", quick)
        with served(folder) as running:
            yield running


def _findings(page: Page, *rules: str) -> list[str]:
    """What axe objects to; inside a picture it cannot judge, so its words are asked for here."""
    unnamed = page.locator("svg:not([role=img][aria-labelledby]), svg:not(:has(> title))").count()
    assert unnamed == 0
    asked = {"resultTypes": ["violations"], **({"runOnly": list(rules)} if rules else {})}
    axe = Axe()
    found = axe.run(page, context={"exclude": [["svg"]]}, options=asked).response["violations"]
    return [f"{v['id']}: {v['nodes'][0]['html'][:120]}" for v in found]


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_page_is_quiet_and_readable(chromium: Browser, desk: Served, scheme: str) -> None:
    """Each page loads without an error or an outside request, and axe finds nothing.

    In the dark only colours are another, so only contrast is asked again, of each kind of page.
    """
    rules = ("color-contrast",) if scheme == "dark" else ()
    with opened(chromium, desk, color_scheme=scheme) as (page, _):
        found: dict[str, list[str]] = {}
        every = ("check", *(each.name for each in pages()))
        for verb in every if scheme == "light" else ("check", "now", "band"):
            go(page, desk, verb)
            expect(page.locator(".aid").first).to_contain_text("not a device")
            expect(page.locator("main figure, main table").first).to_be_attached()
            found[verb] = _findings(page, *rules)
        for other in ("", f"case/{NAME}/history"):
            page.goto(f"{desk.home}/{other}")
            found[other] = _findings(page, *rules)
        assert {verb: items for verb, items in found.items() if items} == {}


def test_the_main_job_by_mouse(chromium: Browser, desk: Served) -> None:
    """Begin a case, write a reading, see today, move an opening, go back, find the brief."""
    with opened(chromium, desk) as (page, _):
        page.goto(desk.home)
        page.get_by_label("A label of your own").fill("gull-01")
        page.get_by_label("Girl or boy").select_option("female")
        page.get_by_label("Age").fill("9 d")
        page.get_by_label("Weight").fill("3400 g")
        page.get_by_role("button", name="Begin").click()
        page.wait_for_url("**/case/gull-01/check")
        add = page.locator("#add-entry")
        add.get_by_label("New at age").fill("9.5 d")
        add.get_by_label("What").select_option("spo2_right_hand_pct")
        add.get_by_label("Value").fill("74")
        add.get_by_role("button").click()
        expect(page.locator(".saved")).to_have_text("written")
        assert "spo2_right_hand_pct = 74" in (desk.folder / "gull-01.toml").read_text()
        page.get_by_role("link", name="now", exact=True).click()
        page.locator("#part[aria-busy=false] .answer").wait_for()
        slider = page.get_by_label("atrial defect, tried, slider")
        slider.fill("8")
        page.wait_for_url("**try_atrial_defect_mm=8")
        page.locator("#part[aria-busy=false] .answer").wait_for()
        page.go_back()
        expect(page.get_by_label("atrial defect, tried", exact=True)).to_have_value("")
        expect(page.get_by_role("link", name="Print the page (PDF)")).to_be_visible()


def test_the_main_job_by_keys_alone(chromium: Browser, desk: Served) -> None:
    """Tab reaches a field, typing writes it, Ctrl-Z outside takes it back, Enter opens a page."""
    with opened(chromium, desk) as (page, _):
        go(page, desk, "check")
        page.keyboard.press("Tab")
        assert page.evaluate("() => document.activeElement.className") == "skip"
        field = page.locator(".entry[open] .field[data-key=lv_mass_g] input")
        for _ in range(60):
            page.keyboard.press("Tab")
            if field.evaluate("node => node === document.activeElement"):
                break
        page.keyboard.press("Control+a")
        page.keyboard.type("8.1")
        expect(page.locator(".saved")).to_have_text("written")
        text = desk.folder / f"{NAME}.toml"
        assert "lv_mass_g = 8.1" in text.read_text()
        for _ in range(40):
            page.keyboard.press("Shift+Tab")
            if page.evaluate("() => document.activeElement.dataset.do") == "undo":
                break
        page.keyboard.press("Enter")
        expect(page.locator(".entry[open] .field[data-key=lv_mass_g] input")).to_have_value("7.9")
        assert "lv_mass_g = 7.9" in text.read_text()
        for _ in range(40):
            page.keyboard.press("Shift+Tab")
            if page.evaluate("() => document.activeElement.textContent") == "now":
                break
        page.keyboard.press("Enter")
        page.wait_for_url("**/now")


def test_a_field_refuses_in_the_command_line_s_words(chromium: Browser, desk: Served) -> None:
    """What cannot be is refused at the field, stays typed, and the file is as it was."""
    with opened(chromium, desk) as (page, watch):
        watch.expected = ("422",)
        go(page, desk, "check")
        before = (desk.folder / f"{NAME}.toml").read_bytes()
        field = page.locator(".entry[open] .field[data-key=lv_mass_g]")
        field.locator("input").fill("7900")
        expect(field.locator(".refusal")).to_contain_text("ventricular mass is not possible")
        expect(field.locator("input")).to_have_value("7900")
        assert (desk.folder / f"{NAME}.toml").read_bytes() == before


def test_each_field_refuses_for_itself(chromium: Browser, desk: Served) -> None:
    """Filled with what cannot be, all at once: each says why, keeps it, and nothing is written."""
    with opened(chromium, desk) as (page, watch):
        watch.expected = ("422",)
        go(page, desk, "check")
        before = (desk.folder / f"{NAME}.toml").read_bytes()
        fields = page.locator(".entry[open] .field:has(input)").all()
        typed = "-7000"
        for field in fields:
            field.locator("input").fill(typed)
        assert len(fields) > 10
        for field in fields:
            expect(field.locator(".refusal")).to_contain_text("Try: ")
            expect(field.locator("input")).to_have_value(typed)
            expect(field.locator("input")).to_have_attribute("aria-invalid", "true")
        assert (desk.folder / f"{NAME}.toml").read_bytes() == before


def test_two_pages_ask_which_value_stands(chromium: Browser, desk: Served) -> None:
    """The same field written twice asks; what the other wrote stays until somebody decides."""
    with opened(chromium, desk) as (page, watch):
        watch.expected = ("409",)
        other = page.context.new_page()
        for each in (page, other):
            go(each, desk, "check")
        box = ".entry[open] .field[data-key=lv_wall_mm] input"
        page.locator(box).fill("2.7")
        expect(page.locator(".saved")).to_have_text("written")
        other.locator(box).fill("2.9")
        dialog = other.get_by_role("dialog")
        expect(dialog).to_contain_text("Another page wrote 2.7; you typed 2.9")
        assert "lv_wall_mm = 2.7" in (desk.folder / f"{NAME}.toml").read_text()
        dialog.get_by_role("button", name="Keep mine").click()
        expect(other.locator(".saved")).to_have_text("written")
        assert "lv_wall_mm = 2.9" in (desk.folder / f"{NAME}.toml").read_text()


def test_the_story_is_walked_by_arrows(chromium: Browser, desk: Served) -> None:
    """Arrows step, a question may come first, notes appear, and axe finds nothing."""
    with opened(chromium, desk) as (page, _):
        for verb in ("now", "window"):
            go(page, desk, verb)
        page.goto(f"{desk.home}/case/{NAME}/present")
        page.get_by_role("heading", name="Two loops").wait_for()
        page.locator(".step:not([hidden]) svg").wait_for()
        page.keyboard.press("ArrowRight")
        expect(page.get_by_role("heading", name="Only where they touch")).to_be_visible()
        page.keyboard.press("q")
        expect(page.locator(".step:not([hidden]) .asks")).to_be_visible()
        page.keyboard.press("n")
        page.keyboard.press("ArrowRight")
        expect(page.locator(".step:not([hidden]) .told")).to_be_visible()
        assert _findings(page) == []


@pytest.mark.parametrize(("width", "height"), [(1024, 768), (390, 844), (512, 384)])
def test_nothing_lies_beside_the_screen(
    chromium: Browser, desk: Served, width: int, height: int
) -> None:
    """On a projector, on a phone and at twice the size no page scrolls sideways."""
    with opened(chromium, desk) as (page, _):
        page.set_viewport_size({"width": width, "height": height})
        for verb in ("check", "now"):
            go(page, desk, verb)
            over = page.evaluate("() => document.documentElement.scrollWidth - innerWidth")
            assert over <= 0, verb


def test_touch_targets_are_large_and_motion_can_be_off(chromium: Browser, desk: Served) -> None:
    """Every button and field is at least 44 pixels high; no animation where motion is reduced."""
    with opened(chromium, desk, reduced_motion="reduce") as (page, _):
        go(page, desk, "now")
        small = page.evaluate(
            "() => [...document.querySelectorAll('button, select, input, nav a, summary')]"
            ".filter(n => n.offsetParent && n.getBoundingClientRect().height < 43.5)"
            ".map(n => n.outerHTML.slice(0, 80))"
        )
        assert small == []
        page.goto(f"{desk.home}/case/{NAME}/present")
        step = page.locator(".step:not([hidden])")
        assert step.evaluate("node => getComputedStyle(node).animationName") == "none"
