"""A graft that keeps its diameter, against a hand calculation from Bernoulli and normal output.

Who: output 3.5 L/min/m2 (Alverson 1987), body surface by WHO's weight and length and Haycock's
formula, a half sine of ejection over 35 % of the beat (a textbook share), density 1.06 g/mL, and
Bernoulli. None of it is read from the outlook, whose law is 1 m/s in a trunk of usual size.
Tolerance 30 % of a gradient: 15 % of velocity, by which resting output differs between children.
The worked values of the growth law are arithmetic and hold to their printed digits.
"""

from __future__ import annotations

from math import pi

import numpy as np
import pytest

from inseries.norms.body import body_at
from inseries.norms.zscores import echo_z
from inseries.outlook import gradient_mmhg

OUTPUT_L_MIN_M2, EJECTION_SHARE, DENSITY = 3.5, 0.35, 1.06
DYN_PER_MMHG = 1333.22


def _by_hand_mmhg(surface_m2: float, diameter_mm: float) -> float:
    """Peak of a half sine through a round hole, all its kinetic energy lost."""
    mean_ml_s = OUTPUT_L_MIN_M2 * surface_m2 * 1000.0 / 60.0
    peak_ml_s = mean_ml_s * (pi / 2.0) / EJECTION_SHARE
    velocity = peak_ml_s / (pi * (diameter_mm / 10.0) ** 2 / 4.0)
    return 0.5 * DENSITY * velocity**2 / DYN_PER_MMHG


@pytest.mark.parametrize("years", [0.5, 1.0, 5.0, 10.0, 18.0])
@pytest.mark.parametrize("graft_mm", [9.0, 12.0])
def test_a_fixed_graft_by_age(years: float, graft_mm: float) -> None:
    """The edge law and the hand agree on the gradient of a graft that does not grow."""
    surface = body_at("male", years).surface_m2
    usual = echo_z("pulmonary_trunk_mm", 1.0, surface).expected
    ours = float(gradient_mmhg(np.array(1.0), np.array(graft_mm / usual)))
    assert ours == pytest.approx(_by_hand_mmhg(surface, graft_mm), rel=0.30)


@pytest.mark.parametrize(
    ("share", "surface_m2", "printed"), [(2 / 3, 1.85, 39.0), (0.4, 1.85, 13.0), (1.0, 0.75, 45.0)]
)
def test_worked_values_of_the_growth_law(share: float, surface_m2: float, printed: float) -> None:
    """An inert share of a ring from 0.224 m2, worked by hand with one velocity: 39, 13, 45 mmHg."""
    g = (surface_m2 / 0.224) ** 0.5
    ratio = ((1.0 - share) * g + share) / g
    ours = float(gradient_mmhg(np.array(1.0), np.array(ratio)))
    assert ours == pytest.approx(printed, abs=1.0)


def test_the_whole_circuit_agrees_with_the_hand() -> None:
    """A ring that cannot grow, at five years: the circuit's drop is that of the hand calculation.

    Tolerance 30 %: the circuit beats with its own output and ejection, and its valve adds a little.
    """
    from inseries.outlook import frame_of, site_courses, start_of, tensions, ventricle_at
    from inseries.prior.traits import middle

    frame = frame_of("male", z=0.0, operation_days=8.0, draws=1, seed=1, digest="x").middle()
    start = start_of(frame, relation_deg=30.0, patch_share=1.0, gap_mm=0.0)
    inert = site_courses(frame, start, tensions(frame, start))[-1:]
    place = frame.at(5.0)
    hand = _by_hand_mmhg(float(frame.surface_m2[place]), float(inert[0].site_mm[place, 0]))
    drop = float(ventricle_at(frame, inert, (5.0,), middle())[0][0].outflow_mmhg[0])
    assert drop == pytest.approx(hand, rel=0.30)
