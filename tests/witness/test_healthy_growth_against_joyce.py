"""Growth of both ventricles in health against echo from birth.

Who: Joyce et al. 2004, Am J Cardiol 93:797, abstract: at birth the right mass index lies
about 20 % above, the left about 30 % below the adult; the left rises within two weeks, the
right falls over four months. Kept to judge. Only the direction is compared, since the abstract
gives no series, and from the third day, where the reference newborn stands.
"""

from __future__ import annotations

from witness.situations import EACH_LAW, ours


@EACH_LAW
def test_left_rises_within_two_weeks(law: str) -> None:
    """The left mass index is higher at 14 d than at 3 d, and higher still at 30 d."""
    assert (
        1.0
        < ours("normal_growth", law)["lv_share_14_d"]
        < ours("normal_growth", law)["lv_share_30_d"]
    )


@EACH_LAW
def test_right_falls_over_four_months(law: str) -> None:
    """The right mass index is lower at 120 d than at 3 d."""
    assert ours("normal_growth", law)["rv_share_120_d"] < 1.0
