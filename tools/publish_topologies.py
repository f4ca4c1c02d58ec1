"""Writes the tables of docs/physics/topologies.md from the circuits themselves.

Text outside the marked blocks is kept as it is.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

from inseries.circuit.fetus import fetus
from inseries.circuit.newborn import normal_newborn, parallel_newborn
from inseries.routes import (
    AfterBirth,
    AfterBypass,
    arterial_switch,
    atrial_switch,
    birth,
    with_branch_stenosis,
    with_coronaries,
    with_shunt,
    with_support,
)

if TYPE_CHECKING:
    from inseries.circuit.network import Circuit, Edge

PAGE = Path(__file__).resolve().parents[1] / "docs" / "physics" / "topologies.md"
BLOCK = re.compile(
    r"<!-- (?P<what>ways of|changes from) (?P<names>[^>]*?) -->\n.*?<!-- end -->", re.DOTALL
)
HEAD = "| way | from, to | what it is | narrow places |\n| --- | --- | --- | --- |\n"
UNHARMED = AfterBypass(
    left_strength=1.0, right_strength=1.0, stiffness=1.0, lung_resistance=1.0, rate_per_min=148.0
)
FIRST_HOURS = AfterBirth(lung_resistance=0.3, lung_saturation=0.95, consumption_ml_min=21.0)


def circuits() -> dict[str, Circuit]:
    """Each topology by the name that the page gives it."""
    parallel = parallel_newborn()
    repaired = arterial_switch(parallel, UNHARMED, relieve_outflow=True)
    return {
        "fetal": fetus(),
        "just_born": birth(fetus(), FIRST_HOURS),
        "normal": normal_newborn(),
        "parallel": parallel,
        "parallel with a shunt": with_shunt(parallel, 3.5),
        "repaired": repaired,
        "repaired with branches": with_branch_stenosis(repaired, left_mm=3.0, right_mm=3.0),
        "repaired with coronaries": with_coronaries(repaired),
        "repaired on support": with_support(repaired, 120.0),
        "atrial_switched": atrial_switch(parallel),
    }


def page(text: str) -> str:
    """The page with every marked table as the circuits are now."""
    known = circuits()

    def block(found: re.Match[str]) -> str:
        names = found["names"]
        if found["what"] == "ways of":
            rows = [row(edge) for edge in known[names].edges]
        else:
            before, after = (known[name] for name in names.split(" to ", 1))
            rows = changes(before, after)
        table = HEAD + "\n".join(rows)
        return f"<!-- {found['what']} {names} -->\n{table}\n<!-- end -->"

    return BLOCK.sub(block, text)


def changes(before: Circuit, after: Circuit) -> list[str]:
    """Rows of the ways that are new or joined otherwise, then those that are gone."""
    old = {edge.name: row(edge) for edge in before.edges}
    new = {edge.name: row(edge) for edge in after.edges}
    rows = [line for name, line in new.items() if old.get(name) != line]
    gone = [f"| `{name}` | | gone | |" for name in old if name not in new]
    return rows + gone


def row(edge: Edge) -> str:
    """One way as a row: its ends, what it does, its narrow places."""
    kinds = [
        ("valve", edge.valve),
        (f"bed, {100.0 * edge.uptake_share:g} % of the need", edge.uptake_share > 0.0),
        ("oxygen", edge.lungs),
        ("regulated", edge.systemic),
        ("eddies both ways", bool(edge.eddy_speed_cm_s)),
        ("inertance", bool(edge.inertance_mmhg_s2_ml)),
        ("regulates itself", edge.self_regulated),
        (edge.own_law.name if edge.own_law else "", edge.own_law is not None),
    ]
    what = ", ".join(word for word, holds in kinds if holds)
    narrow = ", ".join(
        f"`{place.name}`" + (" ∅" if not place.area_cm2 else "") for place in edge.restrictions
    )
    return f"| `{edge.name}` | `{edge.start}` to `{edge.end}` | {what} | {narrow} |"


if __name__ == "__main__":
    PAGE.write_text(page(PAGE.read_text(encoding="utf-8")), encoding="utf-8")
