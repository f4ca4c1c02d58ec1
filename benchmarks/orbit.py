"""Time and error of the repeating beat, beside scipy's LSODA on the same right-hand side.

Run: ``python benchmarks/orbit.py``. Times are the best of several on one core; errors are the worst
of mean and highest pressures over all parts, against 3200 steps a beat.
"""

from __future__ import annotations

import math
import time
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

import numpy as np
from numba import njit
from scipy.integrate import odeint
from scipy.optimize import root

from inseries.circuit import flat as layout
from inseries.circuit.flat import flatten
from inseries.circuit.kernels.beat import pressures, rates
from inseries.circuit.kernels.layout import EDGE_SLOTS
from inseries.circuit.newborn import normal_newborn, parallel_newborn
from inseries.circuit.orbit import Settings, find_orbit
from inseries.circuit.waveforms import waveforms
from inseries.routes import with_atrial_defect, with_duct

if TYPE_CHECKING:
    from collections.abc import Callable

    from inseries.circuit.network import Circuit, Floats

# chosen: what the product uses, coarser and finer; the reference is far beyond them
STEPS, REFERENCE_STEPS = (60, 100, 200, 400), 3200
# chosen: a periodic orbit for either, mL; tolerances of LSODA from loose to tight
PERIODIC_ML, TOLERANCES = 1e-3, (1e-3, 1e-4, 1e-6)
# chosen: repeats of a time, samples of an outside beat, beats an outside run may take
REPEATS, SAMPLES, MOST_BEATS = 15, 200, 400

CIRCUITS = {
    "normal": normal_newborn(),
    "parallel": with_atrial_defect(parallel_newborn(), 7.0),
    "parallel, duct": with_duct(with_atrial_defect(parallel_newborn(), 7.0), 3.0),
}
RISE, FALL = layout.VENTRICLE_RISE, layout.VENTRICLE_FALL
A_START, A_RISE, A_FALL = layout.ATRIUM_START, layout.ATRIUM_RISE, layout.ATRIUM_FALL


@njit
def cosine(share, rise, fall):
    """Rise and fall of an activation."""
    if share < rise:
        return 0.5 * (1.0 - math.cos(math.pi * share / rise))
    if share < rise + fall:
        return 0.5 * (1.0 + math.cos(math.pi * (share - rise) / fall))
    return 0.0


@njit
def right_hand_side(t, X, theta, kind, start, end, valve, inertial, P, sigma, lam, Q, dX):  # noqa: N803, PLR0913, PLR0917 - as a kernel
    """Rates of change of all volumes, compiled whole; the same kernels that the beat uses."""
    share = (t / theta[0]) % 1.0
    e_v = cosine(share, RISE, FALL)
    e_a = cosine((share - A_START) % 1.0, A_RISE, A_FALL)
    pressures(X, theta, kind, 1 + EDGE_SLOTS * start.size, e_v, e_a, P, sigma, lam)
    rates(X, P, theta, start, end, valve, inertial, Q, dX)
    return dX


