"""One beat from a state that is given, whether or not it repeats."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from inseries.circuit.compiled import new_crew, single_beat
from inseries.circuit.flat import flatten

if TYPE_CHECKING:
    from collections.abc import Sequence

    from inseries.circuit.network import Circuit, Floats


def beat_from(
    circuit: Circuit, state: Sequence[float], *, steps: int
) -> tuple[Floats, Floats, Floats]:
    """One beat of the first member, nothing regulated.

    Parameters
    ----------
    circuit : Circuit
    state : volumes in mL, then inertial flows in mL/s, then the septum's shift in mL where it has
        one
    steps : of the beat

    Returns
    -------
    time in s, shape (steps,); volumes, pressures and flows side by side, shape (steps, 2 parts +
    edges), at the start of every step; state at the end
    """
    flat = flatten(circuit)
    network, row = flat.network(steps), flat.theta[0]
    ways, parts = len(circuit.edges), len(circuit.parts)
    end = np.array(state, dtype=np.float64)
    volumes, pressures, flows = (np.empty(steps * n) for n in (end.size, parts, ways))
    crew = new_crew(network, row.size, flat.unknowns, 0.0)
    single_beat(network, row, end, volumes, pressures, flows, np.empty(2 * ways), crew.pool)
    states, *others = (kept.reshape(steps, -1) for kept in (volumes, pressures, flows))
    wave = np.hstack([states[:, :parts], *others])
    return np.arange(steps) * row[0] / steps, wave, end
