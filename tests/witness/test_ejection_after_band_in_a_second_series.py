"""Ejection a week after a training band, in a second series.

Who: J Am Soc Echocardiogr 2013 (PMID 23623593), abstract: 29 patients with either transposition, to
years old: 76.1 (SD 10.2) % before, 66.7 (7.8) % 7 (5) days after the band, by echo. Kept to judge.
Tolerance: one published SD.
"""

from __future__ import annotations

import pytest
from witness.situations import EACH_LAW, ours


@EACH_LAW
def test_ejection_before_the_band(law: str) -> None:
    """The unloaded ventricle empties as far as the published ones."""
    assert ours("band", law)["ef_before_pct"] == pytest.approx(76.1, abs=10.2)


@EACH_LAW
def test_ejection_a_week_after_the_band(law: str) -> None:
    """A week after the band it empties less."""
    assert ours("band", law)["ef_7_d_pct"] == pytest.approx(66.7, abs=7.8)
