"""A new user's whole way on real answers, by mouse and by keys: case, today, window, routes, brief.

Answers are computed by few draws, so that the way is walked in a minute; nothing else is replaced.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from axe_playwright_python.sync_playwright import Axe
from browsing import CHROMIUM, by_few_draws, opened
from playwright.sync_api import expect

from inseries.desk.verbs import VERBS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from playwright.sync_api import Browser, Page
    from serving import Served

pytestmark = pytest.mark.skipif(
    CHROMIUM is None, reason="no Chromium: install the package chromium, then make test again"
)


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """Real answers, by few draws."""
    with by_few_draws(tmp_path_factory.mktemp("cases")) as running:
        yield running


def _answered(page: Page) -> None:
    page.locator("#part[aria-busy=false] .answer").wait_for(timeout=60_000)


def _findings(page: Page, rules: list[str]) -> list[str]:
    asked = {"resultTypes": ["violations"], **({"runOnly": rules} if rules else {})}
    found = Axe().run(page, context={"exclude": [["svg"]]}, options=asked).response["violations"]
    return [f"{v['id']}: {v['nodes'][0]['html'][:120]}" for v in found]


def test_every_real_answer_is_quiet_and_readable(chromium: Browser, desk: Served) -> None:
    """Each verb's own answer: no error, no outside request, no finding in light or in the dark."""
    asked = [name for name in VERBS if name in {"window", "routes", "band", "repair", "outlook"}]
    assert len(asked) == 5
    with opened(chromium, desk, color_scheme="light") as (page, _):
        found: dict[str, list[str]] = {}
        for verb in (*asked, "brief"):
            page.goto(f"{desk.home}/case/harbour-07/{verb}")
            _answered(page)
            expect(page.locator(".aid").first).to_contain_text("not a device")
            if verb != "brief":  # whose picture is its paper
                expect(page.locator("#part figure svg").first).to_be_visible()
            found[verb] = _findings(page, [])
            page.emulate_media(color_scheme="dark")
            found[f"{verb}, dark"] = _findings(page, ["color-contrast"])
            page.emulate_media(color_scheme="light")
    assert {verb: items for verb, items in found.items() if items} == {}


def _begin(page: Page, desk: Served, name: str) -> None:
    """A case in five answers."""
    page.goto(desk.home)
    page.get_by_label("A label of your own").fill(name)
    page.get_by_label("Girl or boy").select_option("female")
    page.get_by_label("Age").fill("9 d")
    page.get_by_label("Weight").fill("3400 g")


def test_the_whole_main_job_by_mouse(chromium: Browser, desk: Served) -> None:
    """Five answers, today, the window, two routes beside one another, the brief printed."""
    with opened(chromium, desk) as (page, _):
        _begin(page, desk, "tern-01")
        page.get_by_role("button", name="Begin").click()
        page.wait_for_url("**/case/tern-01/check")
        for verb, words in (("now", "loops"), ("window", "Chance that the left ventricle")):
            page.get_by_role("link", name=verb, exact=True).click()
            page.wait_for_url(f"**/{verb}")
            _answered(page)
            expect(page.locator(".answer")).to_contain_text(words)
        page.get_by_role("link", name="routes", exact=True).click()
        _answered(page)
        pair = page.locator("#pair")
        pair.locator("[name=first]").select_option("primary_switch")
        pair.locator("[name=second]").select_option("band_then_switch")
        page.wait_for_url("**pair=**")
        expect(page.locator(".answer")).to_contain_text("band, then switch")
        page.get_by_role("link", name="brief", exact=True).click()
        _answered(page)
        _printed(page)


def test_the_whole_main_job_by_keys(chromium: Browser, desk: Served) -> None:
    """The same without a mouse: Tab, letters and Enter alone."""
    with opened(chromium, desk) as (page, _):
        page.goto(desk.home)
        for label, words in (
            ("A label of your own", "tern-02"),
            ("Girl or boy", "female"),
            ("Age", "9 d"),
            ("Weight", "3400 g"),
        ):
            _tab_to(page, f"document.activeElement.labels?.[0]?.textContent.includes('{label}')")
            page.keyboard.type(words)
        _tab_to(page, "document.activeElement.textContent.trim() === 'Begin'")
        page.keyboard.press("Enter")
        page.wait_for_url("**/case/tern-02/check")
        for verb in ("now", "window", "routes", "brief"):
            _tab_to(page, f"document.activeElement.textContent === '{verb}'")
            page.keyboard.press("Enter")
            page.wait_for_url(f"**/{verb}")
            _answered(page)
        _tab_to(page, "document.activeElement.id === 'paper'")
        _printed(page)


def _tab_to(page: Page, there: str) -> None:
    for _ in range(120):
        page.keyboard.press("Tab")
        if page.evaluate(f"() => {there}"):
            return
    raise AssertionError(there)


def _printed(page: Page) -> None:
    """The paper behind the link is a PDF."""
    link = page.locator("#paper").get_attribute("href")
    assert link is not None
    reply = page.request.get(f"{page.url.split('/case')[0]}{link}", timeout=120_000)
    assert reply.status == 200
    assert reply.body().startswith(b"%PDF")
