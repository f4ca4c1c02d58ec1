"""Coronary flow of the left ventricle over a beat, against dogs, lambs and men.

Who: Gregg 1965, abstract: in resting dogs without narcosis inflow of the left coronary artery in
systole is 7 to 45 % of that in diastole. Adult dogs beat slower than newborns; systole takes about
the same share of a beat, so the same range is asked. A review of adults: 5 % of output goes to the
heart, 4 to 5 % in textbooks. Sabiston 1957, abstract: when the heart stops contracting at equal
perfusion, coronary flow rises appreciably.
"""

from __future__ import annotations

import numpy as np
import pytest
from witness.situations import ours

from inseries.circuit.newborn import normal_newborn
from inseries.circuit.waveforms import waveforms
from inseries.routes import with_coronaries

SYSTOLE_OVER_DIASTOLE = (0.07, 0.45)
SHARE_OF_OUTPUT_PCT = (4.0, 5.0)


def test_most_comes_in_diastole() -> None:
    """Inflow up to the end of ejection is 7 to 45 % of the inflow after it."""
    low, high = SYSTOLE_OVER_DIASTOLE
    assert low < ours("coronary_bed")["systole_over_diastole"] < high


def test_blood_of_the_wall_leaves_in_systole() -> None:
    """Squeezed, the wall gives more to the coronary sinus while the ventricle contracts."""
    waves = waveforms(with_coronaries(normal_newborn()))
    outflow = waves.flow_ml_s("coronary_sinus")
    assert waves.pressure_mmhg("LV")[np.argmax(outflow)] > 60.0


@pytest.mark.xfail(
    strict=True,
    reason="1.7 %: by magnetic resonance both walls weigh 2.5 g/kg, adult hearts 4, and output "
    "is three times an adult's for its weight; the flow of a gram is that of newborn lambs",
)
def test_the_heart_takes_its_share_of_output() -> None:
    """Both walls at the flow of a gram of each take 4 to 5 % of output."""
    low, high = SHARE_OF_OUTPUT_PCT
    assert low <= ours("coronary_bed")["heart_share_of_output_pct"] <= high


@pytest.mark.xfail(
    strict=True,
    reason="vessels of the wall are a pump here and do not narrow: contraction moves inflow from "
    "systole to diastole and leaves its mean",
)
def test_a_wall_at_rest_gets_more() -> None:
    """Without squeezing, flow at an equal bed is at least a tenth higher."""
    assert ours("coronary_bed")["slack_over_squeezed"] > 1.1
