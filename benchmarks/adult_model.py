"""A published adult circulation: our repeating beat beside the package that carries the model.

Run: ``python benchmarks/adult_model.py``. Ours is compiled and searches the repeating beat; theirs
is a loop in Python that takes one beat after another. The table keeps the two apart: as many plain
beats of either from the same start, and each its way to a beat that repeats. An error is the
largest difference over the beat from the same equations solved closely: of pressures (mmHg), and of
all signals but valves' flows, and of valves' flows, as shares of a signal's range. Left out is the
package's writing of results to files, which would take as long again.
"""

from __future__ import annotations

import logging
import sys
import time
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from inseries.circuit.orbit import Settings, find_orbit
from inseries.circuit.waveforms import waveforms

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests"))

from witness.regazzoni_carried import Carried
from witness.regazzoni_circuit import (
    COMPLIANCE_ML_MMHG,
    PERIOD_S,
    PLACES,
    SIGNALS,
    STATES,
    WAYS,
    adult,
    signals,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from inseries.circuit.network import Floats

# chosen: our steps a beat; what the package takes by itself, s; tolerances of LSODA over it
OUR_STEPS, THEIR_STEPS_S, TOLERANCES = (3200, 800, 400), (1e-3,), (1e-6,)
# chosen: a beat repeats when no volume or pressure changes by more (mL, mmHg); beats until given up
PERIODIC, MOST_BEATS = 1e-3, 60
# chosen: beats of either in the first comparison, samples of a beat, repeats of a time
SAME_BEATS, SAMPLES, REPEATS, THEIR_REPEATS = 12, 200, 25, 3
# chosen: steps and tolerance far beyond what is compared; beats after which theirs has settled
CLOSE, CLOSE_TOLERANCE, SETTLED_BEATS = Settings(steps=6400, tolerance_ml=1e-9), 1e-9, 25
# derived: flows of a valve jump when it opens, and are judged apart
VALVES = [SIGNALS.index(name) for name in ("Q_MV", "Q_AV", "Q_TV", "Q_PV")]
SMOOTH = [i for i in range(len(SIGNALS)) if i not in VALVES]
PRESSURES = [i for i in SMOOTH if SIGNALS[i].startswith("p_")]


class Row(NamedTuple):
    """One way to a beat: time, beats, evaluations a beat, errors."""

    what: str
    seconds: float
    beats: int
    evaluations: int
    pressure_off_mmhg: float
    smooth_off: float
    valves_off: float


class Way(NamedTuple):
    """Beats of the package: the state after one, and the last of some at samples."""

    name: str
    one: Callable[[Floats], Floats]
    last: Callable[[Floats, int], Floats]


def rows(folder: Path) -> Iterator[Row]:
    """Every row of the table; the package writes into ``folder``."""
    yield from our_rows()
    start, carried = cold_start(), Carried(folder)
    carried.model.save_state = lambda: None  # all results to files with every beat: not its physics
    settled = carried.after(SETTLED_BEATS, CLOSE_TOLERANCE)
    best = carried.signals(carried.beat(settled, CLOSE_TOLERANCE, samples=SAMPLES)[0])
    for way in ways(carried):
        for what, beats in (
            ("plain beats", SAME_BEATS),
            ("until it repeats", beats_until_it_repeats(way, start)),
        ):
            took = best_s(partial(way.last, start, beats), THEIR_REPEATS)
            carried.evaluations = 0
            wave = way.last(start, beats)
            evaluations = carried.evaluations // beats
            off = errors(carried.signals(wave), best)
            yield Row(f"{way.name}, {what}", took, beats, evaluations, *off)


def our_rows() -> Iterator[Row]:
    """Ours: some plain beats, and the search."""
    circuit = adult()
    best = every(signals(find_orbit(circuit, settings=CLOSE), CLOSE))
    for steps in OUR_STEPS:
        plain = Settings(
            steps=steps, tolerance_ml=0.0, most_beats=SAME_BEATS, warm_beats=SAME_BEATS
        )
        search = Settings(steps=steps, tolerance_ml=PERIODIC)
        for what, settings in (("plain beats", plain), ("search", search)):
            find = partial(find_orbit, circuit, settings=settings, check=False)
            orbit = find()
            off = errors(every(signals(orbit, settings)), best)
            took, beats = best_s(find), int(orbit.beats[0])
            yield Row(f"ours, {steps} steps, {what}", took, beats, 2 * steps, *off)


def ways(carried: Carried) -> Iterator[Way]:
    """Ways to take beats of the package: its own steps, and an outside integrator over it."""
    for step in THEIR_STEPS_S:
        yield Way(
            f"theirs, own steps of {1e3 * step:g} ms",
            lambda state, step=step: own_steps(carried, step, state, 1)[-1],
            lambda state, beats, step=step: sampled(own_steps(carried, step, state, beats)),
        )
    for tolerance in TOLERANCES:
        yield Way(
            f"theirs, LSODA at {tolerance:g}",
            lambda state, tolerance=tolerance: carried.after(1, tolerance, state),
            lambda state, beats, tolerance=tolerance: carried.beat(
                carried.after(beats - 1, tolerance, state), tolerance, samples=SAMPLES
            )[0],
        )


def own_steps(carried: Carried, step: float, state: Floats, beats: int) -> Floats:
    """The last of some beats, and its end, by the package's own ``solve``: forward Euler."""
    history = carried.model.solve(num_beats=beats, initial_state=state.copy(), dt=step)
    states = np.array([history[name] for name in STATES]).T
    taken = states.shape[0] - 1
    carried.evaluations += taken
    return states[-1 - taken // beats :]


def sampled(states: Floats) -> Floats:
    """A beat of even steps, and its end, at the samples that are compared."""
    return every(states[:-1])


def every(wave: Floats) -> Floats:
    """A beat at the samples that are compared."""
    return wave[:: wave.shape[0] // SAMPLES]


def beats_until_it_repeats(way: Way, state: Floats) -> int:
    """Plain beats until one changes no volume and no pressure by more than it may."""
    for beats in range(1, MOST_BEATS):
        before, state = state, way.one(state).copy()
        if np.abs(state - before)[:8].max() < PERIODIC:
            return beats
    return MOST_BEATS


def cold_start() -> Floats:
    """Where our cold search starts from, as their twelve states."""
    orbit = find_orbit(adult(), settings=Settings(most_beats=1, warm_beats=0), check=False)
    beat = waveforms(orbit, settings=Settings(steps=400))
    found: list[float] = []
    for name in STATES:
        kind, place = name.split("_", 1)
        if kind == "Q":
            found.append(float(beat.flow_ml_s(WAYS[place])[0]))
        else:
            volume = float(beat.volume_ml(PLACES[place])[0])
            found.append(volume if kind == "V" else volume / COMPLIANCE_ML_MMHG[PLACES[place]])
    return np.array(found)


def errors(wave: Floats, best: Floats) -> tuple[float, float, float]:
    """Largest differences over the beat: pressures, all but valves' flows, valves' flows."""
    off = np.abs(wave - best).max(axis=0)
    share = off / np.ptp(best, axis=0)
    return float(off[PRESSURES].max()), float(share[SMOOTH].max()), float(share[VALVES].max())


def best_s(work: Callable[[], object], repeats: int = REPEATS) -> float:
    """Least processor time of several, s; a busy machine adds less to it than to a clock's."""
    times: list[float] = []
    for _ in range(repeats):
        begin = time.process_time()
        work()
        times.append(time.process_time() - begin)
    return min(times)


def main() -> None:
    """Prints the table."""
    logging.disable(logging.INFO)
    print(f"a beat of {PERIOD_S} s; theirs gives up after {MOST_BEATS} beats")
    print(f"{'':<44}{'ms':>9}{'beats':>7}{'calls':>7}{'mmHg':>9}{'waves %':>9}{'valves %':>9}")
    with TemporaryDirectory() as folder:
        for row in rows(Path(folder)):
            print(
                f"{row.what:<44}{1e3 * row.seconds:>9.1f}{row.beats:>7}{row.evaluations:>7}"
                f"{row.pressure_off_mmhg:>9.3f}{100 * row.smooth_off:>9.3f}"
                f"{100 * row.valves_off:>9.3f}"
            )


if __name__ == "__main__":
    main()
