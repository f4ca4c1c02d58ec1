"""A leak after an atrial switch, against four adults with one.

Who: Heart 2016;102(Suppl 1):A14, abstract: four men of mean age 27 years with significant leaks
of the baffle; lung over body flow 1.5 to 3, lung artery pressure normal, the left ventricle
dilated, the right of nearly normal size. Grown hearts of another compliance: directions are asked,
and the size of the flow ratio is not.
"""

from __future__ import annotations

from functools import cache

import numpy as np
from rooms.circuit_samples import HELD
from rooms.topology_samples import mixing

from inseries.circuit.orbit import FINE, find_orbit
from inseries.circuit.readouts import Readings, read
from inseries.routes import atrial_switch


@cache
def _seen() -> Readings:
    leaks = np.array([0.0, 2.0, 4.0, 6.0])
    return read(find_orbit(atrial_switch(mixing(), leak_mm=leaks), HELD, settings=FINE))


def test_a_leak_goes_from_lungs_to_lungs() -> None:
    """Red blood crosses to the blue channel, and lung flow exceeds body flow the more for it."""
    seen = _seen()
    assert np.all(np.diff(seen.flow_ml_s("atrial_defect")) < 0.0)
    ratio = seen.lung_flow_ml_s / seen.systemic_flow_ml_s
    assert np.all(np.diff(ratio) > 0.0)
    assert ratio[-1] > 1.3


def test_the_left_ventricle_widens_and_the_right_does_not() -> None:
    """The ventricle before the lungs carries the leak; the body's is no larger than without."""
    seen = _seen()
    assert np.all(np.diff(seen.end_diastolic_ml("LV")) > 0.0)
    assert seen.end_diastolic_ml("RV")[-1] <= seen.end_diastolic_ml("RV")[0]


def test_lung_artery_pressure_stays_near_normal() -> None:
    """Lung artery mean pressure rises by less than 5 mmHg with the widest leak."""
    pressure = _seen().mean_mmhg("PA")
    assert pressure[-1] - pressure[0] < 5.0
