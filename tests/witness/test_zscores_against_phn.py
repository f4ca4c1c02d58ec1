"""Echo expectations against values worked from the published equation by hand.

Who: Lopez 2017, Z = (x / BSA^a - mean) / SD; worked at BSA 0.2189 (a WHO boy at birth) and 1.85.
Agreement of two methods: its end-diastolic volume at birth against newborn CMR (Jhaveri 2023).
Tolerance: half the last printed digit; between methods one CMR deviation.
"""

from __future__ import annotations

import pytest

from inseries.norms import surface, zscores

# item, BSA, mean, deviation, half the last digit: lengths in mm (printed in cm)
WORKED = [
    ("aortic_root_mm", 0.2189, 9.64, 0.84, 0.005),
    ("aortic_annulus_mm", 0.2189, 6.92, 0.66, 0.005),
    ("sinotubular_junction_mm", 0.2189, 7.91, 0.75, 0.005),
    ("pulmonary_annulus_mm", 0.2189, 8.94, 1.12, 0.005),
    ("pulmonary_trunk_mm", 0.2189, 8.52, 1.12, 0.005),
    ("lv_edv_ml", 0.2189, 8.61, 1.66, 0.006),
    ("lv_mass_g", 0.2189, 7.94, 1.36, 0.005),
    ("aortic_root_mm", 1.85, 28.02, 2.45, 0.005),
    ("lv_edv_ml", 1.85, 138.0, 26.6, 0.05),
    ("lv_mass_g", 1.85, 114.4, 19.5, 0.06),
]


@pytest.mark.parametrize(("item", "surface_m2", "mean", "deviation", "digit"), WORKED)
def test_expectation_against_phn(
    item: str, surface_m2: float, mean: float, deviation: float, digit: float
) -> None:
    """Mean and deviation at a body surface equal the worked ones."""
    ours = zscores.echo_z(item, mean, surface_m2)
    assert ours.expected == pytest.approx(mean, abs=digit)
    assert ours.sd == pytest.approx(deviation, abs=max(digit, 0.006))
    assert abs(ours.z) < 0.01


def test_newborn_volume_by_echo_against_cmr() -> None:
    """Indexed end-diastolic volume at birth agrees between the echo and the CMR reference."""
    body = surface.body_surface_m2(3.3464, 49.8842)
    echo = zscores.echo_z("lv_edv_ml", 8.6, body).expected / body
    assert abs(zscores.newborn_cmr_z("lv_edv_ml_m2", echo, 3).z) < 1.0


def test_native_pulmonary_annulus_on_the_aortic_table() -> None:
    """On the day of birth a normal pulmonary annulus is already +3 against the aortic table."""
    normal = zscores.echo_z("pulmonary_annulus_mm", 8.9, 0.2189).expected
    assert zscores.echo_z("aortic_annulus_mm", normal, 0.2189).z == pytest.approx(3.07, abs=0.05)
