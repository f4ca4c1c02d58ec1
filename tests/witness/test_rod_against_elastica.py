"""The rod against closed forms of Euler's elastica.

Straight rod, quarter circle, and the clamped rod after buckling, whose end shortening and greatest
curvature are complete elliptic integrals (computed by scipy). Eight sine waves write a deeply
buckled shape to a few parts in a thousand, hence the tolerances.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import brentq
from scipy.special import ellipe, ellipk

from inseries.repair import solve_rods


def _rod(span: list[float], first: list[float], last: list[float], free: float):
    return solve_rods(
        span_mm=np.array([span]),
        first=np.array([first]),
        last=np.array([last]),
        free_mm=np.array([free]),
    )


def test_a_quarter_circle_is_its_own_least_curve() -> None:
    """Ends of a quarter circle of radius 2 mm are joined by that circle, bending 1/R."""
    rod = _rod([2.0, -2.0, 0.0], [1.0, 0.0, 0.0], [0.0, -1.0, 0.0], np.pi)
    assert rod.curvature_per_mm == pytest.approx(0.5, rel=1e-4)
    assert rod.bending_per_mm == pytest.approx(0.5 * 0.25 * np.pi, rel=1e-6)


def test_a_straight_rod_stays_straight() -> None:
    """Ends as far apart as the rod is long, in line, need no bending."""
    rod = _rod([3.0, 0.0, 0.0], [1.0, 0.0, 0.0], [1.0, 0.0, 0.0], 3.0)
    assert rod.curvature_per_mm == pytest.approx(0.0, abs=1e-5)


@pytest.mark.parametrize("shortened", [0.95, 0.8, 0.6, 0.4])
def test_a_clamped_rod_after_buckling(shortened: float) -> None:
    """Chord over length is 2E/K - 1 and the greatest curvature 8 sqrt(m) K / L."""
    length = 5.0
    m = brentq(lambda m: 2.0 * ellipe(m) / ellipk(m) - 1.0 - shortened, 1e-9, 0.9)
    greatest = 8.0 * np.sqrt(m) * ellipk(m) / length
    rod = _rod([shortened * length, 0.0, 0.0], [1.0, 0.0, 0.0], [1.0, 0.0, 0.0], length)
    assert rod.met.all()
    assert rod.curvature_per_mm == pytest.approx(greatest, rel=5e-3)


def test_a_stretched_rod_pulls_as_a_thin_tube() -> None:
    """A straight rod pulled longer takes the length of its ends, whatever its stiffness."""
    rod = solve_rods(
        span_mm=np.array([[4.4, 0.0, 0.0]]),
        first=np.array([[1.0, 0.0, 0.0]]),
        last=np.array([[1.0, 0.0, 0.0]]),
        free_mm=np.array([4.0]),
        radius_mm=np.array([0.6]),
    )
    assert rod.length_mm == pytest.approx(4.4, abs=1e-3)
