"""A leak of the valve before the aorta, against grades in adults and children.

Who: Zoghbi 2017, grades as carried by teaching pages: an opening of 0.1 cm² ends mild and one of
0.3 cm² begins severe, in adults (1.9 m² of body surface are taken). Am J Cardiol 2019, abstract, 27
children by magnetic resonance: severe is more than 33 % of what goes forwards, and then the
reversal in the descending aorta exceeds 38 % of its forward flow (specific, not sensitive).
Openings are carried to the newborn's surface, as areas of valves are.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from rooms.topology_samples import switched

from inseries.circuit.newborn import newborn_values, normal_newborn
from inseries.circuit.orbit import FINE, find_orbit
from inseries.circuit.readouts import Readings, read
from inseries.circuit.waveforms import waveforms
from inseries.desk.experiments.aortic_leak import leaked_share, openings_cm2
from inseries.routes import with_aortic_leak

SEVERE_SHARE = 0.33
# ΔP = 4 v² with v in m/s: cm/s for each root of mmHg
JET_CM_S = 50.0


@cache
def _seen(after_switch: bool) -> Readings:
    circuit = switched() if after_switch else normal_newborn()
    return read(
        find_orbit(with_aortic_leak(circuit, openings_cm2(newborn_values())), settings=FINE)
    )


@pytest.mark.parametrize("after_switch", [False, True])
def test_an_adults_severe_opening_is_a_childs_severe_leak(after_switch: bool) -> None:
    """Scaled to the newborn the severe opening leaks more than 33 %, the mild one much less."""
    shares = leaked_share(_seen(after_switch))
    assert shares[3] > SEVERE_SHARE
    assert shares[1] < 0.6 * SEVERE_SHARE


@pytest.mark.parametrize("after_switch", [False, True])
def test_signs_grow_with_the_leak(after_switch: bool) -> None:
    """Pulse pressure, reversal in the arch, ventricle and left atrium grow from grade to grade."""
    seen = _seen(after_switch)
    forwards, backwards = seen.both_ways_ml_s("arch")
    pulse = seen.systolic_mmhg("AoU") - seen.diastolic_mmhg("AoU")
    signs = (pulse, backwards / forwards, seen.end_diastolic_ml("LV"), seen.mean_mmhg("LA"))
    for sign in signs:
        assert np.all(np.diff(sign) > 0.0)
    assert np.all(np.diff(seen.diastolic_mmhg("AoU")) < 0.0)


def test_reversal_belongs_to_severe_leaks() -> None:
    """A reversal beyond 38 % is seen only where more than 33 % leak."""
    circuit = with_aortic_leak(normal_newborn(), np.linspace(0.005, 0.08, 16))
    seen = read(find_orbit(circuit, settings=FINE))
    forwards, backwards = seen.both_ways_ml_s("arch")
    marked = backwards / forwards > 0.38
    assert marked.any()
    assert np.all(leaked_share(seen)[marked] > SEVERE_SHARE)


def test_the_leak_is_a_jet_through_its_opening() -> None:
    """What leaks in a beat is the opening times the speed that the pressure drop gives, to 1 %.

    The valve's own small resistance takes what is missing.
    """
    opening = float(openings_cm2(newborn_values())[3])
    waves = waveforms(with_aortic_leak(normal_newborn(), opening))
    drop = waves.pressure_mmhg("AoU") - waves.pressure_mmhg("LV")
    jet = JET_CM_S * np.sqrt(np.maximum(drop, 0.0)) * opening
    leaked = -np.minimum(waves.flow_ml_s("lv_outlet"), 0.0)
    assert leaked.mean() == pytest.approx(jet.mean(), rel=0.01)
