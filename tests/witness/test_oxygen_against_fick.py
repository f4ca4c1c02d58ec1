"""Saturations against Fick's principle, worked out by hand.

Outside source: Fick's principle, uptake = flow x difference of content, with the balance of each
well-mixed place written out; content is bound and dissolved oxygen on the curve of Severinghaus,
whose half saturation in this blood is 20.6 mmHg. Tolerance 0.05 points: closed openings leak 1e-3
of the flow.
"""

from __future__ import annotations

import pytest
from scipy.optimize import brentq

from inseries.circuit.newborn import normal_newborn, parallel_newborn
from inseries.circuit.orbit import FINE, find_orbit
from inseries.circuit.readouts import read
from inseries.routes import with_atrial_defect

# The hand's numbers: 15 g/dL carrying 1.36 mL/g, a need of 24 mL/min, lungs at 98 %.
HAEMOGLOBIN, CARRIED, NEED, LUNGS = 15.0, 1.36, 24.0, 0.98
CONTENT = HAEMOGLOBIN * CARRIED / 100.0  # mL oxygen in a mL of full blood
DISSOLVED, HALF, ADULT_HALF = 3.135e-5, 20.57, 26.857  # mL/mL/mmHg; mmHg


def _pressure(saturation: float) -> float:
    def over(p: float) -> float:
        q = p * ADULT_HALF / HALF
        return 1.0 / (23400.0 / (q**3 + 150.0 * q) + 1.0) - saturation

    return brentq(over, 1e-3, 1e3)


def _content(saturation: float) -> float:
    return CONTENT * saturation + DISSOLVED * _pressure(saturation)


def _saturation(content: float) -> float:
    return brentq(lambda s: _content(s) - content, 0.01, 0.999)


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
    by_hand = 100.0 * _saturation(_content(LUNGS) - NEED / 60.0 / flow)
    assert seen.saturation_pct("AoU")[0] == pytest.approx(100.0 * LUNGS, abs=0.05)
    assert seen.saturation_pct("SV")[0] == pytest.approx(by_hand, abs=0.05)
    assert seen.saturation_pct("PA")[0] == pytest.approx(by_hand, abs=0.05)


def test_two_loops_in_parallel_against_fick() -> None:
    """With one exchange at the atria its flow carries the whole need: a balance of two places.

    Left blood crosses with flow f and content l into right blood of content r, which the aorta
    carries: the body's loop gains f (l - r), and that is the need.
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
    gap = NEED / 60.0 / into  # l - r
    left = (lungs * _content(LUNGS) - back * gap) / lungs
    right = left - gap
    assert seen.oxygen.need_met[0] == 1.0
    assert seen.saturation_pct("LA")[0] == pytest.approx(100.0 * _saturation(left), abs=0.05)
    assert seen.saturation_pct("AoU")[0] == pytest.approx(100.0 * _saturation(right), abs=0.05)
    assert seen.po2_mmhg("AoU")[0] == pytest.approx(_pressure(_saturation(right)), abs=0.05)
    poorest = _saturation(right - NEED / 60.0 / veins)
    assert seen.saturation_pct("SV")[0] == pytest.approx(100.0 * poorest, abs=0.05)


def test_each_bed_against_fick() -> None:
    """Blood leaving arms and legs lacks half the need over each one's own flow."""
    circuit = normal_newborn().with_blood(
        haemoglobin_g_dl=HAEMOGLOBIN,
        capacity_ml_g=CARRIED,
        consumption_ml_min=NEED,
        lung_saturation=LUNGS,
    )
    seen = read(find_orbit(circuit, settings=FINE))
    for bed, before in (("upper_body", "AoU"), ("lower_body", "AoD")):
        arriving = _content(0.01 * float(seen.saturation_pct(before)[0]))
        flow = float(seen.both_ways_ml_s(bed)[0][0])
        by_hand = 100.0 * _saturation(arriving - 0.5 * NEED / 60.0 / flow)
        assert seen.venous_pct(bed)[0] == pytest.approx(by_hand, abs=0.05)
