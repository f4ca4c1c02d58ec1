"""Two pages for the team, set by Typst as a tagged PDF."""

from __future__ import annotations

import json
from contextlib import ExitStack
from dataclasses import asdict
from importlib.resources import as_file, files
from typing import TYPE_CHECKING

import typst

from inseries.base.errors import OutputError
from inseries.brief.headings import HEADINGS, LEVELS, STANDING
from inseries.brief.pages import brief_sense

if TYPE_CHECKING:
    from inseries.brief.view import TeamBrief

# chosen: Typst stamps its output with this moment, so that the same record gives the same bytes
STAMP_SECONDS = 0


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
    return _set(json.dumps(_data(view), ensure_ascii=False))


def _data(view: TeamBrief) -> dict[str, object]:
    words = {**HEADINGS, "standing": STANDING, "level": LEVELS[view.urgency.level]}
    return {**asdict(view), "words": words}


def _set(data: str) -> bytes:
    with ExitStack() as stack:
        room = stack.enter_context(as_file(files("inseries.brief")))
        fonts = stack.enter_context(as_file(files("inseries.draw").joinpath("fonts")))
        try:
            pdf, warnings = typst.Compiler(
                (room / "team.typ").read_bytes(),
                root=str(room),
                font_paths=[str(fonts)],  # pyright: ignore[reportArgumentType] - stub leaves its type open
                ignore_system_fonts=True,
            ).compile_with_warnings(
                sys_inputs={"data": data},
                format="pdf",
                pdf_standards="ua-1",
                timestamp=STAMP_SECONDS,
            )
        except typst.TypstError as error:
            raise _not_set(error.message) from error
    if warnings or not isinstance(pdf, bytes):
        raise _not_set("; ".join(warning.message for warning in warnings))
    return pdf


def _not_set(reason: str) -> OutputError:
    if "too full" in reason:
        return OutputError(
            "The brief does not fit on its pages without cutting words",
            code="brief_too_long",
            where="brief",
            remedy="shorten the longest lists; nothing is left out in silence",
        )
    return OutputError(
        f"The brief cannot be set: {reason}",
        code="brief_not_set",
        where="brief",
        remedy="check that every picture has a description and that the fonts are installed",
    )
