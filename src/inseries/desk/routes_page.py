"""The routes on paper."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from inseries.brief.view import Picture
from inseries.desk.page_view import page_of
from inseries.desk.routes_result import ROUTE_WORDS
from inseries.desk.routes_tables import paper_tables
from inseries.draw.routes_lanes import routes_svg
from inseries.draw.routes_view import spoken

if TYPE_CHECKING:
    from inseries.brief.page import Page
    from inseries.case import Case
    from inseries.desk.answer import Answer
    from inseries.desk.routes_told import RoutesResult


def routes_page(record: Case, answer: Answer, result: RoutesResult) -> Page:
    """The printed page of the routes.

    Parameters
    ----------
    record : the case
    answer, result : what the verb says

    Returns
    -------
    Page
    """
    view = result.picture
    each = tuple(
        f"{ROUTE_WORDS[route.name].capitalize()}. {route.what} {route.why}"
        for route in result.routes
    )
    return page_of(
        record,
        _in_plain_words(answer),
        result.urgency,
        title="Is a switch the operation, which way, and if the window has gone?",
        sentences=(result.suitability.sentence, result.what, result.why, result.how_sure, *each),
        picture=Picture(svg=routes_svg(view), alt=spoken(view), caption=""),
        tables=paper_tables(result.routes, result.ranking),
    )


def _in_plain_words(answer: Answer) -> Answer:
    """The answer with its cautions in the words of a first page."""
    cautions = tuple(
        replace(caution, text=caution.text.replace("effective draws", "draws count"))
        for caution in answer.cautions
    )
    return replace(answer, cautions=cautions)
