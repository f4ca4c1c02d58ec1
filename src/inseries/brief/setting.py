"""Setting a template of this room as a tagged PDF: the same words give the same bytes."""

from __future__ import annotations

from contextlib import ExitStack
from importlib.resources import as_file, files

import typst

from inseries.base.errors import OutputError

# chosen: Typst stamps its output with this moment, so that the same record gives the same bytes
STAMP_SECONDS = 0


def set_pages(template: str, data: str) -> bytes:
    """A template filled with words and pictures.

    Parameters
    ----------
    template : str, name of a Typst file in this room
    data : str, JSON of everything it prints

    Returns
    -------
    bytes, a PDF tagged after PDF/UA-1, with no author and no date

    Raises
    ------
    OutputError : a page would overflow at the smallest readable type, or it cannot be set
    """
    with ExitStack() as stack:
        room = stack.enter_context(as_file(files("inseries.brief")))
        fonts = stack.enter_context(as_file(files("inseries.draw").joinpath("fonts")))
        try:
            pdf, warnings = typst.Compiler(
                (room / template).read_bytes(),
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
