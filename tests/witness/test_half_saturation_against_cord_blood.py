"""The pressure of half saturation against blood of newborns, before and after transfusion.

Who: Tosetti 1985, cord blood of 82 newborns, P50 slightly above 20 mmHg without carbon monoxide and
slightly below 22 with it. DICOM CID 3666, 21.6 mmHg to the first day. De Halleux 2002, 11 very
preterm infants given 26.9 mL/kg of packed red cells: P50 18.5 (0.8) and 21.0 (1.0) mmHg at a fetal
share of 0.929 (0.011) and 0.426 (0.057). All at pH 7.4 and 37 °C.
"""

from __future__ import annotations

import pytest
from witness.situations import ours

from inseries.circuit.blood import p50_mmhg
from inseries.norms.blood import fetal_haemoglobin, fetal_share_after_transfusion

BEFORE, AFTER = (0.929, 18.5, 0.8), (0.426, 21.0, 1.0)
GIVEN_ML_KG = 26.9


def test_a_newborn_against_tosetti() -> None:
    """With the usual share at birth P50 lies between the two figures of cord blood, 20 and 22."""
    assert 20.0 < ours("half_saturation")["birth_mmhg"] < 22.0


def test_the_first_day_against_dicom() -> None:
    """At half a day P50 is the printed 21.6 mmHg within 1.5, what two series of newborns differ."""
    assert p50_mmhg(fetal_haemoglobin(0.5).value) == pytest.approx(21.6, abs=1.5)


def test_preterm_blood_against_dehalleux() -> None:
    """Nearly pure fetal blood is met within two standard deviations."""
    _share, printed, sd = BEFORE
    assert ours("half_saturation")["before_transfusion_mmhg"] == pytest.approx(
        printed, abs=2.0 * sd
    )


@pytest.mark.xfail(strict=True, reason="donor cells from the shelf lack 2,3-DPG, ours are fresh")
def test_transfused_blood_against_dehalleux() -> None:
    """After transfusion P50 is met within two standard deviations."""
    _share, printed, sd = AFTER
    assert ours("half_saturation")["after_transfusion_mmhg"] == pytest.approx(printed, abs=2.0 * sd)


def test_a_transfusion_shifts_as_far_as_in_dehalleux() -> None:
    """Transfusion raises P50 as measured: by 2.5 mmHg, ours within the two deviations together."""
    rise = ours("half_saturation")["rise_by_transfusion_mmhg"]
    assert rise == pytest.approx(AFTER[1] - BEFORE[1], abs=AFTER[2] + BEFORE[2])


def test_the_share_that_is_left_against_dehalleux() -> None:
    """The share left is met within two deviations at 13 g/dL, which the abstract does not print."""
    left = fetal_share_after_transfusion(BEFORE[0], GIVEN_ML_KG, 13.0)
    assert left == pytest.approx(AFTER[0], abs=2.0 * 0.057)


def test_adult_blood_against_the_standard() -> None:
    """Adult blood is half saturated at 26.6 mmHg, within the 0.4 that leads to the taught 27."""
    assert p50_mmhg(0.0) == pytest.approx(26.6, abs=0.4)
