"""Published rates as rows, and the limits of waiting that no circuit shows."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from typing import cast

from inseries.base.findings import Finding, Severity
from inseries.base.numbers import Provenance, read_rows
from inseries.base.sources import bibliography, citation


class Topic(StrEnum):
    """What a row is about."""

    COST_OF_WAITING = "cost_of_waiting"
    LATE_SWITCH = "late_switch"
    NEONATAL_SWITCH = "neonatal_switch"
    RULE_OF_PRACTICE = "rule_of_practice"
    SEPTOSTOMY = "septostomy"
    PROSTAGLANDIN = "prostaglandin"
    BRAIN = "brain"
    GUT = "gut"
    UNTREATED = "untreated"
    UNSEEN_RISK = "unseen_risk"
    DUCT_STENT = "duct_stent"
    TWO_STAGE = "two_stage"
    LATE_PRIMARY = "late_primary"
    SUPPORT = "support"
    CONDITIONING = "conditioning"
    BAND = "band"
    ATRIAL_SWITCH = "atrial_switch"
    ARTERIAL_AGAINST_ATRIAL = "arterial_against_atrial"
    LATE_LUNG_ARTERY = "late_lung_artery"
    LATE_ROOT = "late_root"
    LATE_CORONARY = "late_coronary"
    CORONARY_PATTERN = "coronary_pattern"


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One published rate, as it was read.

    Parameters
    ----------
    id : str, stable name of the row
    topic : Topic
    quantity : str, what is counted
    value, low, high : float or None, in ``unit``; ``interval`` says what low and high are
    unit : str, UCUM
    text : str, the fact in our own words
    caution : str, why it may not hold for one baby
    population, denominator : str, whom it was counted in, and out of how many
    n : int or None
    era : str, years of treatment, or ``""``
    age_low_days, age_high_days : float or None, ages it speaks about
    source : str, bibliography key, or the reason where there is none
    seen : str, what of the source was read
    provenance : Provenance
    """

    id: str
    topic: Topic
    quantity: str
    value: float | None
    low: float | None
    high: float | None
    interval: str
    unit: str
    text: str
    caution: str
    population: str
    n: int | None
    era: str
    age_low_days: float | None
    age_high_days: float | None
    denominator: str
    source: str
    seen: str
    provenance: Provenance

    @property
    def cited(self) -> str:
        """The short line of its source, or the reason where there is none."""
        published = self.provenance is Provenance.PUBLISHED
        return citation(self.source) if published else str(self.provenance)

    def speaks_at(self, age_days: float) -> bool:
        """Whether an age, in days, lies within the ages this row speaks about."""
        low = self.age_low_days
        high = self.age_high_days
        return (low is None or low <= age_days) and (high is None or age_days <= high)


@cache
def rows() -> tuple[Row, ...]:
    """All rows, in the order of the table.

    Returns
    -------
    tuple of Row. *Source* in each row
    """
    table = read_rows("inseries.evidence", "rows.toml")
    return tuple(_row(name, fields) for name, fields in table.items())


def rows_on(topic: str) -> tuple[Row, ...]:
    """Rows on one topic.

    Parameters
    ----------
    topic : str, one of ``Topic``

    Returns
    -------
    tuple of Row
    """
    wanted = Topic(topic)
    return tuple(row for row in rows() if row.topic is wanted)


def cost_of_waiting() -> tuple[Row, ...]:
    """The published cost of operating later: beside every window, all confounded.

    Returns
    -------
    tuple of Row. *Source* anderson2014, obyrne2018, faateh
    """
    return rows_on(Topic.COST_OF_WAITING)


def late_series() -> tuple[Row, ...]:
    """Published series of late operations, with the ages they cover.

    Returns
    -------
    tuple of Row. *Source* late_switch_tgkdc, recep_kosuyolu, yasui1989
    """
    return rows_on(Topic.LATE_SWITCH)


@cache
def limits_not_lv() -> tuple[Finding, ...]:
    """Limits of waiting that are not the left ventricle's, in words.

    Returns
    -------
    tuple of Finding: hypoxaemia, lung vessels, heart failure, brain, gut, infection
    """
    table = read_rows("inseries.evidence", "limits.toml")
    return tuple(_limit(name, fields) for name, fields in table.items())


def _limit(name: str, fields: dict[str, object]) -> Finding:
    return Finding(
        name=name.replace("_", " "),
        sentence=str(fields["sentence"]),
        severity=Severity.CAUTION,
        sources=tuple(cast("list[str]", fields["sources"])),
    )


def _row(name: str, fields: dict[str, object]) -> Row:
    given = dict(fields)
    source = str(given.pop("because"))
    provenance = Provenance(str(given.pop("provenance")))
    if provenance is Provenance.PUBLISHED and source not in bibliography():
        raise KeyError(f"row {name} cites {source}, which is not in the bibliography")
    empty = {"value": None, "low": None, "high": None, "n": None, "era": ""}
    ages = {"age_low_days": None, "age_high_days": None}
    topic = Topic(str(given.pop("topic")))
    made = {**empty, **ages, **given}
    return Row(id=name, topic=topic, source=source, provenance=provenance, **made)  # pyright: ignore[reportArgumentType]
