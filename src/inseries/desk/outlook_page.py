"""An outlook on paper."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from inseries.brief.view import Picture
from inseries.desk.outlook_tables import tables
from inseries.desk.page_view import page_of
from inseries.draw.outlook_strip import outlook_svg, spoken

if TYPE_CHECKING:
    from inseries.brief.page import Page
    from inseries.case import Case
    from inseries.desk.answer import Answer
    from inseries.desk.outlook_result import OutlookResult

# chosen: how wide the columns of each table are against one another
WIDTHS = (
    (1.6, 1.0, 1.0, 1.0, 1.0, 1.0),
    (1.6, 1.0, 1.0, 1.0),
    (1.8, 1.0, 1.2, 1.0),
    (1.6, 1.0, 1.0, 1.0, 1.0, 1.0),
    (1.2, 0.8, 2.4),
    (1.6, 1.0, 1.0, 1.0, 1.0, 1.0),
    (1.6, 0.7, 0.7, 0.7, 0.7, 0.7),
    (0.5, 1.0, 1.0, 1.1, 1.2),
    (0.8, 1.0, 1.0),
    (1.2, 1.3, 2.0, 1.0),
    (2.0, 1.4, 1.2, 0.9),
)


def outlook_page(record: Case, answer: Answer, result: OutlookResult) -> Page:
    """The printed page of an outlook.

    Parameters
    ----------
    record : the case
    answer, result : what the verb says

    Returns
    -------
    Page
    """
    asked = (
        () if result.operated else (f"Is a switch the operation? {result.suitability.sentence}",)
    )
    page = page_of(
        record,
        answer,
        result.urgency,
        title="What will grow, and what will not?",
        sentences=(*asked, *result.sentences),
        picture=Picture(svg=outlook_svg(result.picture), alt=spoken(result.picture), caption=""),
        tables=tuple(zip(tables(result), WIDTHS, strict=True)),
    )
    if not result.operated:
        return page
    return replace(page, urgency=replace(page.urgency, hours="at the next visit"))
