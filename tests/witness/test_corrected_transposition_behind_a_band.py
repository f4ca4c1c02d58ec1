"""Corrected transposition: a left ventricle that never bore the body, trained by a band.

Who: J Thorac Cardiovasc Surg 2014 (PMID 24529731), abstract: 25 children kept behind a band with a
gradient of 46.9 (SD 21.5) mmHg, ejection 61.0 (6.4) %. Mainwaring et al., Ann Thorac Surg (PMID
29274314), abstract: 24 of 26 trained with success, told by the gain in left over right ventricular
pressure at the first band; its formula is not printed. Lowest criterion of such series: a ratio of
0.7. Kept to judge; ours is read at the published gradient, four months after a band at eight.
Tolerance: one published SD; for the ratio the side only.
"""

from __future__ import annotations

import pytest
from witness.situations import EACH_LAW, ours


@EACH_LAW
def test_the_ratio_gains_at_once_and_reaches_the_criterion(law: str) -> None:
    """The band raises the ratio by a tenth or more at once, and training brings it above 0.7."""
    told = ours("corrected", law)
    assert told["ratio_before"] < 0.5
    assert told["ratio_gain_at_once"] > 0.1
    assert told["ratio_after"] > 0.7


@EACH_LAW
def test_ejection_behind_the_band(law: str) -> None:
    """Ejection of the trained ventricle is the published one."""
    assert ours("corrected", law)["ef_after_pct"] == pytest.approx(61.0, abs=6.4)
