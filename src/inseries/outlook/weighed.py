"""Draws weighed by what was measured after the operation."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from inseries.outlook.numbers import Floats

# derived: multiples of the golden section fill the unit interval evenly
GOLDEN = (5.0**0.5 - 1.0) / 2.0


def rows_by(
    predicted: Floats, seen: Floats, sd: Floats, kept: int | None = None
) -> tuple[NDArray[np.int64], float]:
    """Draws taken again as often as they agree with readings.

    Parameters
    ----------
    predicted : array, shape (readings, n)
    seen, sd : arrays, shape (readings,), what was read and its error
    kept : how many to take; as many as there are when None

    Returns
    -------
    rows, shape (kept,), scattered so that the first few are like all, and how many draws count
    """
    off = (predicted - seen[:, None]) / sd[:, None]
    log = -0.5 * (off**2).sum(axis=0)
    unscaled: Floats = np.exp(log - log.max())
    weight: Floats = unscaled / unscaled.sum()
    n = int(log.size)
    taken = n if kept is None else kept
    # evenly spaced points along the summed weights: no random number is needed
    places = (np.arange(taken, dtype=np.float64) + 0.5) / taken
    summed: Floats = np.cumsum(weight, dtype=np.float64)
    rows = np.minimum(np.searchsorted(summed, places), n - 1).astype(np.int64)
    scattered = np.argsort((np.arange(taken) * GOLDEN) % 1.0)
    return rows[scattered], float(1.0 / np.square(weight).sum())
