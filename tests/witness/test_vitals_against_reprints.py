"""Vital signs by age against reprints other than those the tables were typed from.

Who: the pressure tables of 2017 and 2004 for boys, as two medical sites reprint them, at the 50th
centile of height; the abstract of the review of heart rates (127 at birth, 145 at one month, 113 at
two years) and its text at one year (124), as quoted elsewhere.
Tolerance: none for pressures; 3 /min for the heart at one year, between the middles of two bands.
"""

from __future__ import annotations

import pytest

from inseries.norms import pressure, vitals

# years: systolic 50th, 95th; diastolic 50th, 95th
BOYS_2017 = {
    1: (86, 103, 41, 55),
    2: (89, 106, 44, 59),
    3: (90, 107, 47, 62),
    4: (92, 108, 50, 66),
}
BOYS_2004 = {1: (85, 103, 37, 56), 2: (88, 106, 42, 61), 3: (91, 109, 46, 65)}


@pytest.mark.parametrize(
    ("source", "years", "row"),
    [
        *(("flynn2017", years, row) for years, row in BOYS_2017.items()),
        *(("nhbpep2004", years, row) for years, row in BOYS_2004.items()),
    ],
)
def test_pressure_against_reprints(
    source: str, years: int, row: tuple[float, float, float, float]
) -> None:
    """Median and 95th centile of a boy of median height are those of the reprint."""
    found = {p.source: p for p in vitals.pressures_for("male", years * 365.25)}[source]
    upper, lower = found.systolic, found.diastolic
    assert (upper.value, upper.high, lower.value, lower.high) == row


@pytest.mark.parametrize(
    ("age_days", "printed", "within"), [(0, 127, 0), (30, 145, 0), (365, 124, 3), (730, 113, 0)]
)
def test_heart_rate_against_the_review(age_days: float, printed: float, within: float) -> None:
    """The curve runs through the abstract's medians, and near the one at a year."""
    assert abs(pressure.heart_rate_per_min(age_days).value - printed) <= within
