"""From the times of a case file to ages: dates stop here."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from inseries.base.ages import DAYS_PER_YEAR, HOURS_PER_DAY, age_days, age_words
from inseries.base.errors import CaseError
from inseries.case.scalars import finite
from inseries.case.slips import tell

if TYPE_CHECKING:
    from inseries.case.place import Place
    from inseries.case.source import Table

OLDEST_DAYS = 120 * DAYS_PER_YEAR  # chosen: no one has lived longer; a wrong year is meant
TIMES = ("at", "age_h")


@dataclass(frozen=True, slots=True)
class Clock:
    """Birth, as far as it is told, and the age at any time in the file."""

    born: datetime | None

    def age(self, row: Table, place: Place) -> float:
        """Age in days of a reading or event, from its ``at`` or ``age_h``."""
        given = [name for name in TIMES if name in row]
        if len(given) != 1:
            raise place.refuse(
                "two times are given" if given else "no time is given",
                "two_times" if given else "missing_time",
                "either at = 2026-03-02T05:00:00 or age_h = 0.8.",
                given[0] if given else "",
            )
        if given == ["age_h"]:
            age = finite(row["age_h"], place, "age_h") / HOURS_PER_DAY
        else:
            age = self._since_birth(moment(row["at"], place, "at"), place)
        return _possible(age, place, given[0])

    def _since_birth(self, at: datetime, place: Place) -> float:
        if self.born is None:
            raise place.refuse(
                "a date is given, but [case] does not say when the baby was born",
                "missing_birth",
                "born = … under [case], or age_h = … here.",
                "at",
            )
        try:
            return age_days(self.born, at)
        except CaseError as error:
            error.where = place.where("at")
            raise


def moment(value: object, place: Place, key: str) -> datetime:
    """A date with a time; CaseError for anything else."""
    if isinstance(value, datetime):
        return value
    raise place.refuse(
        "this needs a date with a time, without quotes",
        "wrong_type",
        f"{key} = 2026-03-02T05:00:00.",
        key,
    )


def _possible(age: float, place: Place, key: str) -> float:
    if age < 0:
        raise CaseError(
            f"this lies {age_words(-age)} before birth",
            code="before_birth",
            where=place.where(key),
            value=tell(age * HOURS_PER_DAY),
            unit="h",
            remedy="check this time and the time of birth.",
        )
    if age > OLDEST_DAYS:
        raise CaseError(
            "this lies longer after birth than anyone has lived",
            code="impossible_value",
            where=place.where(key),
            value=tell(age / DAYS_PER_YEAR),
            unit="years",
            remedy="check the year.",
        )
    return age
