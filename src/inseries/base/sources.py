"""Published sources by key, and the short line that cites one."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from inseries.base.errors import InseriesError
from inseries.base.numbers import read_rows


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """One published source, and how far it was read.

    Parameters
    ----------
    key : str, bibliography key, as used in tables and findings
    authors : str, first author and "et al.", empty where not shown
    title : str, as printed, or our own description where listed in ``unconfirmed``
    journal : str, journal, or what identifies the source in its place
    year : int or None
    place : str, volume and pages, or ``""``
    doi, pmid : str, or ``""``
    seen : str, what of the source was read: abstract, table, body, secondary, memory
    unconfirmed : tuple of str, fields of this citation that were written from memory
    """

    key: str
    journal: str
    seen: str
    authors: str = ""
    title: str = ""
    year: int | None = None
    place: str = ""
    doi: str = ""
    pmid: str = ""
    unconfirmed: tuple[str, ...] = ()


@cache
def bibliography() -> dict[str, Source]:
    """All published sources by key, in the order of the file.

    Returns
    -------
    dict of str to Source
    """
    rows = read_rows("inseries.base", "bibliography.toml")
    return {key: _source(key, row) for key, row in rows.items()}


def citation(key: str) -> str:
    """One short line that cites a source.

    Parameters
    ----------
    key : str, bibliography key

    Returns
    -------
    str, such as ``"Jhaveri et al. 2023, J Cardiovasc Magn Reson 25:26"``; says so where author,
    journal, year or place were written from memory

    Raises
    ------
    InseriesError, code ``unknown_source``, when there is no such key
    """
    source = bibliography().get(key)
    if source is None:
        raise InseriesError(
            "this key is not in the bibliography",
            code="unknown_source",
            where="bibliography",
            value=key,
            remedy="a key of inseries.base.sources.bibliography().",
        )
    return _line(source)


def _line(source: Source) -> str:
    who = source.authors or f"“{source.title}”"
    head = f"{who} {source.year}" if source.year is not None else who
    doubtful = set(source.unconfirmed) & {"authors", "journal", "year", "place"}
    mark = " (citation partly from memory)" if doubtful else ""
    return f"{head}, {source.journal} {source.place}".rstrip() + mark


def _source(key: str, row: dict[str, object]) -> Source:
    fields = dict(row)
    names = fields.pop("unconfirmed", [])
    unconfirmed = tuple(str(name) for name in names) if isinstance(names, list) else ()  # pyright: ignore[reportUnknownArgumentType, reportUnknownVariableType]
    return Source(key=key, unconfirmed=unconfirmed, **fields)  # pyright: ignore[reportArgumentType]
