"""Other people's integrators over our right-hand side: beats, and their way to an orbit.

The right-hand side is the engine's own, compiled, with the circuit's arrays built in; solvers call
it through Python, as whoever uses them with such a function does.
"""

from __future__ import annotations

import time
import warnings
from contextlib import suppress
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from numba import njit
from scipy.integrate import odeint, solve_ivp
from scipy.optimize import root
from sksundae.cvode import CVODE

from inseries.circuit.compiled import Network, activated, instant
from inseries.circuit.flat import flatten
from inseries.circuit.network import Vessel

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from inseries.circuit.network import Circuit, Floats

# chosen: a beat repeats when no volume changes by more, mL; samples of a watched beat
PERIODIC_ML, SAMPLES = 1e-3, 400
# chosen: plain beats before a hybrid Newton, relative step of its differences (above the noise of
# an integrator), and the most beats that it and plain beats may take
FIRST_BEATS, DIFFERENCE, MOST_BEATS = 8, 1e-4, 120
# chosen: beats that a search from near the reference may take
NEAR_BEATS = 40
# chosen: tolerances, relative and in mL, from loose to tight, and what a pressure may be off, mmHg
TOLERANCES, PRESSURE_OFF_MMHG = (1e-2, 1e-3, 1e-4, 1e-5, 1e-6), 0.1
# chosen: no run is repeated once a way has taken so long, s
LONG_ENOUGH_S = 0.5


class RightHandSide(NamedTuple):
    """The compiled right-hand side of a circuit; ``into`` fills its last argument."""

    rate: Callable[[float, Floats], Floats]
    into: Callable[[float, Floats, Floats], None]
    pressure: Callable[[float, Floats], Floats]
    period_s: float
    volume_ml: float
    vessels: list[int]


def right_hand_side(circuit: Circuit) -> RightHandSide:
    """Compiles the right-hand side of a circuit, with its arrays built in."""
    flat = flatten(circuit)
    parts, edges, watch, fibres = flat.parts, flat.edges, flat.watch, flat.fibres
    squeezed, counted, septum, sac = flat.squeezed, flat.counted, flat.septum, flat.sac
    row = flat.theta[0].copy()
    size, count, ways, period = flat.states, parts.shape[0], edges.shape[0], float(row[0])
    shapes = np.array([tuple(course) for course in flat.activations])
    courses = shapes.shape[0]

    @njit
    def both(t, X):  # noqa: N803 - as a kernel
        act, state = np.empty((courses, 1)), np.empty(size)
        for k in range(courses):
            act[k, 0] = activated(t / period, shapes[k, 0], shapes[k, 1], shapes[k, 2])
        for i in range(size):
            state[i] = X[i]
        P, Q, dX = np.empty(count), np.empty(ways), np.empty(size)  # noqa: N806
        net = Network(parts, edges, squeezed, counted, watch, fibres, septum, sac, act)
        instant(net, row, state, P, Q, dX)
        return P, dX

    @njit
    def rate(t, X):  # noqa: N803
        return both(t, X)[1]

    @njit
    def into(t, X, dX):  # noqa: N803
        dX[:] = both(t, X)[1]

    @njit
    def pressure(t, X):  # noqa: N803
        return both(t, X)[0]

    vessels = [i for i, part in enumerate(circuit.parts) if isinstance(part, Vessel)]
    return RightHandSide(rate, into, pressure, period, float(flat.volume_ml[0]), vessels)


def carriers(rhs: RightHandSide, tolerance: float) -> dict[str, Callable[..., Floats]]:
    """Functions ``(state, times) -> states at those times``, by the name of the solver."""

    def by_odeint(state: Floats, times: Floats) -> Floats:
        how = {"rtol": tolerance, "atol": tolerance, "mxstep": 100_000}
        return odeint(rhs.rate, state, times, tfirst=True, **how)

    def by_ivp(state: Floats, times: Floats, method: str) -> Floats:
        how = {"rtol": tolerance, "atol": tolerance, "t_eval": times, "method": method}
        return solve_ivp(rhs.rate, (0.0, rhs.period_s), state, **how).y.T

    solver = CVODE(rhs.into, rtol=tolerance, atol=tolerance, max_num_steps=100_000)

    def by_cvode(state: Floats, times: Floats) -> Floats:
        return solver.solve(times, state).y

    def ivp(method: str) -> Callable[..., Floats]:
        return lambda state, times: by_ivp(state, times, method)

    return {
        "LSODA (odeint)": by_odeint,
        "LSODA (solve_ivp)": ivp("LSODA"),
        "RK45": ivp("RK45"),
        "Radau": ivp("Radau"),
        "BDF": ivp("BDF"),
        "CVODE": by_cvode,
    }


SOLVERS = ("LSODA (odeint)", "LSODA (solve_ivp)", "CVODE", "RK45", "BDF", "Radau")


class Found(NamedTuple):
    """Where a way over beats ended: its state, beats taken, and last change (mL)."""

    state: Floats
    beats: int
    gap_ml: float


class _Repeats(Exception):
    """No error: it ends a search that has what it wants."""


