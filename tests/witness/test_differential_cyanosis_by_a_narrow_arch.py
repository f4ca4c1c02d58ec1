"""Legs redder than arms, by its second mechanism: a narrow arch before the duct.

Outside source: the chapter "Don't ignore reverse differential cyanosis" of Practical Pediatric
Cardiology (doi 10.1007/978-1-4471-4183-9_21, abstract), one newborn with the lung artery over the
left ventricle's stream and a coarctation, legs redder than arms; saturations not shown. No series
with sizes was found, so only directions are asked. The first mechanism is in
``test_differential_cyanosis_against_ajprep2019``. The one published size, 40 % against 90 % (AJP
Rep 2019;9:e235, one baby, whose arch was not said to be narrow), is tried within 15 points, as it
is there, to show which mechanism can reach it; it is no proof of what that baby had.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from rooms.circuit_samples import HELD

from inseries.circuit.newborn import normal_newborn, parallel_newborn
from inseries.circuit.orbit import FINE, find_orbit
from inseries.circuit.readouts import Readings, read
from inseries.routes import with_atrial_defect, with_coarctation, with_duct

ARCH_MM = (4.0, 3.0, 2.0, 1.5, 1.0, 0.0)


@cache
def _seen(lungs: float = 1.0, duct_mm: float = 5.0) -> Readings:
    """One member for each width of the arch."""
    circuit = with_duct(with_atrial_defect(parallel_newborn(), 3.0), duct_mm)
    resistance = circuit.edge("lungs").resistance_mmhg_s_ml
    circuit = circuit.with_edge("lungs", resistance_mmhg_s_ml=lungs * resistance)
    return read(find_orbit(with_coarctation(circuit, np.array(ARCH_MM)), HELD, settings=FINE))


def _legs_minus_arms(seen: Readings) -> np.ndarray:
    return seen.saturation_pct("AoD") - seen.saturation_pct("AoU")


def test_the_narrower_the_arch_the_redder_the_legs() -> None:
    """With usual lungs the difference grows with every step of narrowing."""
    difference = _legs_minus_arms(_seen())
    assert np.all(np.diff(difference) > 0.0)
    assert difference[-1] > difference[0] + 20.0


def test_the_duct_turns_to_the_legs() -> None:
    """Net flow of the duct goes to the lungs while the arch is wide, and to the legs beyond."""
    duct = _seen().flow_ml_s("duct")
    assert duct[0] > 0.0 > duct[-1]
    assert np.all(np.diff(duct) < 0.0)


def test_behind_an_interrupted_arch_legs_have_the_blood_of_the_lung_artery() -> None:
    """Without an arch the legs get nothing but what the duct brings from the lung artery."""
    seen = _seen()
    assert seen.saturation_pct("AoD")[-1] == pytest.approx(seen.saturation_pct("PA")[-1], abs=0.5)


def test_it_does_not_ask_for_tight_lungs() -> None:
    """The arch does it with usual lungs, whose artery stays below the aorta in pressure."""
    assert _legs_minus_arms(_seen())[3] > 15.0
    assert _seen().mean_mmhg("PA")[3] < _seen().mean_mmhg("AoU")[3]


def test_in_a_normal_heart_the_same_arch_makes_legs_bluer() -> None:
    """With great arteries in place the duct brings blue blood: the difference turns round."""
    circuit = with_coarctation(with_duct(normal_newborn(), 4.0), 1.5)
    seen = read(find_orbit(circuit, HELD, settings=FINE))
    assert _legs_minus_arms(seen)[0] < -3.0


def test_both_mechanisms_act_on_one_duct() -> None:
    """While the arch is wide, tight lungs turn the same duct; together they turn it further."""
    usual, tight = _seen(), _seen(lungs=3.0)
    assert np.all(tight.flow_ml_s("duct")[:-1] < usual.flow_ml_s("duct")[:-1])
    assert tight.flow_ml_s("duct")[0] < 0.0 < usual.flow_ml_s("duct")[0]


def test_the_published_size_is_reached_by_the_arch() -> None:
    """Arms near 40 and legs near 90 %, each within 15 points: with the arch interrupted only."""
    seen = _seen()
    near = (np.abs(seen.saturation_pct("AoU") - 40.0) <= 15.0) & (
        np.abs(seen.saturation_pct("AoD") - 90.0) <= 15.0
    )
    assert near[-1]
    assert not near[:3].any()
