"""One beat of any network by the classical Runge-Kutta method, with its read-outs."""

from __future__ import annotations

import numpy as np
from numba import njit

from inseries.circuit.kernels.flow import edge_flow, inertial_rate
from inseries.circuit.kernels.layout import (
    ATRIUM,
    EDGE_SLOTS,
    SLOTS,
    VESSEL,
    Floats,
    Ints,
    Network,
    Work,
)
from inseries.circuit.kernels.muscle import (
    LEAST_VOLUME,
    atrial_pressure,
    fibre_stress,
    one_fibre_pressure,
    stretch,
)


@njit(cache=True, nogil=True)
def pressures(
    X: Floats,
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
            P[i] = X[i] * theta[j]
        elif kind[i] == ATRIUM:
            P[i] = atrial_pressure(X[i], e_a, theta[j], theta[j + 1], theta[j + 2])
        else:
            v = max(X[i], LEAST_VOLUME)
            lam[i] = stretch(v, theta[j], theta[j + 1])
            sigma[i] = fibre_stress(lam[i], e_v, theta[j + 2], theta[j + 3], theta[j + 4])
            P[i] = one_fibre_pressure(sigma[i], v, theta[j])


@njit(cache=True, nogil=True)
def rates(
    X: Floats,
    P: Floats,
    theta: Floats,
    start: Ints,
    end: Ints,
    valve: Ints,
    inertial: Ints,
    Q: Floats,
    dX: Floats,
) -> None:
    """Flow of every edge at the pressures P, and rate of change of the state."""
    n = start.size
    dX[:] = 0.0
    for e in range(n):
        a = int(start[e])
        b = int(end[e])
        dP = float(P[a] - P[b])
        if inertial[e] < 0:
            q = edge_flow(dP, theta[1 + e], theta[1 + n + e], valve[e])
        else:
            s = P.size + int(inertial[e])
            q = X[s]
            dX[s] = inertial_rate(dP, q, theta[1 + e], theta[1 + n + e], theta[1 + 2 * n + e])
        Q[e] = q
        dX[a] -= q
        dX[b] += q


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
    X: Floats, P: Floats, sigma: Floats, lam: Floats, weight: float, part: Floats
) -> None:
    """Adds one instant to the read-outs of the beat."""
    for i in range(P.size):
        row = part[i]
        row[0] += weight * P[i]
        row[1] = max(row[1], P[i])
        row[2] = min(row[2], P[i])
        row[3] = max(row[3], X[i])
        row[4] = min(row[4], X[i])
        row[5] += weight * sigma[i]
        row[6] = max(row[6], sigma[i])
        row[7] = max(row[7], lam[i])
        row[8] = min(row[8], lam[i])


@njit(cache=True, nogil=True)
def note_wave(X: Floats, P: Floats, Q: Floats, row: Floats) -> None:
    """Keeps volumes, pressures and flows of one instant."""
    parts = P.size
    row[:parts] = X[:parts]
    row[parts : 2 * parts] = P
    row[2 * parts :] = Q


@njit(cache=True, nogil=True)
def beat(X: Floats, theta: Floats, net: Network, work: Work) -> None:
    """Carries the state X through one period, in place, and fills the read-outs.

    Arrays are taken out of their records before the loop, and scratch is made here, so that the
    compiler sees that none overlap.
    """
    kind, start, end, valve, inertial = net.kind, net.start, net.end, net.valve, net.inertial
    act_v, act_a = net.act_v, net.act_a
    part, edge, wave = work.part, work.edge, work.wave
    size = X.size
    parts = kind.size
    P = np.empty(parts)
    Q = np.empty(start.size)
    sigma = np.zeros(parts)
    lam = np.zeros(parts)
    W = np.empty(size)
    k = np.empty((4, size))
    offset = 1 + EDGE_SLOTS * start.size
    steps = (act_v.size - 1) // 2
    dt = theta[0] / steps
    clear_readouts(part, edge)
    for s in range(steps):
        h = 2 * s
        pressures(X, theta, kind, offset, act_v[h], act_a[h], P, sigma, lam)
        rates(X, P, theta, start, end, valve, inertial, Q, k[0])
        note_readouts(X, P, sigma, lam, 1.0 / steps, part)
        note_flows(Q, 1.0 / (6.0 * steps), edge)
        if wave.shape[0] > 0:
            note_wave(X, P, Q, wave[s])
        for m in range(1, 4):
            stage = dt if m == 3 else 0.5 * dt
            half = h + 2 if m == 3 else h + 1
            for i in range(size):
                W[i] = X[i] + stage * k[m - 1, i]
            pressures(W, theta, kind, offset, act_v[half], act_a[half], P, sigma, lam)
            rates(W, P, theta, start, end, valve, inertial, Q, k[m])
            note_flows(Q, (1.0 if m == 3 else 2.0) / (6.0 * steps), edge)
        for i in range(size):
            X[i] += dt / 6.0 * (k[0, i] + 2.0 * k[1, i] + 2.0 * k[2, i] + k[3, i])
