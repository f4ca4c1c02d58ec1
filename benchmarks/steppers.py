"""Other ways to carry a beat: how many evaluations each needs to come within 0.1 mmHg.

Run: ``python benchmarks/steppers.py``, about a minute. Steps of several orders, as they are,
cut where a valve opens or shuts, or semi-implicit; valves as they are, rounded at their corner, or
with blood that has weight. Each way is judged against its own limit at very short steps; what a
change of the valves does to that limit stands beside it. A way is credited generously: pressures
are read between steps by a cubic, and neither that nor looking for a valve's corner is counted, nor
the Jacobians and solutions of the semi-implicit one.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from engine import REFERENCE, pressures
from engine_circuits import CIRCUITS
from engine_outside import PRESSURE_OFF_MMHG, right_hand_side
from numba import njit

from inseries.circuit.compiled import EDGE_LAWS
from inseries.circuit.flat import flatten
from inseries.circuit.orbit import find_orbit
from inseries.circuit.waveforms import waveforms

if TYPE_CHECKING:
    from collections.abc import Callable

    from inseries.circuit.network import Circuit, Floats
    from inseries.circuit.orbit import Ints

# derived: how valves are treated, and how a step is made (most by how often it evaluates)
AS_THEY_ARE, ROUNDED, HEAVY = range(3)
HEUN, KUTTA, CLASSICAL, ROSENBROCK = 2, 3, 4, 5
# chosen: steps tried, steps of a limit, beats of a search, readings of a step
TRIED = [round(20 * 1.09**k) for k in range(40)]
LIMIT_STEPS, MOST_BEATS, READINGS = 6400, 60, 8
# chosen: most cuts of one step, rounds of a search for a corner, changes that Jacobians come from
MOST_CUTS, ROUNDS, DIFFERENCE = 6, 4, 1e-6
REPEATS_ML = 1e-4


class How(NamedTuple):
    """A way in numbers; ``much`` is a valve's rounding (mmHg) or inertance (mmHg s²/mL)."""

    method: int
    valves: int = AS_THEY_ARE
    much: float = 0.0
    cut: bool = False


class Joints(NamedTuple):
    """Where valves lie, how many states there are without theirs, and the length of a beat."""

    starts: Ints
    ends: Ints
    size: int
    period_s: float


WAYS = {
    "Heun, order 2": How(HEUN),
    "Kutta, order 3": How(KUTTA),
    "classical, order 4": How(CLASSICAL),
    "Heun, cut at corners": How(HEUN, cut=True),
    "Kutta, cut at corners": How(KUTTA, cut=True),
    "classical, cut at corners": How(CLASSICAL, cut=True),
    "Rosenbrock, order 2": How(ROSENBROCK),
    "classical, corners rounded by 0.05 mmHg": How(CLASSICAL, ROUNDED, 0.05),
    "classical, corners rounded by 0.2 mmHg": How(CLASSICAL, ROUNDED, 0.2),
    "Heun, valves of 0.0002 mmHg s²/mL": How(HEUN, HEAVY, 2e-4),
    "Heun, valves of 0.001 mmHg s²/mL": How(HEUN, HEAVY, 1e-3),
}


def rates(circuit: Circuit) -> tuple[Callable[..., Any], Joints]:
    """Pressures and rate of the state under any treatment of valves, and where these lie."""
    flat, rhs = flatten(circuit), right_hand_side(circuit)
    rows = flat.edges[flat.edges[:, 0] == EDGE_LAWS["valve"].CODE]
    starts, ends, row = rows[:, 3].copy(), rows[:, 4].copy(), flat.theta[0]
    R, B = row[rows[:, 1]].copy(), row[rows[:, 1] + 1].copy()  # noqa: N806 - as in a law
    size, count, period = flat.states, len(rows), rhs.period_s
    pressure, into = rhs.pressure, rhs.into

    @njit
    def flow(v, ahead):
        return 2.0 * ahead / (R[v] + np.sqrt(R[v] ** 2 + 4.0 * B[v] * ahead))

    @njit
    def rate(t, Z, how):  # noqa: N803 - as a kernel
        t -= period * np.floor(t / period)
        d, X = np.empty(Z.size), Z[:size].copy()  # noqa: N806
        P = pressure(t, X)  # noqa: N806
        into(t, X, d[:size])
        for v in range(count if how.valves != AS_THEY_ARE else 0):
            a, b = starts[v], ends[v]
            ahead = P[a] - P[b]
            if how.valves == ROUNDED:
                q = flow(v, 0.5 * (ahead + np.sqrt(ahead**2 + how.much**2)))
            else:
                q = Z[size + v]
                d[size + v] = (ahead - R[v] * q - B[v] * q * abs(q)) / how.much
                if q <= 0.0:
                    q, d[size + v] = 0.0, max(d[size + v], 0.0)
            more = q - flow(v, max(ahead, 0.0))
            d[a] -= more
            d[b] += more
        return P, d

    return rate, Joints(starts, ends, size, period)