@dataclass
class Outside:
    """Beats by LSODA."""

    circuit: Circuit
    tolerance: float

    def __post_init__(self) -> None:
        """Lays out the arrays once."""
        f = flatten(self.circuit)
        count, edges = f.kind.size, f.start.size
        self.period = float(f.theta[0, 0])
        self.volume = float(f.volume_ml[0])
        scratch = [np.zeros(n) for n in (count, count, count, edges, count)]
        topology = (f.kind, f.start, f.end, f.valve, f.inertial)
        self.arguments = (f.theta[0], *topology, *scratch)
        self.times = np.linspace(0.0, self.period, SAMPLES + 1)

    def beat(self, volumes: Floats) -> Floats:
        """Volumes at every sample of one beat."""
        return odeint(
            right_hand_side,
            volumes,
            self.times,
            args=self.arguments,
            tfirst=True,
            rtol=self.tolerance,
            atol=self.tolerance,
            mxstep=100_000,
        )

    def many(self, volumes: Floats, beats: int) -> tuple[Floats, int]:
        """The last of some beats."""
        wave = self.beat(volumes)
        for _ in range(beats - 1):
            wave = self.beat(wave[-1])
        return wave, beats

    def plain(self, volumes: Floats) -> tuple[Floats, int]:
        """Beats one after another until one repeats."""
        for beats in range(1, MOST_BEATS + 1):
            wave = self.beat(volumes)
            if np.abs(wave[-1] - volumes).max() < PERIODIC_ML:
                return wave, beats
            volumes = wave[-1]
        return wave, MOST_BEATS

    def newton(self, volumes: Floats) -> tuple[Floats, int]:
        """Eight beats, then MINPACK's hybrid Newton on all volumes but the last."""
        calls = 8
        volumes = self.many(volumes, calls)[0][-1]

        def gap(y: Floats) -> Floats:
            nonlocal calls
            calls += 1
            return self.beat(np.append(y, self.volume - y.sum()))[-1][:-1] - y

        found = root(gap, volumes[:-1], method="hybr", options={"eps": 1e-6, "xtol": 1e-5})
        return self.beat(np.append(found.x, self.volume - found.x.sum())), calls + 1

    def pressures(self, wave: Floats) -> Floats:
        """Mean and highest pressure of every part, shape (2, parts)."""
        found = []
        for t, volumes in zip(self.times[:-1], wave[:-1], strict=True):
            right_hand_side(t, volumes, *self.arguments)
            found.append(self.arguments[6].copy())
        return np.array([np.mean(found, axis=0), np.max(found, axis=0)])


def best_ms(work: Callable[[], object], repeats: int = REPEATS) -> float:
    """Shortest time of several, ms."""
    work()
    times = []
    for _ in range(repeats):
        begin = time.perf_counter()
        work()
        times.append(time.perf_counter() - begin)
    return 1e3 * min(times)


def ours(circuit: Circuit, steps: int) -> tuple[float, int, Floats]:
    """Time of a cold orbit, its beats, and mean and highest pressures."""
    settings = Settings(steps=steps, tolerance_ml=PERIODIC_ML)
    orbit = find_orbit(circuit, settings=settings)
    took = best_ms(lambda: find_orbit(circuit, settings=settings))
    return took, int(orbit.beats[0]), orbit.part_readouts[0, :, :2].T


def row(what: str, took: float, beats: int, pressure: Floats, best: Floats) -> None:
    """One printed row."""
    print(f"  {what:<34}{took:>10.2f}{beats:>8}{np.abs(pressure - best).max():>12.4f}")


def main() -> None:
    """Prints one table a circuit."""
    for name, circuit in CIRCUITS.items():
        settings = Settings(steps=REFERENCE_STEPS, tolerance_ml=1e-8)
        best = find_orbit(circuit, settings=settings).part_readouts[0, :, :2].T
        print(f"{name:<36}{'ms':>10}{'beats':>8}{'mmHg off':>12}")
        for steps in STEPS:
            row(f"ours, {steps} steps, cold", *ours(circuit, steps), best)
        theirs(circuit, ours(circuit, 200)[1], best)
        print()


def theirs(circuit: Circuit, beats: int, best: Floats) -> None:
    """Rows of the outside, from the volumes that our cold search starts from."""
    start = _cold_start(circuit)
    for tolerance in TOLERANCES:
        outside = Outside(circuit, tolerance)
        ways: dict[str, Callable[[], tuple[Floats, int]]] = {
            "as many beats": partial(outside.many, start, beats),
            "plain beats": partial(outside.plain, start),
            "hybrid Newton": partial(outside.newton, start),
        }
        for what, way in ways.items():
            wave, count = way()
            took = best_ms(way, 3)
            row(f"LSODA {tolerance:g}, {what}", took, count, outside.pressures(wave), best)


def _cold_start(circuit: Circuit) -> Floats:
    """Volumes that a cold search starts from."""
    orbit = find_orbit(circuit, settings=Settings(most_beats=1, warm_beats=0), check=False)
    return waveforms(orbit, settings=Settings(steps=200)).volumes_ml[0]


if __name__ == "__main__":
    main()
