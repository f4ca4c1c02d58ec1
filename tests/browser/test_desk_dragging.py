"""What a picture lets a finger take hold of: the day, the band, the defect, the duct, the patch.

Every answer is the verb's own, by few draws.
"""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING

import pytest
from browsing import CHROMIUM, by_few_draws, go, hold, opened
from playwright.sync_api import expect

if TYPE_CHECKING:
    from collections.abc import Iterator

    from playwright.sync_api import Browser
    from serving import Served

pytestmark = pytest.mark.skipif(
    CHROMIUM is None, reason="no Chromium: install the package chromium, then make test again"
)
# chosen: a page may compute this long by few draws on a busy machine, ms
LONG_MS = 60_000
# chosen: handles lie at least half a touch target apart, px
APART_PX = 22
PLACES = "all => all.map(n => n.getBoundingClientRect()).map(r => [r.x + scrollX, r.y + scrollY])"

Handle = tuple[str, tuple[int, int], str]
IN, ON = "in the picture", "on the time line"
# By page: handle, how far the finger goes (px right, px down), name in the address.
HANDLES: dict[str, list[Handle]] = {
    "now": [
        (f"atrial defect, tried, {IN}", (0, 30), "try_atrial_defect_mm"),
        (f"duct, tried, {IN}", (0, 30), "try_duct_mm"),
    ],
    "window": [(f"day looked at, {IN}", (120, 0), "day")],
    "routes": [
        (f"age at the band, {IN}", (40, 0), "band_day"),
        (f"age at the switch, {IN}", (60, 0), "switch_day"),
    ],
    "band": [
        (f"left over right ventricular pressure, {IN}", (0, -15), "ratio"),
        (f"age at the band, {ON}", (12, 0), "band_day"),
    ],
    "outlook": [
        (f"share of the girth that is patch, {IN}", (0, -30), "patch_share"),
        (f"age at the switch, {ON}", (60, 0), "switch_day"),
    ],
}


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A desk with one invented baby."""
    with by_few_draws(tmp_path_factory.mktemp("cases")) as running:
        yield running


@pytest.mark.parametrize("verb", HANDLES)
def test_handles_follow_the_finger_and_the_address_keeps_them(
    chromium: Browser, desk: Served, verb: str
) -> None:
    """None lies on another; each moves with the finger, is answered, and back undoes the last."""
    with opened(chromium, desk, reduced_motion="reduce") as (page, _):
        page.set_default_timeout(LONG_MS)
        go(page, desk, verb)
        for (a, b), (u, v) in combinations(page.locator(".grip").evaluate_all(PLACES), 2):
            assert max(abs(a - u), abs(b - v)) >= APART_PX
        for word, by, name in HANDLES[verb]:
            grip = page.get_by_role("slider", name=word, exact=True)
            before = grip.get_attribute("aria-valuenow")
            x, y = hold(page, grip)
            page.mouse.move(x + by[0], y + by[1], steps=6)
            page.mouse.up()
            page.wait_for_url(f"**{name}=*")
            page.locator("#part[aria-busy=false] .answer").wait_for()
            after = float(grip.get_attribute("aria-valuenow") or "nan")
            assert f"{after:g}" != before
            assert f"{name}={after:g}" in page.url
            assert not page.locator("#part .refused").all_inner_texts()
        page.go_back()
        expect(grip).to_have_attribute("aria-valuenow", before or "")
