"""What one resting ventricle does to the other, against excised hearts of newborn lambs.

Who: Pediatr Res, abstract, eight lambs of two days, balloons in both ventricles: left pressure
rises by 0.301 (SE 0.031) of the rise of the right one without the sac, by 0.650 (SE 0.033) with it;
left volume at equal pressure falls by 0.233 (SE 0.027) and 0.514 (SE 0.052) of what is added to
the right. Little 1984, abstract, dogs without a sac: 0.43 to 0.47 of pressure. The hearts here rest
at the reference newborn's end-diastolic volumes; the pressures in the lambs are not given.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from rooms.circuit_samples import narrow, one_beat, small
from scipy.optimize import brentq

from inseries.circuit.network import Edge, Ventricle
from inseries.circuit.newborn import normal_newborn
from inseries.routes import with_pericardium, with_septum

PRESSURE, PRESSURE_SE = 0.301, 0.031
VOLUME, VOLUME_SE = 0.233, 0.027
FILLED_ML = (8.87, 10.66)
ADDED_ML = 0.2
# a sac that both ventricles fill alone
TIGHT_ML = 20.0


def _resting(name: str) -> Ventricle:
    part = normal_newborn().part(name)
    assert isinstance(part, Ventricle)
    return replace(part, active_stress_mmhg=1e-9)


def _pressures(
    left_ml: float, right_ml: float, *, elastance: float | None, sac_ml: float | None
) -> tuple[float, float]:
    """Pressures of two resting ventricles with no way between them, once the septum has shifted."""
    shut = Edge(
        name="shut",
        start="LV",
        end="RV",
        resistance_mmhg_s_ml=1.0,
        restrictions=(narrow(0.0),),
    )
    heart = small(
        (_resting("LV"), _resting("RV")), (shut,), volume_ml=left_ml + right_ml, period_s=0.5
    )
    heart = with_septum(heart, elastance_mmhg_ml=elastance)
    heart = heart if sac_ml is None else with_pericardium(heart, volume_ml=sac_ml)
    _time, wave, _end = one_beat(heart, [left_ml, right_ml, 0.0], steps=500)
    return float(wave[-1, 2]), float(wave[-1, 3])


def _pressure_share(elastance: float | None, sac_ml: float | None = None) -> float:
    """Rise of left over rise of right pressure as blood is added to the right."""
    left, right = FILLED_ML
    before = _pressures(left, right, elastance=elastance, sac_ml=sac_ml)
    after = _pressures(left, right + ADDED_ML, elastance=elastance, sac_ml=sac_ml)
    return (after[0] - before[0]) / (after[1] - before[1])


def _volume_share(elastance: float | None, sac_ml: float | None = None) -> float:
    """Left volume given up at equal left pressure over what is added to the right."""
    left, right = FILLED_ML
    kept = _pressures(left, right, elastance=elastance, sac_ml=sac_ml)[0]

    def gained(left_ml: float) -> float:
        return _pressures(left_ml, right + ADDED_ML, elastance=elastance, sac_ml=sac_ml)[0] - kept

    return (left - float(brentq(gained, left - 2.0 * ADDED_ML, left))) / ADDED_ML


def test_one_elastance_gives_both_shares() -> None:
    """The septum that passes on a lamb's share of pressure gives up a lamb's share of volume."""
    elastance = float(brentq(lambda e: _pressure_share(e) - PRESSURE, 2.0, 40.0))
    assert 4.0 < elastance < 12.0
    assert _volume_share(elastance) == pytest.approx(VOLUME, abs=2.0 * VOLUME_SE)


def test_a_sac_passes_on_more() -> None:
    """With a sac that the ventricles fill, both shares rise, as they did in the lambs."""
    for share in (_pressure_share, _volume_share):
        assert share(None, TIGHT_ML) > 2.0 * share(None)


def test_filling_the_right_stiffens_the_left() -> None:
    """At equal left volume each mL in the right raises left pressure, the more the fuller."""
    for sac_ml in (None, TIGHT_ML):
        left = [
            _pressures(FILLED_ML[0], right, elastance=None, sac_ml=sac_ml)[0]
            for right in (9.0, 11.0, 13.0)
        ]
        rises = np.diff(left)
        assert 0.0 < rises[0] < rises[1]


@pytest.mark.xfail(
    strict=True,
    reason="0.13: one elastance must hold in systole too, and a septum as soft as a lamb's at rest "
    "would bulge by half a ventricle then",
)
def test_the_usual_septum_passes_on_a_lambs_share() -> None:
    """At its default the septum passes on the published share of pressure, within two SE."""
    assert _pressure_share(None) == pytest.approx(PRESSURE, abs=2.0 * PRESSURE_SE)
