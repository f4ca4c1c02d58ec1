"""What the how-to says of adding a law is done here, word for word, to a copy of the package."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from typing import TYPE_CHECKING

import pytest
from house.tree import ROOT, SOURCE

if TYPE_CHECKING:
    from pathlib import Path

PAGE = (ROOT / "docs" / "how-to" / "add-an-edge.md").read_text(encoding="utf-8")
# The page's blocks in their order: the law's file, its import, its dispatch, its use, its check.
LAW, IMPORT, DISPATCH, USE, CHECK = re.findall(r"^```python\n(.*?)^```", PAGE, re.M | re.S)
COLUMN = "        elif law == column.CODE:\n"

# A beat of one second of the circuit that the page writes down, then the slopes of its law.
RUN = """
import numpy as np
from inseries.circuit import compiled
from inseries.circuit.flat import flatten
from inseries.circuit.kernels.edges import flap
from inseries.circuit.network import Blood, Circuit

blood = Blood(
    haemoglobin_g_dl=16.0, capacity_ml_g=1.36, consumption_ml_min=20.0, lung_saturation=0.97
)
circuit = Circuit(
    topology="small", parts=parts, edges=edges, rate_per_min=60.0, volume_ml=10.0, blood=blood,
    pressure_part="A", filling_part="A",
)
flat = flatten(circuit)
steps, X = 2000, np.array([10.0, 0.0])
network = flat.network(steps)
waves = [np.empty(steps * 2) for _ in range(3)]
crew = compiled.new_crew(network, flat.theta.shape[1], flat.unknowns, 0.0)
compiled.single_beat(network, flat.theta[0], X, *waves, np.empty(4), crew.pool)
print(X[0] / 0.5 - X[1] / 1.5, drop_after(1.0, 20.0, 2.0, 0.5 * 1.5 / 2.0, 6.0))

row, h = np.array(flap.slots(2.0, 6.0)), 1e-6
for drop in (9.0, 3.0):
    print(*flap.at(drop, row, 0, 0.0)[1:])
    ahead, back = flap.at(drop + h, row, 0, 0.0)[0], flap.at(drop - h, row, 0, 0.0)[0]
    moved = [flap.at(drop, row + h * e, 0, 0.0)[0] - flap.at(drop, row - h * e, 0, 0.0)[0]
             for e in np.eye(2)]
    print((ahead - back) / (2 * h), *(each / (2 * h) for each in moved))
"""


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> list[list[float]]:
    """What the copy prints once the page has been followed."""
    copy: Path = tmp_path_factory.mktemp("added") / "inseries"
    shutil.copytree(SOURCE, copy, ignore=shutil.ignore_patterns("__pycache__"))
    kernels = copy / "circuit" / "kernels"
    (kernels / "edges" / "flap.py").write_text(LAW, encoding="utf-8")
    flows = (kernels / "flows.py").read_text(encoding="utf-8")
    first = "from inseries.circuit.kernels.edges import"
    assert flows.count(COLUMN) == flows.count(first) == 1
    flows = flows.replace(first, IMPORT + first).replace(COLUMN, DISPATCH + COLUMN)
    (kernels / "flows.py").write_text(flows, encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-c", USE + CHECK + RUN],
        env={**os.environ, "NUMBA_DISABLE_JIT": "1", "PYTHONPATH": str(copy.parent)},
        cwd=copy.parent,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return [[float(word) for word in line.split()] for line in done.stdout.splitlines()]


def test_the_added_law_follows_its_closed_form(told: list[list[float]]) -> None:
    """The drop between the page's two vessels falls as its closed form says.

    Tolerance 1e-6 of a mmHg: an order-2 step of 1/1500 of the time constant.
    """
    ours, closed = told[0]
    assert ours == pytest.approx(closed, abs=1e-6)
    assert ours < 20.0


def test_the_added_law_knows_its_slopes(told: list[list[float]]) -> None:
    """Open and shut, the slopes that the page's law gives are its own differences."""
    for given, differences in (told[1:3], told[3:5]):
        assert given == pytest.approx(differences, abs=1e-6)


def test_a_law_is_short() -> None:
    """The page's law has fewer than thirty lines, its dispatch adds three."""
    assert len(LAW.splitlines()) < 30
    assert len((IMPORT + DISPATCH).splitlines()) == 3


def test_codes_of_laws_are_their_own() -> None:
    """No two laws of edges share a number, nor do two of parts, nor does the page's."""
    from inseries.circuit.compiled import EDGE_LAWS, PART_LAWS

    for laws in (EDGE_LAWS, PART_LAWS):
        codes = [law.CODE for law in laws.values()]
        assert len(set(codes)) == len(codes)
    assert int(re.findall(r"^CODE = (\d+)$", LAW, re.M)[0]) not in {
        law.CODE for law in EDGE_LAWS.values()
    }
