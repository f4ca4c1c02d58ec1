"""Exponential, logarithm and cube root without a branch, so that lanes go abreast.

Polynomials are grouped in pairs: short chains of products, which a processor can overlap.
"""

from __future__ import annotations

from numba import njit

from inseries.circuit.kernels.lanes import (
    INLINED,
    WHOLE,
    exponent,
    mantissa,
    root,
    rough_per_cube_root,
    times_two_to,
)

# derived: ln 2 in two pieces, the first exact in few bits, and 1/ln 2
LN_2_HIGH, LN_2_LOW, PER_LN_2 = (
    0.693147180369123816490,
    1.90821492927058770002e-10,
    1.4426950408889634,
)
# derived: ln 2
LN_2 = 0.6931471805599453


@njit(**INLINED)
def exponential(x):
    """Number e^x within 3e-10 of itself, for |x| < 700."""
    shifted = x * PER_LN_2 + WHOLE
    n = shifted - WHOLE
    r = (x - n * LN_2_HIGH) - n * LN_2_LOW
    r2 = r * r
    low = (1.0 + r) + r2 * (0.5 + r * (1.0 / 6.0))
    middle = (1.0 / 24.0) + r * (1.0 / 120.0)
    high = ((1.0 / 720.0) + r * (1.0 / 5040.0)) + r2 * (1.0 / 40320.0)
    return times_two_to(low + r2 * r2 * (middle + r2 * high), shifted)


@njit(**INLINED)
def logarithm(a, b):
    """Natural logarithm of a/b for positive a and b, within 1e-11, by one division."""
    m, n = mantissa(a), mantissa(b)
    s = (m - n) / (m + n)
    z = s * s
    z2 = z * z
    z4 = z2 * z2
    low = (2.0 + z * (2.0 / 3.0)) + z2 * ((2.0 / 5.0) + z * (2.0 / 7.0))
    high = ((2.0 / 9.0) + z * (2.0 / 11.0)) + z2 * ((2.0 / 13.0) + z * (2.0 / 15.0))
    last = (2.0 / 17.0) + z * (2.0 / 19.0)
    return (exponent(a) - exponent(b)) * LN_2 + s * (low + z4 * (high + z4 * last))


@njit(**INLINED)
def arctangent(x):
    """Angle (rad) whose tangent is x, within 1e-11, by halving it three times."""
    t = x / (1.0 + root(1.0 + x * x))
    t = t / (1.0 + root(1.0 + t * t))
    t = t / (1.0 + root(1.0 + t * t))
    z = t * t
    low = 1.0 - z * (1.0 / 3.0)
    middle = (1.0 / 5.0) - z * (1.0 / 7.0)
    high = (1.0 / 9.0) - z * ((1.0 / 11.0) - z * (1.0 / 13.0))
    z2 = z * z
    return 8.0 * t * (low + z2 * (middle + z2 * high))


@njit(**INLINED)
def cube_root(x):
    """Cube root of a positive x, within 1e-13; one over it is approached without a division."""
    z = rough_per_cube_root(x)
    e = 1.0 - x * (z * z) * z
    z = z + z * e * ((1.0 / 3.0) + e * ((2.0 / 9.0) + e * (14.0 / 81.0)))
    e = 1.0 - x * (z * z) * z
    z = z + z * e * ((1.0 / 3.0) + e * (2.0 / 9.0))
    return x * (z * z)
