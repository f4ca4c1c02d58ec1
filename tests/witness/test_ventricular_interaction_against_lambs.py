"""What one resting ventricle does to the other, against excised hearts of newborn lambs.

Who: Pediatr Res, abstract, eight lambs of two days, balloons in both ventricles: left pressure
rises by 0.301 (SE 0.031) of the rise of the right one without the sac, by 0.650 (SE 0.033) with it;
left volume at equal pressure falls by 0.233 (SE 0.027) and 0.514 (SE 0.052) of what is added to
the right. Little 1984, abstract, dogs without a sac: 0.43 to 0.47 of pressure. The hearts here rest
at the reference newborn's end-diastolic volumes; the pressures in the lambs are not given.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import brentq
from witness.situations import ours

from inseries.desk.experiments.resting_heart import (
    FILLED_ML,
    pressure_share,
    pressures_mmhg,
    volume_share,
)

PRESSURE, PRESSURE_SE = 0.301, 0.031
VOLUME, VOLUME_SE = 0.233, 0.027
# a sac that both ventricles fill alone
TIGHT_ML = 20.0


def test_one_elastance_gives_both_shares() -> None:
    """The septum that passes on a lamb's share of pressure gives up a lamb's share of volume."""
    elastance = float(brentq(lambda e: pressure_share(elastance=e) - PRESSURE, 2.0, 40.0))
    assert 4.0 < elastance < 12.0
    assert volume_share(elastance=elastance) == pytest.approx(VOLUME, abs=2.0 * VOLUME_SE)


def test_a_sac_passes_on_more() -> None:
    """With a sac that the ventricles fill, both shares rise, as they did in the lambs."""
    for share in (pressure_share, volume_share):
        assert share(sac_ml=TIGHT_ML) > 2.0 * share()


def test_filling_the_right_stiffens_the_left() -> None:
    """At equal left volume each mL in the right raises left pressure, the more the fuller."""
    for sac_ml in (None, TIGHT_ML):
        left = [
            pressures_mmhg(FILLED_ML[0], right, sac_ml=sac_ml)[0] for right in (9.0, 11.0, 13.0)
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
    assert ours("resting_heart")["pressure_share"] == pytest.approx(PRESSURE, abs=2.0 * PRESSURE_SE)
