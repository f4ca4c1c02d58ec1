"""A record looked over: said in sentences, what is missing, what cannot be, what to know."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from inseries.case.contradictions import contradictions
from inseries.case.needs import Missing, missing
from inseries.case.remarks import remarks
from inseries.case.words import sentences

if TYPE_CHECKING:
    from inseries.base.findings import Caution, Finding
    from inseries.case.record import Case


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckReport:
    """What a case holds, lacks and contradicts."""

    age_days: float
    sentences: tuple[str, ...]
    missing: tuple[Missing, ...]
    contradictions: tuple[Finding, ...]
    remarks: tuple[Caution, ...]


def check(case: Case) -> CheckReport:
    """Look over a case.

    Parameters
    ----------
    case : Case

    Returns
    -------
    CheckReport; its sentences hold ages, never dates
    """
    return CheckReport(
        age_days=case.age_days,
        sentences=sentences(case),
        missing=missing(case),
        contradictions=contradictions(case),
        remarks=remarks(case),
    )
