"""The band on paper."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.brief.view import Picture
from inseries.desk.band_result import tables
from inseries.desk.page_view import page_of
from inseries.draw.band_course import band_svg, spoken

if TYPE_CHECKING:
    from inseries.brief.page import Page
    from inseries.case import Case
    from inseries.desk.answer import Answer
    from inseries.desk.band_result import BandResult

# chosen: how wide the columns of each table are against one another
WIDTHS = (
    (2.0, 1.0),
    (1.0,),
    (0.7, 1.2, 1.4, 0.7, 1.1, 1.1),
    (3.0, 1.6, 0.9),
    (1.0, 1.0, 1.0),
    (2.0, 1.6, 0.8),
    (2.0, 1.6, 0.8),
    (0.6, 3.0),
)


def band_page(record: Case, answer: Answer, result: BandResult) -> Page:
    """The printed page of a band.

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
        title="How tight should the band be, and how long does it take?",
        sentences=(f"Is a switch the operation? {result.suitability.sentence}", *result.sentences),
        picture=Picture(svg=band_svg(result.picture), alt=spoken(result.picture), caption=""),
        tables=tuple(zip(tables(result), WIDTHS, strict=True)),
    )
