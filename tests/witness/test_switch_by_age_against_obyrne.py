"""The chance of a switch by age against neonatal and late series: order and direction only.

Who: O'Byrne et al. 2018, Circulation 138:2119, abstract: mortality 2.8 % in 2159 neonates, higher
odds after day 6 (confounded). Late series, Turk J Thorac Cardiovasc Surg, abstract 2407: 13 of 14
selected infants at 22 to 125 days without support. Sizes are never matched: the series count losses
of every cause in selected babies, ours the left ventricle alone in the middle baby. Tolerance in
the first week: 90 to 100 %, an order of magnitude.
"""

from __future__ import annotations

from witness.situations import EACH_LAW, each_law_but, ours


@EACH_LAW
def test_in_the_first_week_nearly_all_carry_the_body(law: str) -> None:
    """At 7 d the chance of a survivable switch is of the published order."""
    assert 90.0 <= ours("switch_by_age", law)["survivable_7_d_pct"] <= 100.0


@EACH_LAW
def test_the_chance_falls_with_age_and_comfort_first(law: str) -> None:
    """From 7 to 42 d both chances fall, and the comfortable one is always below."""
    told = ours("switch_by_age", law)
    for tier in ("survivable", "comfortable"):
        assert told[f"{tier}_7_d_pct"] > told[f"{tier}_21_d_pct"] > told[f"{tier}_42_d_pct"]
    for day in (7, 21, 42):
        assert told[f"comfortable_{day}_d_pct"] < told[f"survivable_{day}_d_pct"]


@each_law_but(
    emptied_stretch="a seventh more of the wall is gone by then; the chance hangs steeply on it"
)
def test_late_is_not_hopeless(law: str) -> None:
    """At 42 d some babies would still carry the body."""
    assert ours("switch_by_age", law)["survivable_42_d_pct"] > 10.0
