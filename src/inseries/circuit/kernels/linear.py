"""A small dense inverse, so that kernels need no outside linear algebra."""

from __future__ import annotations

from typing import TYPE_CHECKING

from numba import njit

from inseries.circuit.kernels.lanes import COMPILED

if TYPE_CHECKING:
    from inseries.circuit.kernels.layout import Floats

# chosen: a pivot below this makes the matrix singular for our purpose (entries are of order 1)
LEAST_PIVOT = 1e-12


@njit(**COMPILED)
def invert(A: Floats, inverse: Floats) -> bool:
    """Inverse of A by Gauss-Jordan with row pivoting; False when A is singular. A is spoilt."""
    n = A.shape[0]
    for i in range(n):
        for j in range(n):
            inverse[i, j] = 1.0 if i == j else 0.0
    for c in range(n):
        p = c
        for r in range(c + 1, n):
            if abs(A[r, c]) > abs(A[p, c]):
                p = r
        if not abs(A[p, c]) > LEAST_PIVOT:
            return False
        for j in range(n):
            A[c, j], A[p, j] = A[p, j], A[c, j]
            inverse[c, j], inverse[p, j] = inverse[p, j], inverse[c, j]
        _clear_column(A, inverse, c)
    return True


@njit(**COMPILED)
def _clear_column(A: Floats, inverse: Floats, c: int) -> None:
    n = A.shape[0]
    scale = 1.0 / A[c, c]
    for j in range(n):
        A[c, j] *= scale
        inverse[c, j] *= scale
    for r in range(n):
        if r != c:
            factor = A[r, c]
            for j in range(n):
                A[r, j] -= factor * A[c, j]
                inverse[r, j] -= factor * inverse[c, j]
