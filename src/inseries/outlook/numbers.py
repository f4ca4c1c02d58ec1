"""The numbers of the outlook, by name, and their draws."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, cast

import numpy as np

from inseries.base.numbers import read_rows

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


@cache
def _table() -> dict[str, dict[str, object]]:
    return read_rows("inseries.outlook", "outlook.toml")


def number(name: str) -> float:
    """The value of a row, in the row's unit."""
    return float(cast("float", _table()[name]["value"]))


@cache
def drawn_names() -> tuple[str, ...]:
    """Rows that have a spread, in the order of the table: the columns of a matrix of draws."""
    return tuple(name for name, row in _table().items() if "spread" in row)


def draw(name: str, z: Floats) -> Floats:
    """A row at standard normal draws.

    Parameters
    ----------
    name : str, a row with a spread
    z : array, standard normal

    Returns
    -------
    array of the shape of ``z``, in the row's unit
    """
    row = _table()[name]
    middle, spread = number(name), float(cast("float", row["spread"]))
    if row["spread_of"] == "log":
        return middle * np.exp(spread * z)
    if row["spread_of"] == "logit":
        return logistic(middle, spread, z)
    return middle + spread * z


def logistic(middle: float, spread: float, z: Floats) -> Floats:
    """A share between 0 and 1 whose logit is normal about that of ``middle``."""
    return 1.0 / (1.0 + np.exp(-(np.log(middle / (1.0 - middle)) + spread * z)))
