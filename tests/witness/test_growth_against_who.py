"""Growth against the printed WHO 2006 values.

Who: WHO Multicentre Growth Reference Study, month table, L / M / S; and a worked z-score (Grellety,
figshare 4294085: girl, 9 kg, day 365, z = 0.048847178).
Tolerance: months are 30.4375 days and are printed in their own table, day rows differ slightly, so
medians agree to 0.3 % and the variation to 0.0003; birth is the same row and agrees in every digit.
"""

from __future__ import annotations

import pytest

from inseries.norms import growth

# month: boy weight L, M, S; girl weight L, M, S; boy length M, S; girl length M, S
TABLE = {
    0: (0.3487, 3.3464, 0.14602, 0.3809, 3.2322, 0.14171, 49.8842, 0.03795, 49.1477, 0.03790),
    1: (0.2297, 4.4709, 0.13395, 0.1714, 4.1873, 0.13724, 54.7244, 0.03557, 53.6872, 0.03640),
    2: (0.1970, 5.5675, 0.12385, 0.0962, 5.1282, 0.13000, 58.4249, 0.03424, 57.0673, 0.03568),
    3: (0.1738, 6.3762, 0.11727, 0.0402, 5.8458, 0.12619, 61.4292, 0.03328, 59.8029, 0.03520),
    6: (0.1257, 7.9340, 0.10958, -0.0756, 7.2970, 0.12204, 67.6236, 0.03165, 65.7311, 0.03448),
    12: (0.0644, 9.6479, 0.10925, -0.2024, 8.9481, 0.12268, 75.7488, 0.03137, 74.0150, 0.03479),
    24: (-0.0137, 12.1515, 0.11426, -0.2941, 11.4775, 0.12390, 87.8161, 0.03479, 86.4153, 0.03734),
    60: (
        -0.1506,
        18.3366,
        0.13517,
        -0.3518,
        18.2193,
        0.14821,
        109.9638,
        0.04214,
        109.4233,
        0.04347,
    ),
}
DAYS_PER_MONTH = 30.4375


@pytest.mark.parametrize("month", TABLE)
def test_weight_against_who(month: int) -> None:
    """Weight for age equals the printed month row, for boys and girls."""
    day = min(month * DAYS_PER_MONTH, 1826)
    row = TABLE[month]
    for sex, (skewness, median, variation) in (("male", row[:3]), ("female", row[3:6])):
        ours = growth.lms("weight", sex, day)  # type: ignore[arg-type]
        assert ours.median == pytest.approx(median, rel=3e-3)
        assert ours.variation == pytest.approx(variation, abs=3e-4)
        assert ours.skewness == pytest.approx(skewness, abs=3e-3)


@pytest.mark.parametrize("month", TABLE)
def test_length_against_who(month: int) -> None:
    """Length for age equals the printed month row, for boys and girls."""
    # month 24 is printed lying: day 730, the last lying day
    day = 730 if month == 24 else min(month * DAYS_PER_MONTH, 1826)
    row = TABLE[month]
    for sex, (median, variation) in (("male", row[6:8]), ("female", row[8:10])):
        ours = growth.lms("length", sex, day)  # type: ignore[arg-type]
        assert ours.median == pytest.approx(median, rel=3e-3)
        assert ours.variation == pytest.approx(variation, abs=3e-4)


def test_birth_against_who_in_every_digit() -> None:
    """At birth day and month table are one row."""
    row = TABLE[0]
    boy, girl = growth.lms("weight", "male", 0), growth.lms("weight", "female", 0)
    assert (boy.skewness, boy.median, boy.variation) == row[:3]
    assert (girl.skewness, girl.median, girl.variation) == row[3:6]


@pytest.mark.parametrize(("sex", "height"), [("male", 87.1303), ("female", 85.7299)])
def test_standing_height_against_who(sex: growth.Sex, height: float) -> None:
    """On day 731 the standard changes to standing height, 0.7 cm less."""
    assert growth.length_cm(sex, 731) == pytest.approx(height, abs=1e-4)


def test_worked_z_against_grellety() -> None:
    """A girl of 9 kg on day 365 has z = 0.048847178, to the digits printed."""
    assert growth.weight_z("female", 365, 9.0) == pytest.approx(0.048847178, abs=5e-10)
