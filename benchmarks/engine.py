"""The engine's speed: beside other integrators, over parts, over members, beside the machine.

Run: ``python benchmarks/engine.py``, some four minutes; with ``--write`` it also writes
``docs/physics/speed.md`` and its chart. Times are the best of several; errors are the worst of
mean, highest and lowest pressure of all vessels, against 3200 steps a beat.
"""

from __future__ import annotations

import logging
import os
import subprocess
import sys
import time
from dataclasses import replace
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, NamedTuple

import adult_model
import numpy as np
from engine_circuits import CHAINS, CIRCUITS, MEMBERS, chain, ensemble, neighbour
from engine_limit import STAGES, beat_s
from engine_outside import PERIODIC_ML, PRESSURE_OFF_MMHG, SOLVERS, Row, measured, right_hand_side
from engine_page import Table, write

from inseries.circuit.network import mapped
from inseries.circuit.orbit import Settings, find_orbit
from inseries.circuit.waveforms import waveforms

if TYPE_CHECKING:
    from collections.abc import Callable

    from inseries.circuit.network import Circuit, Floats
    from inseries.circuit.orbit import Orbit, Warm

# chosen: our steps a beat, quick and fine, and the converged reference
STEPS, REFERENCE = (150, 300), Settings(steps=3200, tolerance_ml=1e-9)
# chosen: repeats of a short time, and of an ensemble's
REPEATS, FEW_REPEATS = 40, 7
# chosen: rounds in which an ensemble and the limit are measured in turn, so that an hour in which
# the machine is slow touches both
ROUNDS = 12
# chosen: beats between which a plain beat's time lies
SOME_BEATS, MORE_BEATS = 10, 30
FIRST_CALL = (
    "import time; b = time.perf_counter();"
    "from inseries.circuit.newborn import normal_newborn;"
    "from inseries.circuit.orbit import find_orbit;"
    "find_orbit(normal_newborn()); print(time.perf_counter() - b)"
)


class Ours(NamedTuple):
    """Our orbit of one circuit at some steps."""

    steps: int
    cold_ms: float
    beats: int
    off_mmhg: float
    warm_ms: float
    warm_beats: int
    plain_ms: float


class Ensemble(NamedTuple):
    """Rates of one ensemble: orbits/s on one core and on all, beside the arithmetic's limit."""

    start: str
    beats: float
    one_core: float
    all_cores: float
    limit: float
    settled: int


def best_s(work: Callable[[], object], repeats: int = REPEATS) -> float:
    """Shortest time of several, s."""
    work()
    times: list[float] = []
    for _ in range(repeats):
        begin = time.perf_counter()
        work()
        times.append(time.perf_counter() - begin)
    return min(times)


def copied(warm: Warm) -> Warm:
    """A start that a search may change."""
    return warm.at(np.arange(warm.known.size))


def pressures(orbit: Orbit, vessels: list[int]) -> Floats:
    """Mean, highest and lowest pressure of vessels, shape (3, vessels)."""
    return orbit.part_readouts[0, vessels, :3].T


def ours(circuit: Circuit, steps: int, vessels: list[int], best: Floats) -> Ours:
    """Cold orbit and warm neighbour at some steps; a cold one is of a circuit not seen before."""
    settings, near = Settings(steps=steps, tolerance_ml=PERIODIC_ML), neighbour(circuit)
    orbit = find_orbit(circuit, settings=settings)
    off = float(np.abs(pressures(orbit, vessels) - best).max())
    again = find_orbit(near, settings=settings, warm=copied(orbit.warm))
    unseen = iter([mapped(circuit, lambda _, value: value) for _ in range(REPEATS + 1)])
    return Ours(
        steps,
        1e3 * best_s(lambda: find_orbit(next(unseen), settings=settings)),
        int(orbit.beats[0]),
        off,
        1e3 * best_s(lambda: find_orbit(near, settings=settings, warm=copied(orbit.warm))),
        int(again.beats[0]),
        1e3 * plain_beat_s(circuit, REPEATS, steps),
    )


def beside_others(circuit: Circuit) -> tuple[list[Ours], list[Row], float]:
    """Ours and every outside solver over one circuit; time of a call of the right-hand side, µs."""
    rhs = right_hand_side(circuit)
    reference = find_orbit(circuit, settings=REFERENCE)
    best = pressures(reference, rhs.vessels)
    near = waveforms(reference, settings=REFERENCE).volumes_ml[0]
    rows = [ours(circuit, steps, rhs.vessels, best) for steps in STEPS]
    beats, start = quickest(rows).beats, cold_start(circuit)
    theirs = [measured(rhs, name, start, beats, near, best) for name in SOLVERS]
    calls = best_s(lambda: [rhs.rate(0.1, start) for _ in range(1000)], FEW_REPEATS)
    return rows, theirs, 1e3 * calls


def quickest(rows: list[Ours]) -> Ours:
    """Our quickest that is near enough the reference."""
    return min(
        (row for row in rows if row.off_mmhg <= PRESSURE_OFF_MMHG), key=lambda row: row.cold_ms
    )


def cold_start(circuit: Circuit) -> Floats:
    """Volumes that a cold search starts from."""
    orbit = find_orbit(circuit, settings=Settings(most_beats=1, warm_beats=0), check=False)
    return waveforms(orbit, settings=Settings(steps=200)).volumes_ml[0]


