"""Oxygen after a septostomy and after a duct closes, against a general solver.

Outside source: scipy's ``solve_ivp`` (LSODA, relative tolerance 1e-9) on the balance of each place
written out here, with uptake limited at every instant; and scipy's ``expm``. Tolerance 1e-6 of
content while all beds get what they need; where a bed becomes limited between two looks of ours,
1e-4.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.linalg import expm

from inseries.circuit.blood import carriage
from inseries.circuit.newborn import parallel_newborn
from inseries.circuit.orbit import FINE, Orbit, find_orbit
from inseries.circuit.oxygen import oxygen_balance
from inseries.circuit.oxygen_course import Phase, exponential, oxygen_course, part_volumes_ml
from inseries.routes import with_atrial_defect, with_duct

BLOOD_ML, MINUTES = 315.0, 4.0


@cache
def _orbit(defect_mm: float, duct_mm: float) -> Orbit:
    circuit = with_duct(with_atrial_defect(parallel_newborn(), defect_mm), duct_mm)
    return find_orbit(circuit, settings=FINE)


def _slope(orbit: Orbit, content: np.ndarray, volumes: np.ndarray) -> np.ndarray:
    """Content gained per second in each place, from the flows one by one."""
    circuit = orbit.circuit
    told, blood = oxygen_balance(orbit), carriage(circuit.blood, 1)
    least = float(blood.content_at(0.15)[0, 0])
    gained = np.zeros(len(circuit.parts))
    for i, edge in enumerate(circuit.edges):
        a, b = circuit.index(edge.start), circuit.index(edge.end)
        narrow = edge.restrictions[0].area_cm2 if edge.restrictions else 0.0
        forward, backward = orbit.edge_flows_ml_s[0, i] + float(edge.eddy_speed_cm_s) * narrow
        arriving = content[a]
        if edge.lungs:
            arriving = told.lung_content[0]
        elif edge.uptake_share:
            need = edge.uptake_share * float(circuit.blood.consumption_ml_min) / 60.0
            arriving = max(content[a] - need / forward, least)
        gained[b] += forward * (arriving - content[b])
        gained[a] += backward * (content[b] - content[a])
    return gained / volumes


@pytest.mark.parametrize(
    ("before", "after", "tolerance"),
    [((2.5, 1.8), (7.0, 1.8), 1e-6), ((7.0, 1.8), (1.0, 0.0), 1e-4)],
)
def test_course_against_solve_ivp(
    before: tuple[float, float], after: tuple[float, float], tolerance: float
) -> None:
    """A septum torn, and a duct closed behind a tight septum, go as the general solver says."""
    first, then = _orbit(*before), _orbit(*after)
    course = oxygen_course(first, [Phase(orbit=then, minutes=MINUTES)], BLOOD_ML, step_s=0.5)
    volumes = part_volumes_ml(then, BLOOD_ML)[0]
    assert volumes.sum() == pytest.approx(BLOOD_ML, rel=0.1)
    exact = solve_ivp(
        lambda _t, c: _slope(then, c, volumes),
        (0.0, 60.0 * MINUTES),
        oxygen_balance(first).content[0],
        method="LSODA",
        rtol=1e-9,
        atol=1e-11,
        t_eval=60.0 * course.minutes,
    )
    assert course.content[:, 0] == pytest.approx(exact.y.T, abs=tolerance)


def test_a_closing_duct_ends_in_want() -> None:
    """Behind a tight septum the duct's closing leaves the need unmet within a minute."""
    course = oxygen_course(
        _orbit(7.0, 1.8), [Phase(orbit=_orbit(1.0, 0.0), minutes=MINUTES)], BLOOD_ML
    )
    assert course.need_met[0, 0] == 1.0
    assert course.need_met[-1, 0] < 0.5
    assert course.minutes_to_half("AoU")[0] < 2.0


def test_exponential_against_scipy() -> None:
    """Exponentials of matrices small and large are those of scipy to 1e-12 of their size."""
    random = np.random.default_rng(1)
    for size in (0.1, 1.0, 10.0):
        matrices = size * random.normal(size=(4, 6, 6))
        theirs = np.array([expm(each) for each in matrices])
        ours = exponential(matrices)
        assert np.abs(ours - theirs).max() < 1e-12 * np.abs(theirs).max()
