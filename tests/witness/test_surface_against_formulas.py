"""Body surface against hand-worked values of the published formulas.

Who: Haycock 1978, Mosteller 1987, Du Bois 1916, Boyd 1935 (0.0003207 for grams and centimetres).
Tolerance: half the last printed digit.
"""

from __future__ import annotations

import pytest

from inseries.norms.surface import body_surface_m2

# weight kg, length cm: Haycock, Mosteller, Du Bois, Boyd
TABLE = [
    (3.3464, 49.8842, (0.2189, 0.2153, 0.2043, 0.2237)),
    (3.5, 50.0, (0.2244, 0.2205, 0.2086, 0.2299)),
    (10.0, 76.0, (0.4659, 0.4595, 0.4415, 0.4826)),
    (30.0, 135.0, (1.0564, 1.0607, 1.0682, 1.0714)),
    (70.0, 175.0, (1.8468, 1.8447, 1.8481, 1.8507)),
]
FORMULAS = ("haycock", "mosteller", "du-bois", "boyd")


@pytest.mark.parametrize(("weight", "length", "values"), TABLE)
def test_surface_against_formulas(weight: float, length: float, values: tuple[float, ...]) -> None:
    """Each formula gives the worked value, to its last digit."""
    for formula, value in zip(FORMULAS, values, strict=True):
        assert body_surface_m2(weight, length, formula) == pytest.approx(value, abs=5.1e-5)


def test_gehan_george_overestimates_a_newborn() -> None:
    """Gehan and George lies above Haycock at birth, as published comparisons found."""
    assert body_surface_m2(3.5, 50, "gehan-george") > 1.02 * body_surface_m2(3.5, 50)
