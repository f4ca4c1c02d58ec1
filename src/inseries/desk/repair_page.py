"""A repair on paper, and its patch in true size."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.brief.patch_page import patch_page_pdf
from inseries.brief.view import FurtherPage, Picture
from inseries.desk.page_view import page_of, page_table
from inseries.desk.repair_tables import tables
from inseries.draw.patch_sheet import patch_sheet_svg
from inseries.draw.repair_view import repair_svg, spoken

if TYPE_CHECKING:
    from inseries.brief.page import Page
    from inseries.case import Case
    from inseries.desk.answer import Answer
    from inseries.desk.repair_records import RepairFindings

# chosen: how wide the columns of each table are against one another
WIDTHS = (
    (0.6, 1.2, 1.1, 1.1, 1.2, 2.0),
    (0.6, 0.8, 0.9, 0.8, 1.0, 0.7, 1.8),
    (1.0, 1.0, 1.4),
    (1.6, 1.5, 1.3, 1.2, 1.3, 0.8),
    (1.0, 1.3, 0.9, 0.8, 1.0),
    (2.6, 1.3, 1.3, 1.0),
    (1.6, 1.2, 1.3, 2.4),
    (2.4, 1.4, 1.2),
)


# chosen: tables that the team brief has of a repair, by their place; with them it fits one page
IN_BRIEF = (0, 3)
TITLE = "How will the pieces fit?"


def further_page(result: RepairFindings, told: tuple[str, ...]) -> FurtherPage:
    """The repair as one page behind the team brief.

    Parameters
    ----------
    result : what the verb says
    told : its own cautions
    """
    kept = tables(result)
    return FurtherPage(
        title=TITLE,
        sentences=result.sentences,
        picture=Picture(svg=repair_svg(result.picture), alt=spoken(result.picture), caption=""),
        tables=tuple(page_table(kept[i], WIDTHS[i]) for i in IN_BRIEF),
        cautions=told,
    )


def repair_page(record: Case, answer: Answer, result: RepairFindings) -> Page:
    """The printed page of a repair.

    Parameters
    ----------
    record : the case
    answer, result : what the verb says

    Returns
    -------
    Page
    """
    return page_of(
        record,
        answer,
        result.urgency,
        title=TITLE,
        sentences=(f"Is a switch the operation? {result.suitability.sentence}", *result.sentences),
        picture=Picture(svg=repair_svg(result.picture), alt=spoken(result.picture), caption=""),
        tables=tuple(zip(tables(result), WIDTHS, strict=True)),
    )


def patch_pdf(result: RepairFindings) -> bytes:
    """The patch in true size, A4."""
    names = ", ".join(f"{piece.name}: {piece.note}" for piece in result.sheet.pieces)
    return patch_page_pdf(
        patch_sheet_svg(result.sheet),
        title=result.sheet.title,
        alt=f"Pieces of a patch in true size, planning only. {names}.",
    )
