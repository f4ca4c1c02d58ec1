"""One question on paper: what, why, how sure, a picture, tables, cautions, sources."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING

from inseries.base.errors import OutputError
from inseries.brief.headings import LEVELS, STANDING
from inseries.brief.sense import PAGE_BREAK, clinical_sense
from inseries.brief.setting import set_pages

if TYPE_CHECKING:
    from inseries.brief.view import PageTable, Picture, Urgency
    from inseries.brief.wording import Violation

# chosen: words that stand over the parts of every page
WORDS = {"cautions": "Cautions", "unknown": "What this page does not know", "sources": "Sources",
         "run": "Run"}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """The answer to one question, printed.

    Parameters
    ----------
    case_id, age : the invented or local case name, and such as ``"9 days old"``
    title : str, the question
    urgency : as on every page: hours before days
    sentences : tuple of str: what, why, how sure
    picture : with its description in words
    tables : tuple of PageTable, in reading order
    unknown, cautions : tuples of str
    sources : tuple of str, citations
    run : str, version, seed and draws in a line
    """

    case_id: str
    age: str
    title: str
    urgency: Urgency
    sentences: tuple[str, ...]
    picture: Picture
    tables: tuple[PageTable, ...]
    unknown: tuple[str, ...]
    cautions: tuple[str, ...]
    sources: tuple[str, ...]
    run: str


def page_text(page: Page) -> str:
    """Every word of the page in reading order, the picture's description included.

    Doubts, sources and the run, which the last sheet ends with, stand after a form feed.
    """
    lines = [LEVELS[page.urgency.level], page.urgency.hours, page.urgency.headline]
    lines += [*page.urgency.reasons, page.age, *page.sentences]
    lines += [page.picture.alt, page.picture.caption]
    for table in page.tables:
        lines += [table.title, *(": ".join(row) for row in table.rows)]
    last = [WORDS["unknown"], *page.unknown, WORDS["cautions"], *page.cautions]
    last += [*page.sources, page.run, STANDING]
    return PAGE_BREAK.join("\n".join(line for line in part if line) for part in (lines, last))


def page_sense(page: Page) -> list[Violation]:
    """What the page gets wrong in its words; empty if nothing."""
    return clinical_sense(page_text(page))


def page_pdf(page: Page) -> bytes:
    """The page as a tagged PDF, A4, as many sheets as its words need.

    Parameters
    ----------
    page : Page

    Returns
    -------
    bytes, the PDF; the same record gives the same bytes

    Raises
    ------
    OutputError : the words break a rule of clinical sense, or the page cannot be set
    """
    violations = page_sense(page)
    if violations:
        raise OutputError(
            "The page is not written because its words break a rule of clinical sense: "
            + "; ".join(str(violation) for violation in violations),
            code="clinical_sense",
            where="page",
            remedy="correct the words that are named",
        )
    words = {**WORDS, "standing": STANDING, "level": LEVELS[page.urgency.level]}
    return set_pages("page.typ", json.dumps({**asdict(page), "words": words}, ensure_ascii=False))
