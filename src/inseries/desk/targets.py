"""Published targets: what others measured, how far from it still counts, and what it is for."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Literal, TypeAlias, cast

from inseries.base.numbers import Provenance, read_rows

if TYPE_CHECKING:
    from collections.abc import Mapping

Role: TypeAlias = Literal["calibrated", "validated"]
Within: TypeAlias = Literal["sd", "range", "direction", "tolerance"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Interval:
    """What counts as inside; an open side is None.

    Parameters
    ----------
    kind : ``sd`` one published standard deviation, ``range`` printed, ``direction`` a side
        only, ``tolerance`` ours, where no spread was printed
    """

    kind: Within
    low: float | None
    high: float | None
    sd: float | None

    def holds(self, value: float) -> bool:
        """Whether a value lies inside."""
        above = self.low is None or value >= self.low
        return above and (self.high is None or value <= self.high)


@dataclass(frozen=True, slots=True, kw_only=True)
class Target:
    """One published figure.

    Parameters
    ----------
    situation, measure : which of our numbers it is compared with
    what : in words
    published : the printed figure, None where only a range or a direction was printed
    interval : what counts as inside
    role : used to fit, or kept to judge
    population : in whom, by what method
    source : bibliography key, or None for common practice
    reason : why we think it is missed, for while it is
    reasons : the same where another reason holds under one law of growth, by law
    """

    situation: str
    measure: str
    what: str
    published: float | None
    interval: Interval
    unit: str
    role: Role
    population: str
    source: str | None
    reason: str
    reasons: Mapping[str, str]

    @property
    def name(self) -> str:
        """Situation and measure."""
        return f"{self.situation}.{self.measure}"

    def why(self, law: str) -> str:
        """Why we think it is missed under one law of growth."""
        return self.reasons.get(law, self.reason)


@lru_cache(maxsize=1)
def targets() -> tuple[Target, ...]:
    """Every target, in the order of the table."""
    situations = read_rows("inseries.desk", "targets.toml")
    return tuple(
        _target(situation, measure, cast("dict[str, object]", row))
        for situation, rows in situations.items()
        for measure, row in rows.items()
    )


def _target(situation: str, measure: str, row: dict[str, object]) -> Target:
    published = Provenance(str(row["provenance"])) is Provenance.PUBLISHED
    return Target(
        situation=situation,
        measure=measure,
        what=str(row["what"]),
        published=_number(row, "value"),
        interval=_interval(row),
        unit=str(row["unit"]),
        role=cast("Role", row["role"]),
        population=str(row["population"]),
        source=str(row["because"]) if published else None,
        reason=str(row.get("reason", "")),
        reasons=cast("Mapping[str, str]", row.get("reasons", {})),
    )


def _interval(row: dict[str, object]) -> Interval:
    value, sd = _number(row, "value"), _number(row, "sd")
    low, high = _number(row, "low"), _number(row, "high")
    if value is not None and sd is not None:
        low, high = value - sd, value + sd
    return Interval(kind=cast("Within", row["within"]), low=low, high=high, sd=sd)


def _number(row: dict[str, object], name: str) -> float | None:
    value = row.get(name)
    return float(value) if isinstance(value, int | float) else None
