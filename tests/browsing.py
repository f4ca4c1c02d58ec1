"""One browser that watches what it must never see, for the tests of the desk."""

from __future__ import annotations

import os
import shutil
from contextlib import contextmanager
from typing import TYPE_CHECKING

from playwright.sync_api import sync_playwright

if TYPE_CHECKING:
    from collections.abc import Generator

    from playwright.sync_api import Browser, BrowserContext, Page, Request
    from serving import Served

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
NAME = "harbour-07"
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


@contextmanager
def launched() -> Generator[Browser]:
    """Debian's Chromium without a screen."""
    arguments = [*ARGUMENTS, *(["--no-sandbox"] if os.geteuid() == 0 else [])]
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=arguments)
        yield browser
        browser.close()
