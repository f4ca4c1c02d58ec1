"""From an answer to a printed page: what every page carries, whatever its question."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.base.ages import age_words
from inseries.base.findings import Caution, Severity
from inseries.base.sources import bibliography, citation
from inseries.brief.page import Page
from inseries.brief.view import PageTable, Picture
from inseries.brief.view import Urgency as PrintedUrgency
from inseries.desk.cautions import AID, unknowns
from inseries.desk.version import version

if TYPE_CHECKING:
    from inseries.case import Case
    from inseries.desk.answer import Answer, Table
    from inseries.desk.urgency import Urgency


def page_of(
    record: Case,
    answer: Answer,
    pressing: Urgency,
    *,
    title: str,
    sentences: tuple[str, ...],
    picture: Picture,
    tables: tuple[tuple[Table, tuple[float, ...]], ...],
) -> Page:
    """A printed page of an answer.

    Parameters
    ----------
    record : the case
    answer : for cautions, sources and the run
    pressing : urgency, which stands first on every page
    title : the question
    sentences : what, why, how sure
    picture : with its description in words
    tables : each with the widths of its columns against one another

    Returns
    -------
    Page
    """
    known = unknowns(record)
    return Page(
        case_id=record.id,
        age=f"{age_words(record.age_days)} old",
        title=title,
        urgency=printed_urgency(pressing),
        sentences=sentences,
        picture=picture,
        tables=tuple(page_table(table, widths) for table, widths in tables),
        unknown=known,
        cautions=(AID, *other_cautions(answer.cautions, known)),
        sources=tuple(citation(key) for key in answer.sources),
        run=run_line(answer),
    )


def page_table(table: Table, widths: tuple[float, ...]) -> PageTable:
    """A table on paper, where a source is cited and not named by its key."""
    rows = table.rows
    if table.columns[-1] == "source":
        known = bibliography()
        rows = tuple(
            (*row[:-1], citation(row[-1]) if row[-1] in known else row[-1]) for row in rows
        )
    return PageTable(title=table.title, columns=table.columns, widths=widths, rows=rows)


def printed_urgency(pressing: Urgency) -> PrintedUrgency:
    """Urgency with its hours in words."""
    hours = {
        "emergency": "act now; decide within the hour",
        "urgent": f"look again within {pressing.hours:g} hours",
        "planned": f"next review within {pressing.hours:g} hours",
    }[pressing.level]
    return PrintedUrgency(
        level=pressing.level, headline=pressing.headline, hours=hours, reasons=pressing.why
    )


def other_cautions(cautions: tuple[Caution, ...], known: tuple[str, ...]) -> tuple[str, ...]:
    """Cautions but for those that a page prints elsewhere."""
    return tuple(
        item.text
        for item in cautions
        if item.text != AID and item.text not in known and item.severity is not Severity.REFUSE
    )


def run_line(answer: Answer) -> str:
    """What would be needed to get the same answer again, in a line."""
    run = answer.run
    assert run is not None
    return (
        f"inseries {version()}; seed {run.seed}; {run.draws} draws, "
        f"{run.effective_draws or 0:.0f} effective"
    )
