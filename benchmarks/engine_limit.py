"""What this machine could do at best: only the slow arithmetic of a beat, eight abreast.

A beat needs, at both of its stages a step, a square root an open narrow place and valve,
and of every ventricle a cube root, an exponential and a logarithm, with their divisions. Here just
these run over numbers that lie in the processor's nearest cache: no sums of flows, no pressures of
vessels, no steps, no search, no read-outs.
"""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

import numpy as np
from numba import njit

from inseries.circuit.compiled import EDGE_LAWS, PART_LAWS, WIDTH
from inseries.circuit.flat import flatten
from inseries.circuit.kernels.elementary import cube_root, exponential, logarithm
from inseries.circuit.kernels.lanes import COMPILED, cut, load, no_lanes, root, store

if TYPE_CHECKING:
    from inseries.circuit.network import Circuit, Floats

# chosen: rows of numbers taken in turn (8 KiB and less), beats a time, repeats
ROWS, BEATS, REPEATS = 8, 200, 3
# derived: stages a step of Heun's method
STAGES = 2
# derived: laws that take a square root
ROOTED = [EDGE_LAWS[name].CODE for name in ("orifice", "valve", "leaky_valve")]

# derived: compiled here and not kept, as the folder of kernels is for the product's own
HERE = {**COMPILED, "cache": False}


@njit(**HERE)
def slow_parts(numbers: Floats, out: Floats, roots: int, ventricles: int, stages: int) -> None:
    """Square roots of so many places, and the three functions of so many ventricles."""
    like = no_lanes()
    wide = roots + 3 * ventricles
    numbers, out = cut(numbers, 0, ROWS * wide, like), cut(out, 0, wide, like)
    for stage in range(stages):
        place = (stage % ROWS) * wide
        for e in range(roots):
            store(out, e, root(load(numbers, place + e, like)))
        for v in range(ventricles):
            at = roots + 3 * v
            volume = load(numbers, place + at, like)
            wall = load(numbers, place + at + 1, like)
            store(out, at, cube_root(volume))
            store(out, at + 1, exponential(load(numbers, place + at + 2, like)))
            store(out, at + 2, logarithm(volume + wall, volume))


def counted(circuit: Circuit) -> tuple[int, int]:
    """Places with a square root, and ventricles of fibres, in a circuit."""
    flat = flatten(circuit)
    roots = int(np.isin(flat.edges[:, 0], ROOTED).sum())
    return roots, int((flat.parts[:, 0] == PART_LAWS["fibre"].CODE).sum())


def beat_s(circuit: Circuit, steps: int) -> float:
    """Least time that one member's beat can take on one core by this measure, s."""
    roots, ventricles = counted(circuit)
    wide = roots + 3 * ventricles
    numbers = np.random.default_rng(4).uniform(0.5, 2.0, ROWS * wide * WIDTH)
    out = np.empty(wide * WIDTH)
    stages = BEATS * STAGES * steps
    slow_parts(numbers, out, roots, ventricles, STAGES)
    times: list[float] = []
    for _ in range(REPEATS):
        begin = time.perf_counter()
        slow_parts(numbers, out, roots, ventricles, stages)
        times.append(time.perf_counter() - begin)
    return min(times) / BEATS / WIDTH
