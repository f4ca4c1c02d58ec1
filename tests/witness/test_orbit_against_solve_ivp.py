"""The orbit against scipy's adaptive integrator, against long plain running, and as steps shrink.

Outside source: LSODA of scipy at a relative tolerance of 1e-9, driven from Python over the same
right-hand side; it chooses its own steps and knows nothing of orbits.
Tolerance 0.1 mmHg: a catheter's line is read to 1 mmHg.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from rooms.circuit_samples import one_beat, smooth
from rooms.law_samples import every_law, state_of
from scipy.integrate import solve_ivp

from inseries.circuit.compiled import instant
from inseries.circuit.flat import activation_at, flatten
from inseries.circuit.network import Ventricle
from inseries.circuit.newborn import normal_newborn, parallel_newborn
from inseries.circuit.orbit import Orbit, Settings, find_orbit
from inseries.routes import with_atrial_defect, with_duct

if TYPE_CHECKING:
    from inseries.circuit.network import Circuit, Floats

CIRCUITS = {
    "normal": normal_newborn(),
    "parallel": with_atrial_defect(parallel_newborn(), 7.0),
    "parallel with duct": with_duct(with_atrial_defect(parallel_newborn(), 2.5), 3.0),
    "every law": every_law(),
}
BEATS = 6
SAMPLES = 400


class Outside:
    """The same right-hand side for an integrator from outside."""

    def __init__(self, circuit: Circuit) -> None:
        self.flat = flatten(circuit)
        self.row = self.flat.theta[0]
        self.period = float(self.row[0])
        sizes = (self.flat.parts.shape[0], self.flat.edges.shape[0], self.flat.states)
        self.P, self.Q, self.dX = (np.zeros(n) for n in sizes)

    def __call__(self, time: float, state: Floats) -> Floats:
        """Rates of change of the whole state."""
        share = np.array([(time / self.period) % 1.0])
        now = self.flat.at_shares(activation_at(self.flat.activations, share))
        instant(now, self.row, np.ascontiguousarray(state), self.P, self.Q, self.dX)
        return self.dX.copy()

    def pressures_at(self, time: float, state: Floats) -> Floats:
        """Pressure of every part."""
        self(time, state)
        return self.P

    def last_beat(self, start: Floats, beats: int) -> Floats:
        """Pressures over the last of some beats, shape (SAMPLES, parts)."""
        begin = (beats - 1) * self.period
        times = begin + np.arange(SAMPLES) * self.period / SAMPLES
        run = solve_ivp(
            self,
            (0.0, beats * self.period),
            start,
            method="LSODA",
            t_eval=times,
            rtol=1e-9,
            atol=1e-10,
            max_step=self.period / 50.0,
        )
        assert run.success
        return np.array(
            [self.pressures_at(t, x).copy() for t, x in zip(times, run.y.T, strict=True)]
        )


def _readouts(orbit: Orbit) -> Floats:
    """Mean, highest and lowest pressure of every part, shape (3, parts)."""
    return orbit.part_readouts[0, :, :3].T


@pytest.fixture(scope="module", params=CIRCUITS)
def outside(request: pytest.FixtureRequest) -> tuple[Circuit, Floats]:
    """A circuit, and its pressures after several beats of the outside integrator."""
    circuit = CIRCUITS[request.param]
    pressure = Outside(circuit).last_beat(np.array(state_of(circuit)), BEATS)
    return circuit, np.stack([pressure.mean(axis=0), pressure.max(axis=0), pressure.min(axis=0)])


@pytest.mark.parametrize("steps", [150, 300])
def test_orbit_against_an_adaptive_integrator(outside: tuple[Circuit, Floats], steps: int) -> None:
    """Mean, highest and lowest pressures agree within 0.1 mmHg at the steps that are in use.

    Left out is the lowest pressure of a ventricle, a corner cut by the valve that opens, which
    nobody reads and which lasts less than a step.
    """
    circuit, theirs = outside
    ours = _readouts(find_orbit(circuit, settings=Settings(steps=steps, tolerance_ml=1e-6)))
    off = np.abs(ours - theirs)
    vessels = [not isinstance(part, Ventricle) for part in circuit.parts]
    assert off[:2].max() <= 0.1
    assert off[2, vessels].max() <= 0.1


@pytest.mark.parametrize("name", ["normal", "parallel", "every law"])
def test_newton_orbit_equals_a_long_plain_run(name: str) -> None:
    """Newton's orbit is where plain beats, one after another, come to rest.

    Plain beats are stopped at a change of 1e-7 mL; at a factor of about 0.9 a beat that leaves
    1e-6 mL, and 2e-5 mmHg in the stiffest artery.
    """
    newton = find_orbit(CIRCUITS[name], settings=Settings(steps=200, tolerance_ml=1e-8))
    plain = find_orbit(
        CIRCUITS[name],
        settings=Settings(steps=200, tolerance_ml=1e-7, most_beats=2000, warm_beats=2000),
    )
    assert plain.beats[0] < 2000
    assert np.abs(_readouts(newton) - _readouts(plain)).max() < 1e-3


def test_order_of_convergence_against_two() -> None:
    """On a smooth network the error of a beat falls with the second power of the step.

    Heun's method has order 2 by its derivation; the activation's joints lie on steps at 200, 400
    and 800 steps. A hundredth in the exponent is what the next order leaves at these steps.
    """
    start = [6.0, 4.0, 10.0]
    best = one_beat(smooth(), start, steps=25600)[2]
    error = {
        steps: np.abs(one_beat(smooth(), start, steps=steps)[2] - best).max()
        for steps in (200, 400, 800)
    }
    orders = [np.log2(error[n] / error[2 * n]) for n in (200, 400)]
    assert orders == pytest.approx([2.0, 2.0], abs=0.01)