class Outside:
    """One solver at one tolerance over one circuit."""

    def __init__(self, rhs: RightHandSide, solver: str, tolerance: float) -> None:
        self.rhs, self.carry = rhs, carriers(rhs, tolerance)[solver]
        self.ends = np.array([0.0, 0.5, 1.0]) * rhs.period_s

    def beat(self, state: Floats) -> Floats:
        """The state after one beat."""
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            return self.carry(state, self.ends)[-1]

    def many(self, state: Floats, beats: int) -> Floats:
        """The state after some beats."""
        for _ in range(beats):
            state = self.beat(state)
        return state

    def plain(self, state: Floats, until_s: float = np.inf) -> Found:
        """Beats one after another until one repeats, or the time is over."""
        begin, gap = time.perf_counter(), np.inf
        beats = 0
        while beats < MOST_BEATS:
            beats += 1
            before, state = state, self.beat(state)
            gap = float(np.abs(state - before).max())
            if gap < PERIODIC_ML or time.perf_counter() - begin > until_s:
                break
        return Found(state, beats, gap)

    def newton(
        self,
        state: Floats,
        first: int = FIRST_BEATS,
        *,
        most: int = MOST_BEATS,
        until_s: float = np.inf,
    ) -> Found:
        """Some beats, then MINPACK's hybrid Newton on all volumes but the last."""
        begin = time.perf_counter()
        state, beats = self.many(state, first), first
        gap = np.inf

        def change(y: Floats) -> Floats:
            nonlocal beats, state, gap
            beats += 1
            before = np.append(y, self.rhs.volume_ml - y.sum())
            state = self.beat(before)
            gap = float(np.abs(state - before).max())
            late = time.perf_counter() - begin > until_s
            if gap < PERIODIC_ML or beats > most or late:
                raise _Repeats
            return (state - before)[:-1]

        with suppress(_Repeats):
            root(change, state[:-1], method="hybr", options={"eps": DIFFERENCE, "xtol": 1e-6})
        return Found(state, beats, gap)

    def pressures(self, state: Floats) -> Floats:
        """Mean, highest and lowest pressure of every vessel over a beat, shape (3, vessels)."""
        times = np.linspace(0.0, self.rhs.period_s, SAMPLES + 1)
        wave = self.carry(state, times)[:-1]
        found = np.array([self.rhs.pressure(t, X) for t, X in zip(times, wave, strict=False)])
        found = found[:, self.rhs.vessels]
        return np.array([found.mean(axis=0), found.max(axis=0), found.min(axis=0)])


class Row(NamedTuple):
    """One solver over one circuit; nan where it reached nothing."""

    solver: str
    tolerance: float
    off_mmhg: float
    same_ms: float
    best_ms: float
    best_beats: int
    way: str
    best_tolerance: float


def loosest(rhs: RightHandSide, solver: str, near: Floats, best: Floats) -> tuple[float, float]:
    """Loosest tolerance whose own repeating beat is near enough the reference, and how far off."""
    for tolerance in TOLERANCES:
        outside = Outside(rhs, solver, tolerance)
        found = outside.newton(near, 2, most=NEAR_BEATS)
        if not found.gap_ml < PERIODIC_ML:
            continue
        off = float(np.abs(outside.pressures(found.state) - best).max())
        if off <= PRESSURE_OFF_MMHG:
            return tolerance, off
    return np.nan, np.nan


def measured(
    rhs: RightHandSide, solver: str, start: Floats, beats: int, near: Floats, best: Floats
) -> Row:
    """A solver from a cold start: as many beats as ours, and its quicker way to a repeating one."""
    tolerance, off = loosest(rhs, solver, near, best)
    if not tolerance > 0.0:
        return Row(solver, tolerance, off, np.nan, np.nan, 0, "none", np.nan)
    outside = Outside(rhs, solver, tolerance)
    same, _ = timed(lambda: outside.many(start, beats))
    took, found, way, at = np.inf, Found(start, 0, np.inf), "none", np.nan
    for tried in (tolerance, tolerance / 10.0):
        for name, seconds, ended in ways(Outside(rhs, solver, tried), start, took):
            if ended.gap_ml < PERIODIC_ML and seconds < took:
                took, found, way, at = seconds, ended, name, tried
    return Row(solver, tolerance, off, 1e3 * same, 1e3 * took, found.beats, way, at)


def ways(outside: Outside, start: Floats, best_s: float) -> Iterator[tuple[str, float, Found]]:
    """Both ways to a beat that repeats; plain beats end once they are slower."""
    took, found = timed(lambda: outside.newton(start, until_s=1.2 * best_s))
    yield "Newton", took, found
    until = min(best_s, took if found.gap_ml < PERIODIC_ML else np.inf)
    yield "plain", *timed(lambda: outside.plain(start, 1.2 * until))


def timed(work: Callable[[], Any]) -> tuple[float, Any]:
    """Least time of up to five runs (s), fewer where they are long, and what the last one gave."""
    times: list[float] = []
    while len(times) < 5 and sum(times) < LONG_ENOUGH_S:
        begin = time.perf_counter()
        found = work()
        times.append(time.perf_counter() - begin)
    return min(times), found
