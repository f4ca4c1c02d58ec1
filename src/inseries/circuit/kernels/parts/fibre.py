"""A ventricle of one fibre: P = (σ/3) ln(1 + V_w/V), σ from stretch λ and activation e.

λ = ((V_w + 3V) U)^(1/3) with U = 1/(V_w + 3 V_0);
σ = S e clip((λ - 0.79)/(1.25 - 0.79), 0, 1) + s_0 (exp(k (λ - 1)) - 1), straight above λ = 1.30.

Slots: ``V_w`` (mL), ``U`` (1/mL), ``S``, ``s_0`` (mmHg), ``k``. Source: arts1991 for the relation
of pressure to stress; the limits of overlap are chosen.
"""

from __future__ import annotations

from numba import njit

from inseries.circuit.kernels.elementary import cube_root, exponential, logarithm
from inseries.circuit.kernels.lanes import INLINED, above, load

# derived: number of this law in a network
CODE = 2
SLOTS = ("V_w", "U", "S", "s_0", "k")

# chosen: no active force below this stretch, full force above the next; after a published
# length-tension form fitted so that an unloaded ventricle stops ejecting near 74 %
NO_FORCE_STRETCH = 0.79
FULL_FORCE_STRETCH = 1.25
# chosen: passive stress continues in a straight line above this stretch (stability)
LINEAR_STRETCH = 1.30
# chosen: a ventricle's volume is kept above this, mL, so that ln(1 + V_w/V) stays finite
LEAST_VOLUME = 0.05
# derived: slope of overlap over stretch
OVERLAP_SLOPE = 1.0 / (FULL_FORCE_STRETCH - NO_FORCE_STRETCH)


def slots(V_w, V_0, S, s_0, k):
    """Slots from wall volume, unloaded volume, stresses and exponent."""
    return V_w, 1.0 / (V_w + 3.0 * V_0), S, s_0, k


@njit(**INLINED)
def stretch(V, V_w, U):
    """Fibre stretch λ of a shell of wall volume V_w at cavity volume V."""
    return cube_root((V_w + 3.0 * V) * U)


@njit(**INLINED)
def overlap_of(lam):
    """Share of full force at a stretch, and its slope."""
    rise = (lam - NO_FORCE_STRETCH) * OVERLAP_SLOPE
    some = above(rise, 0.0, rise, 0.0)
    slope = above(rise, 0.0, OVERLAP_SLOPE, 0.0)
    return above(1.0, rise, some, 1.0), above(1.0, rise, slope, 0.0)


@njit(**INLINED)
def stress(lam, e, S, s_0, k):
    """Fibre stress σ (mmHg); ``(σ, dσ/dλ, dσ/dS, dσ/ds_0, dσ/dk)``."""
    overlap, overlap_slope = overlap_of(lam)
    bent = above(LINEAR_STRETCH, lam, lam, LINEAR_STRETCH) - 1.0
    beyond = lam - 1.0 - bent
    rise = exponential(k * bent)
    passive = (rise - 1.0) + k * rise * beyond
    sigma = S * e * overlap + s_0 * passive
    slope = S * e * overlap_slope + s_0 * k * rise
    by_k = s_0 * rise * (bent + beyond * (1.0 + k * bent))
    return sigma, slope, e * overlap, passive, by_k


@njit(**INLINED)
def bears(sigma, V, V_w):
    """Pressure P = (σ/3) ln(1 + V_w/V) that a wall of stress σ bears."""
    return sigma * thickness(V, V_w)


@njit(**INLINED)
def thickness(V, V_w):
    """A third of ln(1 + V_w/V): pressure over fibre stress."""
    return logarithm(V + V_w, V) * (1.0 / 3.0)


@njit(**INLINED)
def pressure(V, e, V_w, U, S, s_0, k):
    """Pressure (mmHg); ``(P, dP/dV, dP/dV_w, dP/dU, dP/dS, dP/ds_0, dP/dk)``."""
    v = above(V, LEAST_VOLUME, V, LEAST_VOLUME)
    outer = V_w + 3.0 * v
    lam = cube_root(outer * U)
    sigma, slope, by_S, by_s_0, by_k = stress(lam, e, S, s_0, k)
    G = thickness(v, V_w)
    per_volume = slope * G / (3.0 * lam * lam)
    thin = sigma / (3.0 * (v + V_w))
    by_V = above(V, LEAST_VOLUME, 3.0 * U * per_volume - thin * V_w / v, 0.0)
    return (
        sigma * G,
        by_V,
        U * per_volume + thin,
        outer * per_volume,
        by_S * G,
        by_s_0 * G,
        by_k * G,
    )


@njit(**INLINED)
def at(V, e, row, s, like):
    """The same with its slots from place s of a row."""
    return pressure(
        V,
        e,
        load(row, s, like),
        load(row, s + 1, like),
        load(row, s + 2, like),
        load(row, s + 3, like),
        load(row, s + 4, like),
    )


@njit(**INLINED)
def stress_at(V, e, row, s, like):
    """Fibre stress (mmHg) alone, its slots from place s of a row."""
    v = above(V, LEAST_VOLUME, V, LEAST_VOLUME)
    lam = stretch(v, load(row, s, like), load(row, s + 1, like))
    S, s_0, k = load(row, s + 2, like), load(row, s + 3, like), load(row, s + 4, like)
    return stress(lam, e, S, s_0, k)[0]
