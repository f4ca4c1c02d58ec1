"""Writes docs/physics/checks.md: every published figure beside ours, as ``verify`` finds them."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from inseries.base.sources import citation
from inseries.course.laws import LAWS
from inseries.desk.verify import LAW_WORDS, VerifyResult, law_sentences, printed, verify

if TYPE_CHECKING:
    from inseries.desk.verify import Check

TARGET = Path(__file__).resolve().parents[1] / "docs" / "physics" / "checks.md"
HEAD = """# Published and ours

Written by `tools/publish_checks.py` from what `inseries verify` finds. Inside means within the
published interval, or where only a mean was printed within a tolerance of ours, which is marked *.
[Limits](limits.md) says why a figure is missed.
"""
TITLES = {"calibrated": "Used to fit", "validated": "Kept to judge"}
USED = {"calibrated": "fit", "validated": "judge"}
LAW_HEAD = """Where walls follow their load, the tables above have the number of the default law.
Here are both, outside in bold; [Two laws of growth](../decisions/0010-two-laws-of-growth.md) says
why one is the default.
"""


def table(checks: tuple[Check, ...], role: str) -> str:
    """All checks of one role."""
    rows = [f"## {TITLES[role]}", "", "| what | in whom | published | ours | inside | source |"]
    rows.append("| --- | --- | --- | --- | --- | --- |")
    for check in checks:
        if check.role == role:
            mark = "*" if check.sd_or_range.kind == "tolerance" else ""
            rows.append(
                f"| {check.what} | {check.population} | {printed(check)}{mark} | {check.ours:.3g} "
                f"| {'yes' if check.inside else '**no**'} | {check.source or 'common practice'} |"
            )
    return "\n".join(rows) + "\n"


def laws(checks: tuple[Check, ...]) -> str:
    """Every figure in which walls grow, under each law."""
    names = " | ".join(LAW_WORDS[law] for law in LAWS)
    rows = [f"## Under each law of growth\n\n{LAW_HEAD}", *law_sentences(checks), ""]
    rows.append(f"| what | published | used to | {names} |")
    rows.append(f"| --- | --- | --- |{' --- |' * len(LAWS)}")
    for check in checks:
        if check.ours_by_law:
            cells = " | ".join(
                f"{check.ours_by_law[law]:.3g}"
                if check.inside_by_law[law]
                else f"**{check.ours_by_law[law]:.3g}**"
                for law in LAWS
            )
            rows.append(f"| {check.what} | {printed(check)} | {USED[check.role]} | {cells} |")
    return "\n".join(rows) + "\n"


def sources(checks: tuple[Check, ...]) -> str:
    """One line for each source."""
    keys = dict.fromkeys(check.source for check in checks if check.source)
    return "\n".join(["## Sources", "", *(f"- `{key}` {citation(key)}" for key in keys)]) + "\n"


if __name__ == "__main__":
    result = verify(progress=lambda stage, fraction: print(f"{fraction:4.0%} {stage}")).result
    assert isinstance(result, VerifyResult)
    checks = result.checks
    parts = [HEAD, *(table(checks, role) for role in TITLES), laws(checks), sources(checks)]
    TARGET.write_text("\n".join(parts), encoding="utf-8")
    print(f"docs/physics/{TARGET.name}")
