"""The map from beat to beat of one member or of eight abreast: unknowns in, unknowns out.

Unknowns y of a member: the state without the last part's volume, then total volume, tone and, where
a bed has a resistance of its own, ln of its factor. A ``crew`` is the room that a group works in.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from numba import njit

from inseries.circuit.kernels.lanes import COMPILED, WIDTH, width
from inseries.circuit.kernels.layout import (
    AS,
    BED_FLOW,
    BODY_FLOW,
    ON_RATE,
    ON_RESISTANCE,
    ON_STRENGTH,
    ON_VOLUME,
    SEEN,
    SLOT,
    Floats,
    Ints,
    groups,
    spot,
)
from inseries.circuit.kernels.regulate import regulate, regulate_slopes


class Crew(NamedTuple):
    """What a team of members works in: flat arrays of numbers, then plain floats and integers."""

    row: Floats  # theta as regulated
    X: Floats
    seen: Floats
    TX: Floats
    dtheta: Floats
    Tseen: Floats
    pool: Floats
    Tpool: Floats
    waves: Floats
    g: Floats  # shape (count, n)
    J: Floats  # shape (count, n, n)
    small: Floats  # shape (2 + SEEN, n)
    team: Ints  # which member sits in which lane
    drifts: Ints  # slots that tangents follow, of every part and edge, then of septum and sac
    given: Floats  # changes of theta that a caller adds to ``dtheta``


@njit(**COMPILED)
def beds(net):
    """How many beds (0 or 1) have a resistance of their own."""
    for e in range(net.edges.shape[0]):
        if net.edges[e, AS] == BED_FLOW:
            return 1
    return 0


@njit(**COMPILED)
def seat(net, theta, y, reg, crew, lane, like):
    """Puts a member into a lane: its numbers as regulated, its state from its unknowns."""
    W = width(like)
    parts, edges, fibres = net.parts, net.edges, net.fibres
    row, X = crew.row, crew.X
    count, size = parts.shape[0], X.size // W
    tone = y[size]
    for s in range(theta.size):
        row[s * W + lane] = theta[s]
    row[lane] *= math.exp(-reg[ON_RATE] * tone)
    body = math.exp(-reg[ON_RESISTANCE] * tone)
    for e in range(edges.shape[0]):
        if edges[e, AS] == BODY_FLOW:
            row[edges[e, SLOT] * W + lane] *= body
        elif edges[e, AS] == BED_FLOW:
            row[edges[e, SLOT] * W + lane] *= math.exp(-y[size + 1])
    strength = math.exp(reg[ON_STRENGTH] * tone)
    for j in range(fibres.size):
        row[fibres[j] * W + lane] *= strength
    rest = y[size - 1] * (1.0 + reg[ON_VOLUME] * tone)
    for i in range(count - 1):
        X[i * W + lane] = y[i]
        rest -= y[i]
    X[(count - 1) * W + lane] = rest
    for i in range(count, size):
        X[i * W + lane] = y[i - 1]


@njit(**COMPILED)
def rise_from(net, y, reg, crew, lane, g, like):
    """Takes a member's unknowns out of its lane after the beat, regulated."""
    W = width(like)
    X, count = crew.X, net.parts.shape[0]
    size = X.size // W
    for i in range(count - 1):
        g[i] = X[i * W + lane]
    for i in range(count, size):
        g[i - 1] = X[i * W + lane]
    regulate(y, reg, crew.seen[lane::W], size - 1, beds(net), g)


@njit(**COMPILED)
def column_of(j, size, like):
    """Tangent column of unknown j: what is regulated begins a new group of lanes."""
    starts = groups(size - 1, like) * (WIDTH if width(like) == 1 else 1)
    return j if j < size - 1 else starts + j - (size - 1)


@njit(**COMPILED)
def seed(net, y, reg, crew, params, lane, like):
    """Tangents of a lane before the beat: one column an unknown, those with tone and own last."""
    W = width(like)
    row, TX, dtheta = crew.row, crew.TX, crew.dtheta
    edges, fibres, count = net.edges, net.fibres, net.parts.shape[0]
    size, numbers = crew.X.size // W, groups(params, like)
    wide, last = groups(size - 1, like) + numbers, count - 1
    for j in range(size - 1):
        i = j if j < last else j + 1
        TX[spot(i, j, lane, wide, like)] = 1.0
        if j < last:
            TX[spot(last, j, lane, wide, like)] = -1.0
    after = column_of(size - 1, size, like)
    tone, total = y[size], y[size - 1]
    TX[spot(last, after, lane, wide, like)] = 1.0 + reg[ON_VOLUME] * tone
    TX[spot(last, after + 1, lane, wide, like)] = total * reg[ON_VOLUME]
    dtheta[spot(0, 1, lane, numbers, like)] = -reg[ON_RATE] * row[lane]
    for e in range(edges.shape[0]):
        s = edges[e, SLOT]
        if edges[e, AS] == BODY_FLOW:
            dtheta[spot(s, 1, lane, numbers, like)] = -reg[ON_RESISTANCE] * row[s * W + lane]
        elif edges[e, AS] == BED_FLOW:
            dtheta[spot(s, 2, lane, numbers, like)] = -row[s * W + lane]
    for j in range(fibres.size):
        s = fibres[j]
        dtheta[spot(s, 1, lane, numbers, like)] = reg[ON_STRENGTH] * row[s * W + lane]


@njit(**COMPILED)
def slopes_of(net, y, reg, crew, params, lane, J, like):
    """Jacobian of g(y) - y of one lane after a beat with tangents."""
    W = width(like)
    TX, Tseen, count, n = crew.TX, crew.Tseen, net.parts.shape[0], y.size
    size = crew.X.size // W
    wide = groups(size - 1, like) + groups(params, like)
    slopes = crew.small[2:]
    for j in range(n):
        c = column_of(j, size, like)
        for i in range(count - 1):
            J[i, j] = TX[spot(i, c, lane, wide, like)]
        for i in range(count, size):
            J[i - 1, j] = TX[spot(i, c, lane, wide, like)]
        for i in range(SEEN):
            slopes[i, j] = Tseen[spot(i, c, lane, wide, like)]
    regulate_slopes(y, reg, crew.seen[lane::W], size - 1, beds(net), slopes, J)
    for j in range(n):
        J[j, j] -= 1.0


@njit(**COMPILED)
def seat_team(net, theta, y, reg, crew, count, like):
    """Puts the first ``count`` of the crew's team into its lanes; the last one fills the rest."""
    for lane in range(width(like)):
        m = crew.team[min(lane, count - 1)]
        seat(net, theta[m], y[m], reg[m], crew, lane, like)


@njit(**COMPILED)
def seed_team(net, y, reg, crew, params, like):
    """Tangents of the whole team before the beat, after ``seat_team``."""
    crew.TX[:] = 0.0
    crew.dtheta[:] = 0.0
    for lane in range(width(like)):
        m = crew.team[min(lane, crew.team.size - 1)]
        seed(net, y[m], reg[m], crew, params, lane, like)


@njit(**COMPILED)
def rise_team(net, y, reg, crew, count, like):
    """The team's unknowns after the beat, into the rows of ``g``."""
    for lane in range(count):
        m = crew.team[lane]
        rise_from(net, y[m], reg[m], crew, lane, crew.g[lane], like)


@njit(**COMPILED)
def slopes_of_team(net, y, reg, crew, params, count, like):
    """The team's Jacobians of g(y) - y after a beat with tangents, into ``J``."""
    for lane in range(count):
        m = crew.team[lane]
        slopes_of(net, y[m], reg[m], crew, params, lane, crew.J[lane], like)
