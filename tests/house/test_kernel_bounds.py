"""A kernel that reaches outside its arrays is silent about it: so it is run once with checks on."""

from __future__ import annotations

import os
import subprocess
import sys
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

# A checked compiler that lets a bad index pass would prove nothing: that is tried first.
ASK = """
import numpy as np
from numba import njit

@njit
def reach(values, index):
    return values[index]

try:
    reach(np.zeros(3), 7)
except IndexError:
    print("refused")

from inseries.circuit.newborn import normal_newborn, parallel_newborn
from inseries.circuit.orbit import find_orbit
from inseries.circuit.oxygen import oxygen_balance

for circuit in (normal_newborn(), parallel_newborn()):
    oxygen_balance(find_orbit(circuit, check=False))
print("inside")
"""


def test_kernels_stay_inside_their_arrays(tmp_path: Path) -> None:
    """One beat and its oxygen, healthy and parallel, touch no element that is not there."""
    done = subprocess.run(
        [sys.executable, "-c", ASK],
        env={**os.environ, "NUMBA_BOUNDSCHECK": "1", "XDG_CACHE_HOME": str(tmp_path)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.split() == ["refused", "inside"]
