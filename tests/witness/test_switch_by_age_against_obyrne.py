"""The chance of a switch by age against neonatal and late series: order and direction only.

Who: O'Byrne et al. 2018, Circulation 138:2119, abstract: mortality 2.8 % in 2159 neonates, higher
odds after day 6 (confounded). Late series, Turk J Thorac Cardiovasc Surg, abstract 2407: 13 of 14
selected infants at 22 to 125 days without support. Sizes are never matched: the series count losses
of every cause in selected babies, ours the left ventricle alone in the middle baby. Tolerance in
the first week: 90 to 100 %, an order of magnitude.
"""

from __future__ import annotations

from witness.situations import ours


def test_in_the_first_week_nearly_all_carry_the_body() -> None:
    """At 7 d the chance of a survivable switch is of the published order."""
    assert 90.0 <= ours("switch_by_age")["survivable_7_d_pct"] <= 100.0


def test_the_chance_falls_with_age_and_comfort_first() -> None:
    """From 7 to 42 d both chances fall, the comfortable one further."""
    told = ours("switch_by_age")
    assert 0.0 < told["survivable_fall_7_to_42_d"] < told["comfortable_fall_7_to_42_d"]


def test_late_is_not_hopeless() -> None:
    """At 42 d some babies would still carry the body."""
    assert ours("switch_by_age")["survivable_42_d_pct"] > 10.0
