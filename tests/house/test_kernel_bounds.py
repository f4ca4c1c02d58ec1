"""A kernel that reaches outside its arrays is silent about it: so it is run once with checks on."""

from __future__ import annotations

import os
import subprocess
import sys
from typing import TYPE_CHECKING

from house.tree import ROOT

if TYPE_CHECKING:
    from pathlib import Path

# A checked compiler that lets a bad index pass would prove nothing: that is tried first, for one
# float, for eight abreast, and for room that is cut from a pool.
ASK = """
import numpy as np
from numba import njit
from inseries.circuit.compiled import WIDTH
from inseries.circuit.kernels.lanes import cut, load, no_lanes, store

@njit
def reach(values, index):
    return values[index]

@njit
def reach_abreast(values, index):
    store(values, 0, load(values, index, no_lanes()))

@njit
def reach_cut(values, index):
    store(cut(values, 0, index, no_lanes()), 0, 1.0)

for ask, index in ((reach, 7), (reach_abreast, 3), (reach_cut, 4)):
    try:
        ask(np.zeros(3 * WIDTH if ask is not reach else 3), index)
    except IndexError:
        print("refused")

from rooms.law_samples import ANSWERING, every_law
from inseries.circuit.newborn import normal_newborn, parallel_newborn
from inseries.circuit.orbit import find_orbit
from inseries.circuit.oxygen import oxygen_balance
from inseries.circuit.waveforms import waveforms

for circuit in (normal_newborn(), parallel_newborn()):
    oxygen_balance(find_orbit(circuit, check=False))
waveforms(find_orbit(every_law(), ANSWERING))
find_orbit(every_law(mass_g=np.linspace(6.0, 10.0, 10)), ANSWERING)
print("inside")
"""


def test_kernels_stay_inside_their_arrays(tmp_path: Path) -> None:
    """Nothing is touched that is not there: by newborns and their oxygen, by a network with every
    law, alone and ten of it in two groups abreast, by the waves of a beat.
    """
    done = subprocess.run(
        [sys.executable, "-c", ASK],
        env={
            **os.environ,
            "NUMBA_BOUNDSCHECK": "1",
            "XDG_CACHE_HOME": str(tmp_path),
            "PYTHONPATH": "tests",
        },
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.split() == ["refused", "refused", "refused", "inside"]
