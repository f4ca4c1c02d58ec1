"""Ages: the only form of time that leaves the case file.

Dates are turned into days since birth here, and said in plain words here.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.base.errors import CaseError

if TYPE_CHECKING:
    from datetime import datetime

HOURS_PER_DAY = 24.0  # derived: 60 min in an hour, 24 h in a day
SECONDS_PER_DAY = 86400.0  # derived: 24 h of 3600 s
DAYS_PER_WEEK = 7.0  # derived: the calendar
DAYS_PER_MONTH = 30.4375  # derived: 365.25 days / 12, as the WHO growth standards count
DAYS_PER_YEAR = 365.25  # derived: the Julian year


def age_days(born: datetime, at: datetime) -> float:
    """Days from birth to a moment; negative before birth.

    Parameters
    ----------
    born, at : datetime, both with a time zone or both without

    Raises
    ------
    CaseError
        ``mixed_times`` where one has a time zone and the other has none.
    """
    if (born.tzinfo is None) != (at.tzinfo is None):
        raise CaseError(
            "one time has a time zone and the other has none, so no age can be computed",
            code="mixed_times",
            remedy="write all times with a time zone, or all without one.",
        )
    return (at - born).total_seconds() / SECONDS_PER_DAY


def age_words(days: float) -> str:
    """An age as said at the bedside: ``50 min``, ``2 h 30 min``, ``40 h``, ``9 days``, ``7 weeks``.

    Parameters
    ----------
    days : float, days since birth
    """
    # common practice: minutes below 2 h and beside hours to half a day, hours to 3 days, days to
    # 8 weeks, weeks to 6 months, then months to 3 years, as ages are said on a ward round.
    hours = days * HOURS_PER_DAY
    minutes = round(hours * 60)
    if minutes < 120:
        return f"{minutes} min"
    if minutes < 720 and minutes % 60:
        return f"{minutes // 60} h {minutes % 60} min"
    if days < 3:
        return _whole(hours, "h")
    if days < 56:
        return _whole(days, "days")
    if days < 182:
        return _whole(days / DAYS_PER_WEEK, "weeks")
    if days < 3 * DAYS_PER_YEAR:
        return _whole(days / DAYS_PER_MONTH, "months")
    return _whole(days / DAYS_PER_YEAR, "years")


def _whole(number: float, word: str) -> str:
    # Rounded down, as ages are: a child of 11.8 days is 11 days old. The small term keeps
    # a time written as 40 h from becoming 39 h by a last binary digit.
    return f"{int(number + 1e-6)} {word}"
