"""What bypass leaves behind in a heart, and how that passes within days."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING, cast

import numpy as np

from inseries.base.numbers import read_rows
from inseries.routes import AfterBypass

if TYPE_CHECKING:
    from collections.abc import Mapping

    from inseries.prior.traits import Floats


@lru_cache(maxsize=1)
def unknowns() -> Mapping[str, tuple[float, float, bool]]:
    """Centre, spread and whether the spread is of the logarithm, by name."""
    rows = read_rows("inseries.prior", "operation.toml")
    return {
        name: (cast("float", row["value"]), cast("float", row["spread"]), row["spread_of"] == "log")
        for name, row in rows.items()
    }


def drawn(name: str, z: Floats) -> Floats:
    """One of the unknowns at standard normal draws."""
    centre, spread, log = unknowns()[name]
    return centre * np.exp(spread * z) if log else centre + spread * z


def usual_after_bypass() -> AfterBypass:
    """The heart just off bypass with every unknown at its middle."""
    return recovered(0.0, unknowns()["rate"][0])


def recovered(days: float, rate_per_min: float) -> AfterBypass:
    """The heart some days after bypass: what bypass left fades exponentially.

    Parameters
    ----------
    days : since the operation, not below 0
    rate_per_min : rate at that age without operation

    Returns
    -------
    AfterBypass with every unknown at its middle
    """
    left = math.exp(-days / unknowns()["recovery"][0])

    def faded(name: str) -> float:
        return 1.0 + left * (unknowns()[name][0] - 1.0)

    return AfterBypass(
        left_strength=faded("left_strength"),
        right_strength=faded("right_strength"),
        stiffness=faded("stiffness"),
        lung_resistance=faded("lung_resistance"),
        rate_per_min=rate_per_min + left * (unknowns()["rate"][0] - rate_per_min),
    )
