"""The page of topologies says what the circuits are."""

from __future__ import annotations

import re
import runpy
from typing import TYPE_CHECKING

from rooms.topology_samples import TOPOLOGIES

if TYPE_CHECKING:
    from pathlib import Path


def test_the_tables_are_current(root: Path) -> None:
    """Each table is what the code says now (`python tools/publish_topologies.py`)."""
    tool = runpy.run_path(str(root / "tools" / "publish_topologies.py"))
    published = (root / "docs" / "physics" / "topologies.md").read_text(encoding="utf-8")
    assert published.count("<!-- end -->") == 10
    assert tool["page"](published) == published


def test_every_topology_has_its_section(root: Path) -> None:
    """Each topology that a circuit can have is a heading of the page."""
    published = (root / "docs" / "physics" / "topologies.md").read_text(encoding="utf-8")
    told = set(re.findall(r"^## .*`(\w+)`$", published, re.MULTILINE))
    assert told == {make().topology for make in TOPOLOGIES.values()}