@njit
def slopes(rate, t, Z, how):  # noqa: N803 - as a kernel
    """Jacobian of the rate, by differences."""
    J = np.empty((Z.size, Z.size))  # noqa: N806
    for j in range(Z.size):
        step = DIFFERENCE * max(1.0, abs(Z[j]))
        up, down = Z.copy(), Z.copy()
        up[j] += step
        down[j] -= step
        J[:, j] = (rate(t, up, how)[1] - rate(t, down, how)[1]) / (2.0 * step)
    return J


@njit
def rosenbrock(rate, t, h, Z, how):  # noqa: N803
    """A semi-implicit step of two stages; damps what is stiff."""
    g = 1.0 - np.sqrt(0.5)
    A = np.eye(Z.size) - g * h * slopes(rate, t, Z, how)  # noqa: N806
    later, earlier = rate(t + DIFFERENCE, Z, how)[1], rate(t - DIFFERENCE, Z, how)[1]
    by_time = g * h * (later - earlier) / (2.0 * DIFFERENCE)
    k = np.linalg.solve(A, rate(t, Z, how)[1] + by_time)
    last = np.linalg.solve(A, rate(t + h, Z + h * k, how)[1] - 2.0 * k - by_time)
    return Z + 1.5 * h * k + 0.5 * h * last


@njit
def stepped(rate, t, h, Z, how):  # noqa: N803
    """The state after a step."""
    if how.method == ROSENBROCK:
        return rosenbrock(rate, t, h, Z, how)
    k = rate(t, Z, how)[1]
    if how.method == HEUN:
        return Z + 0.5 * h * (k + rate(t + h, Z + h * k, how)[1])
    half = rate(t + 0.5 * h, Z + 0.5 * h * k, how)[1]
    if how.method == KUTTA:
        return Z + h / 6.0 * (k + 4.0 * half + rate(t + h, Z + h * (2.0 * half - k), how)[1])
    again = rate(t + 0.5 * h, Z + 0.5 * h * half, how)[1]
    return Z + h / 6.0 * (k + 2.0 * (half + again) + rate(t + h, Z + h * again, how)[1])


@njit
def between(rate, x, step, Z, after, how):  # noqa: N803
    """State at a share of a step, by the cubic through both ends."""
    t, h = step
    early, late = (1 + 2 * x) * (1 - x) ** 2, x * x * (3 - 2 * x)
    k, k_after = rate(t, Z, how)[1], rate(t + h, after, how)[1]
    return early * Z + late * after + h * (x * (1 - x) ** 2 * k + x * x * (x - 1) * k_after)


@njit
def corner(rate, joints, step, Z, after, how):  # noqa: N803
    """Share of a step at which the first valve turns; 1 where none does."""
    t, h = step
    P, P_after = rate(t, Z, how)[0], rate(t + h, after, how)[0]  # noqa: N806
    first = 1.0
    for v in range(joints.starts.size):
        a, b = joints.starts[v], joints.ends[v]
        low, high, at_low, at_high = 0.0, 1.0, P[a] - P[b], P_after[a] - P_after[b]
        if (at_low > 0.0) == (at_high > 0.0) or abs(at_low) < DIFFERENCE:
            continue
        for _ in range(ROUNDS):
            x = low + (high - low) * min(max(at_low / (at_low - at_high), 0.02), 0.98)
            there = rate(t + x * h, between(rate, x, step, Z, after, how), how)[0]
            gap = there[a] - there[b]
            if (gap > 0.0) == (at_low > 0.0):
                low, at_low = x, gap
            else:
                high, at_high = x, gap
        first = min(first, high)
    return first


