"""An answer as a page lays it out: first line, pictures, findings, tables, cautions, sources."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from inseries.base.findings import Severity
from inseries.base.sources import bibliography, citation
from inseries.desk.answer import Shown
from inseries.desk.cautions import AID
from inseries.desk.figures import Figure, figures
from inseries.desk.pair import beside
from inseries.desk.version import version

if TYPE_CHECKING:
    from inseries.base.errors import InseriesError
    from inseries.desk.answer import Answer, Table


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """A refusal in the words of the command line."""

    what: str
    where: str
    value: str
    remedy: str
    code: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """What one page shows of one answer."""

    verb: str
    level: str
    sentences: tuple[str, ...]
    figures: tuple[Figure, ...]
    tables: tuple[Table, ...]
    aid: str
    cautions: tuple[str, ...]
    unknown: tuple[str, ...]
    sources: tuple[str, ...]
    run: str
    refused: Said | None


def sheet(answer: Answer) -> Sheet:
    """An answer laid out.

    Parameters
    ----------
    answer : of any verb

    Returns
    -------
    Sheet; the words are those of the command line
    """
    shown = answer.result.shown() if answer.result is not None else Shown()
    pressing = getattr(answer.result, "urgency", None)
    return Sheet(
        verb=answer.verb,
        level=str(getattr(pressing, "level", "")),
        sentences=_sentences(answer, shown),
        figures=figures(answer.result),
        tables=(*beside(answer.result), *(table for table in shown.tables if table.rows)),
        aid=AID,
        cautions=tuple(
            c.text for c in answer.cautions if c.severity is not Severity.NOTE and c.text != AID
        ),
        unknown=tuple(c.text for c in answer.cautions if c.severity is Severity.NOTE),
        sources=tuple(citation(key) if key in bibliography() else key for key in answer.sources),
        run=_run(answer),
        refused=None,
    )


def said(error: InseriesError) -> Said:
    """A refusal as a page tells it: the command line's sentence in its parts, without ticks."""
    unit = f" {error.unit}" if error.unit else ""
    return Said(
        what=error.what,
        where=error.where,
        value="" if error.value is None else f"{error.value}{unit}",
        remedy=error.remedy.replace("`", ""),
        code=error.code,
    )


def _sentences(answer: Answer, shown: Shown) -> tuple[str, ...]:
    """What is said; of a written page its first lines, wherever it was written."""
    lines: tuple[str, ...] | None = getattr(answer.result, "first_lines", None)
    return shown.sentences if lines is None else lines


def _run(answer: Answer) -> str:
    run = answer.run
    told = [f"inseries {version()}"]
    if run is not None and run.seed is not None:
        told.append(f"seed {run.seed}, {run.draws} draws")
        told.append(f"{run.effective_draws or 0:.0f} effective")
    return "; ".join(told)
