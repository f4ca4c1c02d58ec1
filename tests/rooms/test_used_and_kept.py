"""Figures used to choose constants, figures kept to judge, and what the page says of them."""

from __future__ import annotations

import re
from pathlib import Path

from inseries.desk.targets import Target, targets

PAGE = Path(__file__).resolve().parents[2] / "docs" / "physics" / "limits.md"
SLOW = {
    "late_left_ventricle",
    "band",
    "band_with_shunt",
    "late_training",
    "corrected",
    "normal_growth",
    "wall_thickness",
    "protection",
    "switch_by_age",
}
# Fitted beside slow time, and told in the same table.
BESIDE = {"septostomy"}


def _page() -> str:
    return " ".join(PAGE.read_text(encoding="utf-8").split())


def _counted(chosen: list[Target]) -> tuple[int, int]:
    used = sum(target.role == "calibrated" for target in chosen)
    return used, len(chosen) - used


def _columns() -> tuple[set[str], set[str]]:
    """Bibliography keys of the table's first and last column."""
    lines = PAGE.read_text(encoding="utf-8").splitlines()
    start = next(i for i, line in enumerate(lines) if line.startswith("| used to choose"))
    rows: list[list[str]] = []
    for line in lines[start + 2 :]:
        if not line.startswith("|"):
            break
        rows.append([cell.strip() for cell in line.strip("|").split("|")])
    known = {target.source for target in targets() if target.source is not None}

    def keys(column: int) -> set[str]:
        return {key for row in rows for key in re.findall(r"[a-z]\w+", row[column]) if key in known}

    return keys(0), keys(2)


def test_at_least_half_is_kept_to_judge() -> None:
    """Over all, and of slow time alone, more figures judge than choose; the page has the counts."""
    every = list(targets())
    slow = [target for target in every if target.situation in SLOW]
    for used, kept in (_counted(every), _counted(slow)):
        assert kept >= used
    used, kept = _counted(every)
    slow_used, slow_kept = _counted(slow)
    assert (
        f"Of {used + kept} figures in `inseries verify` {used} were used and {kept} kept to judge, "
        f"of slow time {slow_used} and {slow_kept}."
    ) in _page()


def test_each_source_stands_in_the_column_of_its_role() -> None:
    """Every source of slow time is where its role says, and nowhere its role does not hold."""
    left, right = _columns()
    slow = [target for target in targets() if target.situation in SLOW | BESIDE]
    for role, column in (("calibrated", left), ("validated", right)):
        assert {t.source for t in slow if t.role == role and t.source is not None} <= column
        assert column <= {t.source for t in targets() if t.role == role}