@njit
def beat(rate, joints, start, steps, how):
    """One beat: its end, evaluations, and pressures with their times."""
    Z, cost, n = start.copy(), 0, 0  # noqa: N806
    each = 2 if how.method == ROSENBROCK else how.method
    most = READINGS * (steps + MOST_CUTS * (2 * joints.starts.size if how.cut else 0) + MOST_CUTS)
    wave, times = np.empty((most, joints.size)), np.empty(most)
    for s in range(steps):
        t, end = s * joints.period_s / steps, (s + 1) * joints.period_s / steps
        cuts = 0 if how.cut else MOST_CUTS
        while end - t > 1e-12 and n + READINGS <= most:
            h = end - t
            after = stepped(rate, t, h, Z, how)
            cost += each
            share = corner(rate, joints, (t, h), Z, after, how) if cuts < MOST_CUTS else 1.0
            if share < 0.999:
                h *= share
                after = stepped(rate, t, h, Z, how)
                cost += each - 1
                cuts += 1
            after[joints.size :] = np.maximum(after[joints.size :], 0.0)
            for j in range(READINGS):
                times[n] = t + j / READINGS * h
                wave[n] = rate(times[n], between(rate, j / READINGS, (t, h), Z, after, how), how)[0]
                n += 1
            Z, t = after, t + h  # noqa: N806
    return Z, cost, wave[:n], times[:n]


class Bench:
    """One circuit under all ways."""

    def __init__(self, circuit: Circuit) -> None:
        self.rate, self.joints = rates(circuit)
        orbit = find_orbit(circuit, settings=REFERENCE)
        self.size = len(circuit.parts)
        self.vessels = right_hand_side(circuit).vessels
        self.inverse = orbit.warm.inverse[0, : self.size - 1, : self.size - 1].copy()
        self.start = waveforms(orbit, settings=REFERENCE).volumes_ml[0].copy()
        self.best = pressures(orbit, self.vessels)

    def found(self, how: How, steps: int, start: Floats) -> tuple[Floats, Floats, int]:
        """Repeating beat of a way: its start, read pressures (nan where there is none), cost."""
        Z, cost = start.copy(), 0  # noqa: N806 - as a kernel
        for _ in range(MOST_BEATS):
            end, cost, wave, times = beat(self.rate, self.joints, Z, steps, how)
            gap = (end - Z)[: self.size]
            if not np.abs(gap).max() < 1e6:
                break
            if np.abs(gap).max() < REPEATS_ML:
                return Z, self.read(wave, times), cost
            Z[self.size :] = end[self.size :]
            Z[: self.size - 1] -= self.inverse @ gap[:-1]
            Z[self.size - 1] = start[: self.size].sum() - Z[: self.size - 1].sum()
        return Z, np.full((3, len(self.vessels)), np.nan), cost

    def read(self, wave: Floats, times: Floats) -> Floats:
        """Mean, highest and lowest pressure of vessels."""
        period = self.joints.period_s
        closed = np.vstack([wave, wave[:1]])[:, self.vessels]
        mean = np.trapezoid(closed, np.append(times, period), axis=0) / period
        return np.array([mean, closed.max(axis=0), closed.min(axis=0)])

    def judged(self, how: How) -> tuple[float, float]:
        """Fewest evaluations from which on a way stays near its limit, and how far that lies."""
        start = self.start
        if how.valves == HEAVY:
            start = np.append(start, np.zeros(self.joints.starts.size))
        limit = How(CLASSICAL, how.valves, how.much)
        start, best, _ = self.found(limit, LIMIT_STEPS, start)
        fewest = np.inf
        for steps in reversed(TRIED):
            _, read, cost = self.found(how, steps, start)
            if not np.abs(read - best).max() <= PRESSURE_OFF_MMHG:
                break
            fewest = cost
        return fewest, float(np.abs(best - self.best).max())


def main() -> None:
    """Prints a line a way, as a table."""
    benches = [Bench(circuit) for circuit in CIRCUITS.values()]
    print("| way | " + " | ".join(CIRCUITS) + " | limit moved, mmHg |")
    print("| --- " * (len(benches) + 2) + "|")
    for name, how in WAYS.items():
        found = [bench.judged(how) for bench in benches]
        cells = [f"{fewest:.0f}" for fewest, _ in found]
        print(f"| {name} | {' | '.join(cells)} | {max(moved for _, moved in found):.2f} |")


if __name__ == "__main__":
    main()
