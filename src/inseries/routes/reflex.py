"""The newborn's answer to a lack of arterial pressure, as ``Regulation(reflex=...)`` takes it."""

from __future__ import annotations

from inseries.circuit.orbit import Reflex
from inseries.routes.additions import addition_values


def newborn_reflex() -> Reflex:
    """Gain and reach of the newborn's reflex on vessels, rate, strength and veins.

    Returns
    -------
    Reflex

    Holds at the slow scale of beats that repeat: within seconds to a minute of the change, and
    before hormones and kidneys act.
    """
    numbers = addition_values()
    return Reflex(
        gain=numbers["reflex_gain"],
        rate=numbers["reflex_rate"],
        strength=numbers["reflex_strength"],
        volume=numbers["reflex_volume"],
    )
