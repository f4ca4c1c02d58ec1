"""A question put to the desk for a page: a first look by few draws, the full answer, the paper.

Looks at the window are those of ``quick_window``; other verbs are asked for fewer draws.
"""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from inseries.desk.handles import COARSE, FULLER, parted
from inseries.desk.now import NOW_DRAWS
from inseries.desk.quick_window import quick_window
from inseries.desk.try_opening import try_openings
from inseries.desk.verbs import VERBS, load

if TYPE_CHECKING:
    from collections.abc import Mapping

    from inseries.case import Case
    from inseries.desk.answer import Answer, Progress


def first_look(
    verb: str, record: Case, asked: Mapping[str, float], progress: Progress | None = None
) -> Answer:
    """A verb's answer by few draws.

    Parameters
    ----------
    verb : one of those in ``COARSE``
    record : the case as written
    asked : numbers by the names of the page's handles
    progress : told stage and share done; what it raises ends the work

    Returns
    -------
    Answer; of the window, one of ``quick_window``

    Raises
    ------
    InseriesError, as the verb itself
    """
    if verb == "window":
        return quick_window(record, parted(asked)[0], "first", progress)
    return full(verb, record, asked, progress, draws=COARSE[verb])


def fuller_look(
    verb: str, record: Case, asked: Mapping[str, float], progress: Progress | None = None
) -> Answer:
    """Between the first look and the full answer, for a verb in ``FULLER``.

    Parameters, returns and errors as of ``first_look``.
    """
    assert verb in FULLER
    return quick_window(record, parted(asked)[0], "fuller", progress)


def full(
    verb: str,
    record: Case,
    asked: Mapping[str, float],
    progress: Progress | None = None,
    *,
    draws: int | None = None,
) -> Answer:
    """A verb's answer, as the command line gives it for the same case and options."""
    tries, options = parted(asked)
    if tries and verb == "window":
        return quick_window(record, tries, "tried", progress)
    if tries:
        return try_openings(record, tries, draws or NOW_DRAWS, progress)
    names: dict[str, object] = dict(options)
    known = VERBS[verb]
    if draws is not None and "draws" in known.takes:
        names["draws"] = draws
    if progress is not None and "progress" in known.takes:
        names["progress"] = progress
    if "out_path" not in known.takes:
        return load(known)(record, **names)
    with TemporaryDirectory(prefix="inseries-") as folder:
        # a page looks, and leaves no file: the printed page is asked for by itself
        return load(known)(record, **names, out_path=Path(folder) / f"{record.id}-{verb}.pdf")


def paper(
    verb: str, record: Case, asked: Mapping[str, float], progress: Progress | None = None
) -> bytes:
    """The printed page of a verb as PDF: its own where it has one, else the team brief."""
    takes = VERBS[verb].takes
    own = verb if {"page_path", "out_path"} & set(takes) else "brief"
    name = "page_path" if "page_path" in VERBS[own].takes else "out_path"
    options = parted(asked)[1]
    with TemporaryDirectory(prefix="inseries-") as folder:
        target = Path(folder) / "page.pdf"
        names: dict[str, object] = {k: v for k, v in options.items() if k in VERBS[own].takes}
        names[name] = target
        if progress is not None and "progress" in VERBS[own].takes:
            names["progress"] = progress
        load(VERBS[own])(record, **names)
        return target.read_bytes()
