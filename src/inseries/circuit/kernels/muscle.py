"""Pressure of a chamber from its volume and its activation."""

from __future__ import annotations

import math

from numba import njit

# chosen: no active force below this stretch, full force above the next; after a published
# length-tension form fitted so that an unloaded ventricle stops ejecting near 74 %
NO_FORCE_STRETCH = 0.79
FULL_FORCE_STRETCH = 1.25
# chosen: passive stress continues in a straight line above this stretch (stability)
LINEAR_STRETCH = 1.30
# chosen: a ventricle's volume is kept above this, mL, so that ln(1 + V_w/V) stays finite
LEAST_VOLUME = 0.05


@njit(cache=True, nogil=True)
def stretch(V: float, V_w: float, V_0: float) -> float:
    """Fibre stretch λ of a shell of wall volume V_w at cavity volume V, unloaded at V_0."""
    return ((V_w + 3.0 * V) / (V_w + 3.0 * V_0)) ** (1.0 / 3.0)


@njit(cache=True, nogil=True)
def fibre_stress(lam: float, e: float, S: float, s_0: float, k: float) -> float:
    """Fibre stress σ (mmHg) at stretch λ and activation e: active part plus passive part."""
    overlap = (lam - NO_FORCE_STRETCH) / (FULL_FORCE_STRETCH - NO_FORCE_STRETCH)
    overlap = min(max(overlap, 0.0), 1.0)
    bent = min(lam, LINEAR_STRETCH)
    rise = math.exp(k * (bent - 1.0))
    passive = s_0 * (rise - 1.0) + s_0 * k * rise * (lam - bent)
    return S * e * overlap + passive


@njit(cache=True, nogil=True)
def one_fibre_pressure(sigma: float, V: float, V_w: float) -> float:
    """Cavity pressure P = (σ/3) ln(1 + V_w/V) of the one-fibre relation (arts1991)."""
    return sigma / 3.0 * math.log1p(V_w / V)


@njit(cache=True, nogil=True)
def atrial_pressure(V: float, e: float, E_min: float, E_max: float, V_u: float) -> float:
    """Atrial pressure P = (E_min + (E_max - E_min) e)(V - V_u)."""
    return (E_min + (E_max - E_min) * e) * (V - V_u)
