"""A case file changed in one place, with every other letter and every remark left as it was."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from inseries.base.errors import CaseError
from inseries.case.source import as_table, tables

if TYPE_CHECKING:
    from inseries.case.source import Table

_HEADER = re.compile(r"^\s*\[+\s*([A-Za-z_]+)\s*\]+")
_NAME = "case text"
_NUMBER = re.compile(r"^[+-]?\d+(\.\d+)?$")
_DATE = re.compile(r"^\d{4}-\d\d-\d\d[Tt ]\d\d:\d\d(:\d\d)?$")
SEVERAL = ("readings", "events")
"""Tables of which a case has many."""


def literal(typed: str, *, quoted: bool) -> str:
    """What was typed as TOML writes it.

    Parameters
    ----------
    typed : as it stands in the field
    quoted : whether a word is meant even where it looks like a number
    """
    told = typed.strip()
    if not quoted and (_NUMBER.match(told) or _DATE.match(told) or told in {"true", "false"}):
        return told
    escaped = told.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + "".join(c if c.isprintable() else " " for c in escaped) + '"'


def setting(text: str, table: str, index: int, key: str) -> str | None:
    """What a key is set to, as it is written; None where it is not set."""
    lines = text.split("\n")
    found = _line_of(lines, table, index, key)
    return None if found is None else _parts(lines[found])[1]


def with_setting(text: str, table: str, index: int, key: str, told: str | None) -> str:
    """The text with one key set, or taken away where ``told`` is None.

    Parameters
    ----------
    text : a case file that can be read as TOML
    table, index : which table, and which of several
    key : its name
    told : the value as TOML writes it

    Raises
    ------
    CaseError
        ``not_plain`` where the file is written so that one line cannot be changed alone
    """
    lines = text.split("\n")
    found = _line_of(lines, table, index, key)
    if found is not None:
        _change(lines, found, told)
    elif told is not None:
        _insert(lines, table, index, f"{key} = {told}")
    after = "\n".join(lines)
    _only_this(text, after, table, index, key)
    return after


def with_table(text: str, table: str, settings: tuple[tuple[str, str], ...]) -> str:
    """The text with one more reading or event at its end."""
    block = [f"[[{table}]]", *(f"{key} = {told}" for key, told in settings)]
    return text.rstrip("\n") + "\n\n" + "\n".join(block) + "\n"


def without_table(text: str, table: str, index: int) -> str:
    """The text without one reading or event; remarks above its header stay."""
    lines = text.split("\n")
    start, end = _span(lines, table, index)
    kept = end
    while kept > start + 1 and lines[kept - 1].lstrip().startswith("#"):
        kept -= 1
    return "\n".join([*lines[:start], *lines[kept:]])


def count(text: str, table: str) -> int:
    """How many tables of a name there are."""
    rows = tables(text, _NAME).get(table, [])
    return len(rows) if isinstance(rows, list) else 1  # pyright: ignore[reportUnknownArgumentType]


def _span(lines: list[str], table: str, index: int) -> tuple[int, int]:
    """First line of a table, and the line after its last."""
    heads = [(n, m[1]) for n, line in enumerate(lines) if (m := _HEADER.match(line))]
    ends = [n for n, _ in heads[1:]] + [len(lines)]
    spans = [(n, end) for (n, name), end in zip(heads, ends, strict=True) if name == table]
    if not 0 <= index < len(spans):
        raise CaseError(
            "this entry is no longer in the case",
            code="gone",
            where=table,
            value=index,
            remedy="load the page again.",
        )
    return spans[index]


def _line_of(lines: list[str], table: str, index: int, key: str) -> int | None:
    if table not in SEVERAL and not any(_head_of(line) == table for line in lines):
        return None
    start, end = _span(lines, table, index)
    pattern = re.compile(rf"^\s*[\"']?{re.escape(key)}[\"']?\s*=")
    return next((n for n in range(start + 1, end) if pattern.match(lines[n])), None)


def _head_of(line: str) -> str | None:
    found = _HEADER.match(line)
    return found[1] if found else None


def _change(lines: list[str], place: int, told: str | None) -> None:
    if told is None:
        del lines[place]
        return
    before, _, after = _parts(lines[place])
    lines[place] = f"{before}{told}{after}"


def _insert(lines: list[str], table: str, index: int, line: str) -> None:
    """Behind the last setting of the table, which is made where the file has none."""
    if table not in SEVERAL and not any(_head_of(each) == table for each in lines):
        lines += [f"[{table}]", line, ""]
        return
    start, end = _span(lines, table, index)
    last = max(
        (
            n
            for n in range(start, end)
            if lines[n].strip() and not lines[n].lstrip().startswith("#")
        ),
        default=start,
    )
    lines.insert(last + 1, line)


def _parts(line: str) -> tuple[str, str, str]:
    """A line as what stands before the value, the value, and what stands behind it."""
    start = line.index("=") + 1
    start += len(line[start:]) - len(line[start:].lstrip())
    end, quote = start, ""
    while end < len(line):
        letter = line[end]
        if quote:
            end += letter == "\\" and quote == '"'
            quote = "" if letter == quote else quote
        elif letter == "#":
            break
        elif letter in "\"'":
            quote = letter
        end += 1
    value = line[start:end].rstrip()
    return line[:start], value, line[start + len(value) :]


def _only_this(before: str, after: str, table: str, index: int, key: str) -> None:
    """Refuse where anything but the one key came out different."""
    was, now = tables(before, _NAME), tables(after, _NAME)
    for told in (was, now):
        _row(told, table, index).pop(key, None)
    if {k: v for k, v in was.items() if v} != {k: v for k, v in now.items() if v}:
        raise CaseError(
            "this part of the file is written so that it cannot be changed alone",
            code="not_plain",
            where=f"{table}, {key}",
            remedy="one key on each line, or change it in the file itself.",
        )


def _row(told: Table, table: str, index: int) -> Table:
    rows = told.get(table)
    if isinstance(rows, list):
        return as_table(rows[index]) or {}  # pyright: ignore[reportUnknownArgumentType]
    return as_table(rows) or {}
