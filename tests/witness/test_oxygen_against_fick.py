"""Saturations against Fick's principle, worked out by hand.

Outside source: Fick's principle, uptake = flow x difference of content, with the balance of each
well-mixed place written out. Tolerance 0.05 points: closed openings leak 1e-3 of the flow.
"""

from __future__ import annotations

import pytest

from inseries.circuit.newborn import normal_newborn, parallel_newborn
from inseries.circuit.orbit import FINE, find_orbit
from inseries.circuit.readouts import read
from inseries.routes import with_atrial_defect

# The hand's numbers: 15 g/dL carrying 1.36 mL/g, a need of 24 mL/min, lungs at 98 %.
HAEMOGLOBIN, CARRIED, NEED, LUNGS = 15.0, 1.36, 24.0, 0.98
CONTENT = HAEMOGLOBIN * CARRIED / 100.0  # mL oxygen in a mL of full blood


def test_two_loops_in_series_against_fick() -> None:
    """In health the veins lack the need over the flow; arteries hold what the lungs gave."""
    circuit = normal_newborn().with_blood(
        haemoglobin_g_dl=HAEMOGLOBIN,
        capacity_ml_g=CARRIED,
        consumption_ml_min=NEED,
        lung_saturation=LUNGS,
    )
    seen = read(find_orbit(circuit, settings=FINE))
    flow = float(seen.systemic_flow_ml_s[0])
    by_hand = 100.0 * (LUNGS - NEED / 60.0 / (flow * CONTENT))
    assert seen.saturation_pct("AoU")[0] == pytest.approx(100.0 * LUNGS, abs=0.05)
    assert seen.saturation_pct("SV")[0] == pytest.approx(by_hand, abs=0.05)
    assert seen.saturation_pct("PA")[0] == pytest.approx(by_hand, abs=0.05)


def test_two_loops_in_parallel_against_fick() -> None:
    """With one exchange at the atria its flow carries the whole need: a balance of two places.

    Left blood crosses with flow f and saturation l into right blood of saturation r, which the
    aorta carries: the body's loop gains f (l - r), and that is need / content.
    """
    circuit = with_atrial_defect(parallel_newborn(), 7.0).with_blood(
        haemoglobin_g_dl=HAEMOGLOBIN,
        capacity_ml_g=CARRIED,
        consumption_ml_min=NEED,
        lung_saturation=LUNGS,
    )
    circuit = circuit.with_edge("collaterals", resistance_mmhg_s_ml=1e7)
    seen = read(find_orbit(circuit, settings=FINE))
    forward, backward = (float(flow[0]) for flow in seen.both_ways_ml_s("atrial_defect"))
    eddy = float(seen.eddy_ml_s("atrial_defect")[0])
    lungs = float(seen.lung_flow_ml_s[0])
    veins = float(seen.both_ways_ml_s("body_veins")[0][0])
    into, back = forward + eddy, backward + eddy
    # Left atrium: lungs at 98 % and back at r make (lungs + back) l.
    # Right atrium: veins at v and into at l make (veins + into) r. `veins` is the flow towards the
    # heart, more than the body's own by what each contraction of the atrium throws back.
    gap = NEED / 60.0 / CONTENT / into  # l - r
    left = (lungs * LUNGS - back * gap) / lungs
    right = left - gap
    assert seen.oxygen.need_met[0] == 1.0
    assert 100.0 * left == pytest.approx(seen.saturation_pct("LA")[0], abs=0.05)
    assert 100.0 * right == pytest.approx(seen.saturation_pct("AoU")[0], abs=0.05)
    poorest = right - NEED / 60.0 / CONTENT / veins
    assert 100.0 * poorest == pytest.approx(seen.saturation_pct("SV")[0], abs=0.05)
