"""One beat of any network by the classical Runge-Kutta method, with its read-outs.

Layout of ``theta``, one row a member: period, edge resistances R, edge quadratic losses B,
then ``SLOTS`` numbers a part (vessel: 1/C; atrium: E_min, E_max, V_u; ventricle: V_w, V_0, S, s_0, k).
"""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

from inseries.circuit.kernels.flow import edge_flow
from inseries.circuit.kernels.muscle import (
    LEAST_VOLUME,
    atrial_pressure,
    fibre_stress,
    one_fibre_pressure,
    stretch,
)

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

# derived: numbers a part takes in theta (five of a ventricle)
SLOTS = 5
# derived: read-outs of a part: P mean, max, min; V max, min; σ mean, max; λ max, min
PART_READOUTS = 9
# derived: kinds of part as the network lays them out
VESSEL, ATRIUM, VENTRICLE = 0, 1, 2


@njit(cache=True, nogil=True)
def pressures(
    V: Floats,
    theta: Floats,
    kind: Ints,
    offset: int,
    e_v: float,
    e_a: float,
    P: Floats,
    sigma: Floats,
    lam: Floats,
) -> None:
    """Pressure of every part at its volume; stress and stretch of the ventricles."""
    for i in range(kind.size):
        j = offset + SLOTS * i
        if kind[i] == VESSEL:
            P[i] = V[i] * theta[j]
        elif kind[i] == ATRIUM:
            P[i] = atrial_pressure(V[i], e_a, theta[j], theta[j + 1], theta[j + 2])
        else:
            v = max(V[i], LEAST_VOLUME)
            lam[i] = stretch(v, theta[j], theta[j + 1])
            sigma[i] = fibre_stress(lam[i], e_v, theta[j + 2], theta[j + 3], theta[j + 4])
            P[i] = one_fibre_pressure(sigma[i], v, theta[j])


@njit(cache=True, nogil=True)
def rates(
    P: Floats, theta: Floats, start: Ints, end: Ints, valve: Ints, Q: Floats, dV: Floats
) -> None:
    """Flow of every edge and rate of change of every volume."""
    n = start.size
    dV[:] = 0.0
    for e in range(n):
        a = start[e]
        b = end[e]
        q = edge_flow(P[a] - P[b], theta[1 + e], theta[1 + n + e], valve[e])
        Q[e] = q
        dV[a] -= q
        dV[b] += q


@njit(cache=True, nogil=True)
def clear_readouts(part: Floats, edge: Floats) -> None:
    """Read-outs before the first step."""
    part[:, :] = 0.0
    part[:, 1] = -1e30
    part[:, 2] = 1e30
    part[:, 3] = -1e30
    part[:, 4] = 1e30
    part[:, 6] = -1e30
    part[:, 7] = -1e30
    part[:, 8] = 1e30
    edge[:, :] = 0.0


@njit(cache=True, nogil=True)
def note_flows(Q: Floats, weight: float, edge: Floats) -> None:
    """Adds one stage's flows, forwards and backwards apart; the weights are the step's own."""
    for e in range(Q.size):
        if Q[e] > 0.0:
            edge[e, 0] += weight * Q[e]
        else:
            edge[e, 1] -= weight * Q[e]


@njit(cache=True, nogil=True)
def note_readouts(
    V: Floats, P: Floats, sigma: Floats, lam: Floats, weight: float, part: Floats
) -> None:
    """Adds one instant to the read-outs of the beat."""
    for i in range(V.size):
        row = part[i]
        row[0] += weight * P[i]
        row[1] = max(row[1], P[i])
        row[2] = min(row[2], P[i])
        row[3] = max(row[3], V[i])
        row[4] = min(row[4], V[i])
        row[5] += weight * sigma[i]
        row[6] = max(row[6], sigma[i])
        row[7] = max(row[7], lam[i])
        row[8] = min(row[8], lam[i])


@njit(cache=True, nogil=True)
def beat(
    V: Floats,
    theta: Floats,
    kind: Ints,
    start: Ints,
    end: Ints,
    valve: Ints,
    act_v: Floats,
    act_a: Floats,
    part: Floats,
    edge: Floats,
    wave: Floats,
) -> None:
    """Carries the volumes V through one period, in place, and fills the read-outs.

    ``act_v`` and ``act_a`` hold the activation at every half step; ``wave``, when it has rows,
    takes the volumes, pressures and flows of every step.
    """
    parts = V.size
    edges = start.size
    offset = 1 + 2 * edges
    steps = (act_v.size - 1) // 2
    dt = theta[0] / steps
    P = np.empty(parts)
    Q = np.empty(edges)
    sigma = np.zeros(parts)
    lam = np.zeros(parts)
    W = np.empty(parts)
    k = np.empty((4, parts))
    clear_readouts(part, edge)
    for s in range(steps):
        h = 2 * s
        pressures(V, theta, kind, offset, act_v[h], act_a[h], P, sigma, lam)
        rates(P, theta, start, end, valve, Q, k[0])
        note_readouts(V, P, sigma, lam, 1.0 / steps, part)
        note_flows(Q, 1.0 / (6.0 * steps), edge)
        if wave.shape[0] > 0:
            wave[s, :parts] = V
            wave[s, parts : 2 * parts] = P
            wave[s, 2 * parts :] = Q
        for m in range(1, 4):
            part_step = dt if m == 3 else 0.5 * dt
            half = h + 2 if m == 3 else h + 1
            for i in range(parts):
                W[i] = V[i] + part_step * k[m - 1, i]
            pressures(W, theta, kind, offset, act_v[half], act_a[half], P, sigma, lam)
            rates(P, theta, start, end, valve, Q, k[m])
            note_flows(Q, (1.0 if m == 3 else 2.0) / (6.0 * steps), edge)
        for i in range(parts):
            V[i] += dt / 6.0 * (k[0, i] + 2.0 * k[1, i] + 2.0 * k[2, i] + k[3, i])
