"""The one-fibre relation against the mechanics of a sphere, thick and thin.

Outside source: balance of a spherical wall, dσ_r/dr = 2 (σ_t - σ_r)/r, and Laplace's law of a thin
sphere, σ = P r/(2 h) in each of the two directions of the wall. Fibres that run evenly in all
directions of the wall share their stress between the two, so that a fibre bears their sum.
"""

from __future__ import annotations

from math import pi

import pytest
from scipy.integrate import quad

from inseries.circuit.kernels.parts import fibre


def _ball(radius: float) -> float:
    return 4.0 / 3.0 * pi * radius**3


@pytest.mark.parametrize("share", [0.01, 0.3, 1.0, 3.0])
def test_one_fibre_against_thick_sphere(share: float) -> None:
    """Through a wall of any thickness the balance, integrated, gives the same pressure.

    σ_t - σ_r = σ/2 for such fibres, so P = ∫ σ/r dr from inside to outside. Tolerance: that of
    the integration, 1e-9.
    """
    inside, sigma = 1.3, 250.0
    outside = inside * (1.0 + share)
    pressure, _ = quad(lambda r: sigma / r, inside, outside, epsabs=1e-12, epsrel=1e-12)
    volume = _ball(inside)
    wall = _ball(outside) - volume
    assert fibre.bears(sigma, volume, wall) == pytest.approx(pressure, rel=1e-9)


@pytest.mark.parametrize("share", [1e-4, 1e-3, 1e-2])
def test_one_fibre_against_thin_sphere(share: float) -> None:
    """In a thin wall the fibre bears P r/h, twice Laplace's stress of one direction.

    Tolerance: thin means to first order in h/r; the next term is half of it.
    """
    inside, pressure = 1.3, 70.0
    thickness = inside * share
    laplace = pressure * inside / (2.0 * thickness)
    wall = _ball(inside + thickness) - _ball(inside)
    assert fibre.bears(2.0 * laplace, _ball(inside), wall) == pytest.approx(pressure, rel=share)


def test_stretch_against_middle_of_a_thin_wall() -> None:
    """The fibre's stretch is the ratio of the wall's middle radii, as thin shells stretch.

    Tolerance 1e-4: the wall's volume is a thousandth of the cavity's.
    """
    volume, unloaded = 12.0, 6.0
    assert fibre.stretch(volume, *fibre.slots(0.006, unloaded, 0.0, 0.0, 0.0)[:2]) == pytest.approx(
        (volume / unloaded) ** (1.0 / 3.0), rel=1e-4
    )
