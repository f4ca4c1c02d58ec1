"""Two pages for the team, set by Typst as a tagged PDF."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import TYPE_CHECKING

from inseries.base.errors import OutputError
from inseries.brief.headings import HEADINGS, LEVELS, STANDING
from inseries.brief.pages import brief_sense
from inseries.brief.setting import set_pages

if TYPE_CHECKING:
    from inseries.brief.view import TeamBrief


def team_brief_pdf(view: TeamBrief) -> bytes:
    """The team brief as a PDF of three A4 pages, tagged after PDF/UA-1.

    Today, the window, and what stands beside both; with few words the last two share a page. No
    word is cut. The same record gives the same bytes. The document names no author and carries no
    date.

    Parameters
    ----------
    view : TeamBrief, every word and picture

    Returns
    -------
    bytes, the PDF

    Raises
    ------
    OutputError : the words break a rule of clinical sense, a page would overflow at the smallest
        readable type, or the page cannot be set
    """
    violations = brief_sense(view)
    if violations:
        raise OutputError(
            "The brief is not written because its words break a rule of clinical sense: "
            + "; ".join(str(violation) for violation in violations),
            code="clinical_sense",
            where="brief",
            remedy="correct the words that are named",
        )
    return set_pages("team.typ", json.dumps(_data(view), ensure_ascii=False))


def _data(view: TeamBrief) -> dict[str, object]:
    words = {**HEADINGS, "standing": STANDING, "level": LEVELS[view.urgency.level]}
    return {**asdict(view), "words": words}