def plain_beat_s(circuit: Circuit, repeats: int = FEW_REPEATS, steps: int = STEPS[0]) -> float:
    """Time of one plain beat of all members, s; a search that may not end is run twice."""
    times = [
        best_s(
            partial(find_orbit, circuit, settings=plain(beats, steps=steps), check=False), repeats
        )
        for beats in (SOME_BEATS, MORE_BEATS)
    ]
    return (times[1] - times[0]) / (MORE_BEATS - SOME_BEATS) / 2.0


def plain(beats: int, first: int | None = None, steps: int = STEPS[0]) -> Settings:
    """So many beats on one core and no search; ``first`` 0 makes the one beat carry tangents."""
    warm = beats if first is None else first
    return Settings(steps=steps, tolerance_ml=0.0, most_beats=beats, warm_beats=warm, threads=1)


def tangent_multiple(circuit: Circuit, plain_s: float) -> float:
    """Time of a beat with tangents over that of a plain one."""
    with_tangents, without = (
        best_s(partial(find_orbit, circuit, settings=plain(1, first), check=False), FEW_REPEATS)
        for first in (0, 1)
    )
    return 1.0 + (with_tangents - without) / plain_s


def ensembles(circuit: Circuit) -> tuple[list[Ensemble], float, float, float]:
    """Cold and warm rates; a plain beat over its arithmetic, tangents over it, and its time, ms."""
    members = ensemble(circuit)
    every = Settings(steps=STEPS[0], tolerance_ml=PERIODIC_ML)
    alone = replace(every, threads=1)
    first = find_orbit(members, settings=every, check=False)
    near = neighbour(members)

    def again(settings: Settings) -> Orbit:
        return find_orbit(near, settings=settings, warm=copied(first.warm), check=False)

    def cold(settings: Settings) -> Orbit:
        return find_orbit(members, settings=settings, check=False)

    works = [partial(work, how) for how in (alone, every) for work in (cold, again)]
    least, times = np.inf, np.full(len(works), np.inf)
    for _ in range(ROUNDS):
        least = min(least, beat_s(circuit, STEPS[0]))
        times = np.minimum(times, [best_s(work, 2) for work in works])
    plain_s = plain_beat_s(members)
    multiple = tangent_multiple(members, plain_s)
    found = [first, again(every)]
    # One beat more is counted for reading out; of a cold search's beats one carries tangents.
    worth = [found[0].beats.mean() + multiple, found[1].beats.mean() + 1.0]
    rows = [
        Ensemble(
            start,
            float(found[i].beats.mean()),
            MEMBERS / times[i],
            MEMBERS / times[2 + i],
            1.0 / (least * worth[i]),
            int(found[i].settled.sum()),
        )
        for i, start in enumerate(("cold", "warm neighbour"))
    ]
    return rows, plain_s / MEMBERS / least, multiple, 1e3 * plain_s / MEMBERS


def first_call_s() -> tuple[float, float]:
    """Time of the first call in an empty folder of compiled kernels, and of the next process's."""
    with TemporaryDirectory() as folder:
        taken: list[float] = []
        for _ in range(2):
            done = subprocess.run(
                [sys.executable, "-c", FIRST_CALL],
                env={**os.environ, "XDG_CACHE_HOME": folder},
                capture_output=True,
                check=True,
                text=True,
            )
            taken.append(float(done.stdout))
    return taken[0], taken[1]


def adult_rows() -> list[adult_model.Row]:
    """The published adult, each time taken once: the outside's are long."""
    adult_model.THEIR_REPEATS = 1
    logging.disable(logging.INFO)
    with TemporaryDirectory() as folder:
        return list(adult_model.rows(Path(folder)))


def chains() -> Table:
    """Time of an orbit over the number of parts."""
    rows: list[list[str]] = []
    for parts in CHAINS:
        circuit = chain(parts)
        orbit, took = find_orbit(circuit), best_s(lambda c=circuit: find_orbit(c))
        beat_us = 1e6 * plain_beat_s(circuit, REPEATS)
        cells = [parts, len(circuit.edges), f"{1e3 * took:.2f}", int(orbit.beats[0])]
        rows.append([str(cell) for cell in (*cells, f"{beat_us:.0f}", f"{beat_us / parts:.1f}")])
    columns = ["parts", "ways", "cold orbit, ms", "beats", "a plain beat, µs", "µs a part"]
    return Table("parts", columns, rows)


def main() -> None:
    """Measures, prints, and with ``--write`` writes."""
    begin = time.perf_counter()
    compiled = first_call_s()
    beside = {name: beside_others(circuit) for name, circuit in CIRCUITS.items()}
    members = {name: ensembles(circuit) for name, circuit in CIRCUITS.items()}
    alone = plain_beat_s(next(iter(CIRCUITS.values())), REPEATS)
    call_us = min(found[2] for found in beside.values())
    stage_us = 1e6 * alone / (STAGES * STEPS[0])
    write(
        beside, members, chains(), adult_rows(), compiled, (call_us, stage_us),
        keep="--write" in sys.argv,
    )  # fmt: skip
    print(f"in {time.perf_counter() - begin:.0f} s")


if __name__ == "__main__":
    main()
