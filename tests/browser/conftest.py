"""One browser for the tests of a file."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from browsing import launched

if TYPE_CHECKING:
    from collections.abc import Iterator

    from playwright.sync_api import Browser


@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    """Debian's Chromium, closed after the last test of a file."""
    with launched() as browser:
        yield browser
