"""The desk is killed while somebody types, and started again: the file holds what was written."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from browsing import CHROMIUM, NAME, launched
from playwright.sync_api import expect
from serving import process

from inseries.desk.shelf import invented_text

if TYPE_CHECKING:
    from pathlib import Path

pytestmark = pytest.mark.skipif(
    CHROMIUM is None, reason="no Chromium: install the package chromium, then make test again"
)


def test_only_the_last_second_s_keystrokes_can_be_lost(tmp_path: Path) -> None:
    """What rested a second is in the file; what did not stays in its field, and says so."""
    case = tmp_path / f"{NAME}.toml"
    case.write_text(invented_text(NAME), encoding="utf-8")
    mass, wall = (f".entry[open] .field[data-key={k}] input" for k in ("lv_mass_g", "lv_wall_mm"))
    with launched() as chromium:
        page = chromium.new_page()
        with process(tmp_path, f"{NAME}.toml") as (running, address):
            page.goto(address)
            page.locator(mass).fill("8.4")
            page.wait_for_timeout(1000)
            running.kill()
            running.wait()
            assert "lv_mass_g = 8.4" in case.read_text(encoding="utf-8")
            page.locator(wall).fill("2.8")
            expect(page.locator(".saved")).to_contain_text("what you typed stays here")
            expect(page.locator(wall)).to_have_value("2.8")
        with process(tmp_path, f"{NAME}.toml") as (_, address):
            page.goto(address)
            expect(page.locator(mass)).to_have_value("8.4")
            expect(page.locator(wall)).to_have_value("2.6")
            page.get_by_role("link", name="Who changed what").click()
            expect(page.locator("main")).to_contain_text("8.4")
