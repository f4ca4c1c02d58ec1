"""What an answer is made of: estimates, cautions, findings."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """How strongly a remark binds the reader."""

    REFUSE = "refuse"
    CAUTION = "caution"
    NOTE = "note"


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """A remark that travels with a result."""

    severity: Severity
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Estimate:
    """A number with its 90 % interval; low and high are None when it is an input."""

    value: float
    unit: str
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One thing found: a value, how sure, from what, in a sentence."""

    name: str
    sentence: str
    estimate: Estimate | None = None
    severity: Severity = Severity.NOTE
    sources: tuple[str, ...] = ()
