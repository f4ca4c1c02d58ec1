"""The story with its real pictures: pieces move from step to step, by themselves and by hand."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest
from browsing import CHROMIUM, NAME, by_few_draws, opened
from playwright.sync_api import expect

if TYPE_CHECKING:
    from collections.abc import Iterator

    from playwright.sync_api import Browser, Locator, Page
    from serving import Served

pytestmark = pytest.mark.skipif(
    CHROMIUM is None, reason="no Chromium: install the package chromium, then make test again"
)
FIRST_MOVING = 6  # derived: the step in which both arteries are cut across


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """Real answers, by few draws."""
    with by_few_draws(tmp_path_factory.mktemp("cases")) as running:
        yield running


def _told(page: Page, desk: Served) -> None:
    """The story with all its pictures."""
    page.goto(f"{desk.home}/case/{NAME}/present")
    expect(page.locator("[data-waits]")).to_have_count(0, timeout=120_000)


def _outlines(place: Locator) -> list[list[float]]:
    """Numbers of every outline that has a way."""
    drawn = place.locator("svg path[data-way]").evaluate_all(
        "nodes => nodes.map(n => n.getAttribute('d'))"
    )
    return [[float(word) for word in re.findall(r"-?[\d.]+", line)] for line in drawn]


def test_the_whole_story_by_one_key(chromium: Browser, desk: Served) -> None:
    """From the first step to the last by one key; every step has its picture and its words."""
    with opened(chromium, desk, reduced_motion="reduce") as (page, _):
        _told(page, desk)
        steps = page.locator(".step")
        for place in range(steps.count()):
            step = steps.nth(place)
            expect(step).to_be_visible()
            expect(step.locator("svg")).to_be_visible()
            assert step.locator(".says").inner_text().strip()
            assert step.locator(".basis").inner_text().strip()
            over = page.evaluate("() => document.documentElement.scrollHeight - innerHeight")
            assert over <= 0, step.get_attribute("aria-label")
            page.keyboard.press("ArrowRight")


def test_pieces_move_and_come_to_rest(chromium: Browser, desk: Served) -> None:
    """A step begins where the one before ended, moves, and ends as it is drawn; a hand leads it."""
    with opened(chromium, desk) as (page, _):
        _told(page, desk)
        for _ in range(FIRST_MOVING - 2):
            page.keyboard.press("ArrowRight")
        step = page.locator(".step").nth(FIRST_MOVING - 1)
        still = _outlines(step)
        page.keyboard.press("ArrowRight")
        slider = step.locator("input[type=range]")
        begun = _outlines(step)
        assert begun != still
        expect(slider).to_have_value("1", timeout=10_000)
        assert _outlines(step) == still
        slider.fill("0.5")
        halfway = _outlines(step)
        assert halfway not in (begun, still)
