"""A case as a page edits it: its sentence, and every field of it with its word and its unit."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from typing import TYPE_CHECKING, cast

from inseries.base.ages import age_words
from inseries.base.errors import CaseError
from inseries.case import EventKind
from inseries.case.keys import companions, event_fields, fields, keys
from inseries.case.slips import unit_word
from inseries.case.source import as_table, tables
from inseries.case.times import TIMES
from inseries.case.words import EVENT_WORDS, sentences
from inseries.desk.record import STATES, opened
from inseries.desk.sheet import Said, said

if TYPE_CHECKING:
    from inseries.case import Case
    from inseries.case.keys import Field, Key
    from inseries.case.source import Table


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One field: where it stands, how it is named, what it holds."""

    table: str
    index: int
    key: str
    word: str
    value: str
    unit: str
    kind: str
    choices: tuple[str, ...]
    help: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One reading or event; ``anchor`` tells whether it still is the one that a page saw."""

    table: str
    index: int
    anchor: str
    when: str
    title: str
    parts: tuple[Part, ...]
    more: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """The whole case; ``trouble`` is set where the file cannot be taken as it is."""

    name: str
    revision: str
    sentences: tuple[str, ...]
    head: tuple[Part, ...]
    entries: tuple[Entry, ...]
    trouble: Said | None


def revision(text: str) -> str:
    """A short name of one state of a file."""
    return hashlib.sha256(text.encode()).hexdigest()[:16]


@lru_cache(maxsize=STATES)
def draft(name: str, text: str) -> Draft:
    """A case laid out for editing; each state of a file is laid out once.

    Parameters
    ----------
    name : of the case
    text : of its file
    """
    case, trouble = _read(text)
    try:
        told = tables(text, name)
    except CaseError as error:
        return Draft(
            name=name,
            revision=revision(text),
            sentences=(),
            head=(),
            entries=(),
            trouble=said(error),
        )
    return Draft(
        name=name,
        revision=revision(text),
        sentences=sentences(case) if case is not None else (),
        head=(*_fields("case", told), *_fields("anatomy", told)),
        entries=_entries(told),
        trouble=trouble,
    )


def _read(text: str) -> tuple[Case | None, Said | None]:
    try:
        return opened(text), None
    except CaseError as error:
        return None, said(error)


def _fields(table: str, told: Table) -> tuple[Part, ...]:
    row = as_table(told.get(table, {})) or {}
    return tuple(_part(table, 0, f, row.get(f.name)) for f in fields(table).values())


def _entries(told: Table) -> tuple[Entry, ...]:
    born = (as_table(told.get("case", {})) or {}).get("born")
    found: list[tuple[float, Entry]] = []
    for table in ("readings", "events"):
        rows = told.get(table, [])
        for index, item in enumerate(cast("list[object]", rows) if isinstance(rows, list) else []):
            row = as_table(item) or {}
            age = _age(row, born)
            found.append((age, _entry(table, index, row, age)))
    return tuple(entry for _, entry in sorted(found, key=lambda each: each[0]))


def _entry(table: str, index: int, row: Table, age: float) -> Entry:
    kind = str(row.get("kind", ""))
    known: dict[str, Key] | dict[str, Field] = keys() if table == "readings" else _details(kind)
    parts = [_time(table, index, row)]
    parts += [_part(table, index, known[k], row[k]) for k in row if k in known]
    parts += [_companion(table, index, k, row[k]) for k in row if k in companions() or k in _ALSO]
    more = tuple((k, known[k].word) for k in known if k not in row)
    title = EVENT_WORDS.get(EventKind(kind), kind) if kind in set(EventKind) else "reading"
    return Entry(
        table=table,
        index=index,
        anchor=parts[0].value,
        when=age_words(age) if age >= 0 else "time not told",
        title=title,
        parts=tuple(parts),
        more=more,
    )


_ALSO = ("method", "source")


def _details(kind: str) -> dict[str, Field]:
    return event_fields(EventKind(kind)) if kind in set(EventKind) else {}


def _time(table: str, index: int, row: Table) -> Part:
    name = next((each for each in TIMES if each in row), "age_h")
    return Part(
        table=table,
        index=index,
        key=name,
        word="age" if name == "age_h" else "at",
        value=_told(row.get(name)),
        unit="h" if name == "age_h" else "",
        kind="time" if name == "at" else "number",
        choices=(),
        help="hours since birth; 2 d is taken too" if name == "age_h" else "date and time",
    )


def _part(table: str, index: int, known: Key | Field, value: object) -> Part:
    kind = getattr(known, "kind", "choice" if known.choices else "number")
    return Part(
        table=table,
        index=index,
        key=known.name,
        word=known.word,
        value=_told(value),
        unit=unit_word(known.unit),
        kind=kind,
        choices=known.choices if kind == "choice" else ("yes", "no") * (kind == "flag"),
        help=getattr(known, "help", known.word),
    )


def _companion(table: str, index: int, key: str, value: object) -> Part:
    return Part(
        table=table,
        index=index,
        key=key,
        word=_companion_word(key),
        value=_told(value),
        unit="",
        kind="text",
        choices=(),
        help="how it was measured, or how certain",
    )


def _companion_word(key: str) -> str:
    """``left ventricular mass, sd``; of the whole reading just its name."""
    if key not in companions():
        return key
    whose, what = companions()[key]
    return f"{keys()[whose].word}, {what}"


def _told(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, datetime):
        return value.strftime("%Y-%m-%dT%H:%M")
    if isinstance(value, list):
        return ", ".join(str(item) for item in cast("list[object]", value))
    return f"{value:g}" if isinstance(value, float) else str(value)


def _age(row: Table, born: object) -> float:
    """Age in days for the order of the page; -1 where it cannot be told."""
    hours = row.get("age_h")
    if isinstance(hours, int | float):
        return float(hours) / 24.0
    at = row.get("at")
    if isinstance(at, datetime) and isinstance(born, datetime):
        return (at.replace(tzinfo=None) - born.replace(tzinfo=None)).total_seconds() / 86_400.0
    return -1.0
