"""Published rows as they stand beside an answer: other babies, their own denominator."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from inseries.evidence.curves import curves_after

if TYPE_CHECKING:
    from inseries.evidence.rows import Row


@dataclass(frozen=True, slots=True, kw_only=True)
class Published:
    """One published result beside a computed one, never mixed with it."""

    id: str
    text: str
    in_whom: str
    denominator: str
    caution: str
    value: float | None
    low: float | None
    high: float | None
    unit: str
    age_low_days: float | None
    age_high_days: float | None
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PublishedCurve:
    """A published long-term series at the years printed; never joined to a simulation."""

    id: str
    label: str
    counts: str
    years: tuple[float, ...]
    pct: tuple[float, ...]
    in_whom: str
    denominator: str
    source: str


def published(row: Row) -> Published:
    """A row of evidence for a reader."""
    count = f", n = {row.n}" if row.n else ""
    era = f", {row.era}" if row.era else ""
    return Published(
        id=row.id,
        text=row.text,
        in_whom=f"{row.population}{count}{era}",
        denominator=row.denominator,
        caution=row.caution,
        value=row.value,
        low=row.low,
        high=row.high,
        unit=row.unit,
        age_low_days=row.age_low_days,
        age_high_days=row.age_high_days,
        source=row.source,
    )


def published_curves(kind: str) -> tuple[PublishedCurve, ...]:
    """Published series of one kind, each with who is counted."""
    return tuple(
        PublishedCurve(
            id=curve.id,
            label=curve.label,
            counts=curve.of,
            years=curve.ages_y,
            pct=curve.pct,
            in_whom=f"{curve.population}, n = {curve.n}" + (f", {curve.era}" if curve.era else ""),
            denominator=curve.denominator,
            source=curve.source,
        )
        for curve in curves_after(kind)
    )
