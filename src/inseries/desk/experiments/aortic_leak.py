"""A leak of the valve before the aorta, graded by openings carried from adults by body surface."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from inseries.circuit.newborn import normal_newborn
from inseries.circuit.orbit import FINE, find_orbit
from inseries.circuit.readouts import read
from inseries.prior.constants import Constants
from inseries.routes import with_aortic_leak

if TYPE_CHECKING:
    from collections.abc import Mapping

    from inseries.circuit.network import Floats
    from inseries.circuit.readouts import Readings

# chosen: body surface of an adult, m2
ADULT_M2 = 1.9
# published: zoghbi2017, 0.1 cm2 ends mild and 0.3 begins severe in adults
ADULT_CM2 = (0.0, 0.1, 0.2, 0.3)


def aortic_leak(constants: Constants | None = None) -> dict[str, float]:
    """What leaks back of what goes forwards, with a mild and with a severe opening.

    Parameters
    ----------
    constants : numbers under trial; the packaged ones when not given

    Returns
    -------
    dict of str to float, %
    """
    values = (constants or Constants()).newborn
    leaking = with_aortic_leak(normal_newborn(values), openings_cm2(values))
    shares = 100.0 * leaked_share(read(find_orbit(leaking, settings=FINE)))
    return {"mild_share_pct": float(shares[1]), "severe_share_pct": float(shares[3])}


def openings_cm2(newborn: Mapping[str, float]) -> Floats:
    """The adults' openings carried to a newborn's body surface, cm², shape (4,)."""
    return np.array(ADULT_CM2) * newborn["body_surface"] / ADULT_M2


def leaked_share(readings: Readings) -> Floats:
    """Flow back over flow forwards through the left ventricle's valve, shape (n,)."""
    forwards, backwards = readings.both_ways_ml_s("lv_outlet")
    return backwards / forwards
