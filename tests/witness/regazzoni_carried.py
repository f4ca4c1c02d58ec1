"""The published adult as the package ``circulation`` carries it, driven by an outside integrator.

Its own ``solve`` takes forward Euler steps of 1 ms; here its right-hand side is given to scipy's
adaptive integrators instead, so that what is compared is the model and not its steps.
"""

from __future__ import annotations

import logging
from contextlib import contextmanager
from typing import TYPE_CHECKING

import numpy as np
from scipy.integrate import solve_ivp
from witness.regazzoni_circuit import PERIOD_S, SIGNALS, STATES

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from circulation.regazzoni2020 import Regazzoni2020

    from inseries.circuit.network import Floats


class Carried:
    """Beats of the model as carried; ``sharp`` leaves its valves unblended.

    The package writes its parameters, and whatever it solves, into ``folder``.
    """

    def __init__(self, folder: Path, *, sharp: bool = False) -> None:
        from circulation.regazzoni2020 import Regazzoni2020

        with quiet():
            self.model = (_sharp_class() if sharp else Regazzoni2020)(outdir=folder)
        assert self.model.states_names == list(STATES)
        self.start: Floats = self.model.state.copy()
        self.evaluations = 0

    def __call__(self, time: float, state: Floats) -> Floats:
        """Rates of change of their twelve states."""
        self.evaluations += 1
        return np.array(self.model.rhs(time % PERIOD_S, state))

    def beat(
        self, state: Floats, tolerance: float, *, samples: int = 1, method: str = "LSODA"
    ) -> tuple[Floats, Floats]:
        """States at samples of one beat, shape (samples, 12), and the state at its end."""
        times = np.arange(samples + 1) * (PERIOD_S / samples)
        run = solve_ivp(
            self,
            (0.0, PERIOD_S),
            state,
            method=method,
            t_eval=times,
            rtol=tolerance,
            atol=tolerance,
            max_step=PERIOD_S / 50.0,
        )
        assert run.success
        return run.y.T[:-1], run.y.T[-1]

    def after(self, beats: int, tolerance: float, start: Floats | None = None) -> Floats:
        """State after some beats."""
        state = self.start if start is None else start
        for _ in range(beats):
            state = self.beat(state, tolerance)[1]
        return state

    def signals(self, states: Floats) -> Floats:
        """All signals of evenly sampled states of one beat, shape (samples, signals)."""
        times = np.arange(len(states)) * (PERIOD_S / len(states))
        others = [
            np.array(self.model.update_static_variables(time, state))
            for time, state in zip(times, states, strict=True)
        ]
        return np.hstack([states, np.array(others)[:, : len(SIGNALS) - len(STATES)]])


def _sharp_class() -> type[Regazzoni2020]:
    """Their class with two resistances a valve, which it blends over hundredths of a mmHg."""
    from circulation.regazzoni2020 import Regazzoni2020

    class Sharp(Regazzoni2020):
        def _R(self, Rmin: float, Rmax: float, **_units: float) -> object:  # noqa: N803 - theirs
            return lambda before, after: Rmin if before > after else Rmax

    return Sharp


@contextmanager
def quiet() -> Iterator[None]:
    """The package sets up the root logger for itself; this leaves it as it was."""
    root, theirs = logging.getLogger(), logging.getLogger("circulation")
    handlers, level = list(root.handlers), root.level
    theirs.setLevel(logging.WARNING)
    try:
        yield
    finally:
        root.handlers[:] = handlers
        root.setLevel(level)
