"""Draws weighed by what was measured after the operation."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from inseries.outlook.numbers import Floats


def rows_by(predicted: Floats, seen: Floats, sd: Floats) -> tuple[NDArray[np.int64], float]:
    """Draws taken again as often as they agree with readings.

    Parameters
    ----------
    predicted : array, shape (readings, n)
    seen, sd : arrays, shape (readings,), what was read and its error

    Returns
    -------
    rows, shape (n,), and how many draws effectively count
    """
    off = (predicted - seen[:, None]) / sd[:, None]
    log = -0.5 * (off**2).sum(axis=0)
    unscaled: Floats = np.exp(log - log.max())
    weight: Floats = unscaled / unscaled.sum()
    n = int(log.size)
    # evenly spaced points along the summed weights: no random number is needed
    places = (np.arange(n, dtype=np.float64) + 0.5) / n
    summed: Floats = np.cumsum(weight, dtype=np.float64)
    rows = np.minimum(np.searchsorted(summed, places), n - 1).astype(np.int64)
    return rows, float(1.0 / np.square(weight).sum())
