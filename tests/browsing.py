"""One browser that watches what it must never see, for the tests of the desk."""

from __future__ import annotations

import os
import shutil
from contextlib import contextmanager
from typing import TYPE_CHECKING

import pytest
from playwright.sync_api import sync_playwright
from serving import Served, served

from inseries.desk import glance
from inseries.desk.shelf import invented_text
from inseries.serve import pages as served_pages

if TYPE_CHECKING:
    from collections.abc import Generator, Mapping
    from pathlib import Path

    from playwright.sync_api import Browser, BrowserContext, Locator, Page, Request

    from inseries.case import Case
    from inseries.desk.answer import Answer, Progress

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
NAME = "harbour-07"
# chosen: draws of an answer, few enough for a test and enough for none to be refused
FEW = 40
ARGUMENTS = ["--disable-gpu", "--disable-dev-shm-usage", "--no-first-run"]


class Watch:
    """What must not happen on any page: an error, a breach of the policy, a request outside."""

    def __init__(self, desk: Served, context: BrowserContext) -> None:
        self.home = desk.home
        self.seen: list[str] = []
        self.expected: tuple[str, ...] = ()
        context.on("console", lambda m: self._note(m.type in {"error", "warning"}, m.text))
        context.on("weberror", lambda e: self._note(True, str(e.error)))
        context.on("request", self._request)

    def _request(self, request: Request) -> None:
        inside = request.url.startswith((self.home, "blob:"))
        self._note(not inside, f"outside: {request.url}")

    def _note(self, wrong: bool, what: str) -> None:
        if wrong and not any(each in what for each in self.expected):
            self.seen.append(what)


@contextmanager
def opened(chromium: Browser, desk: Served, **looks: str) -> Generator[tuple[Page, Watch]]:
    """A page of a browser that was let in; at the end nothing forbidden has happened."""
    context = chromium.new_context(viewport={"width": 1024, "height": 768}, **looks)  # type: ignore[arg-type]
    watch = Watch(desk, context)
    page = context.new_page()
    page.set_default_timeout(20_000)
    page.goto(desk.opening(NAME))
    yield page, watch
    context.close()
    assert not watch.seen


def go(page: Page, desk: Served, verb: str, asked: str = "") -> None:
    """One page with its full answer."""
    page.goto(f"{desk.home}/case/{NAME}/{verb}{asked}")
    page.locator("#part[aria-busy=false] .answer").wait_for()


def hold(page: Page, grip: Locator) -> tuple[float, float]:
    """Presses a pointer on the middle of a handle; where that is."""
    grip.scroll_into_view_if_needed()
    box = grip.bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    return x, y


@contextmanager
def by_few_draws(folder: Path) -> Generator[Served]:
    """A desk of an invented baby whose answers are the verbs' own, by few draws."""

    def few(
        verb: str, record: Case, asked: Mapping[str, float], tell: Progress | None = None
    ) -> Answer:
        return glance.full(verb, record, asked, tell, draws=FEW)

    (folder / f"{NAME}.toml").write_text(invented_text(NAME), encoding="utf-8")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(served_pages, "full", few)
        with served(folder) as running:
            yield running


@contextmanager
def launched() -> Generator[Browser]:
    """Debian's Chromium without a screen."""
    arguments = [*ARGUMENTS, *(["--no-sandbox"] if os.geteuid() == 0 else [])]
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=arguments)
        yield browser
        browser.close()
