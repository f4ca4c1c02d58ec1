"""From a file to tables: every way in which a file can fail to be a TOML text."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import TYPE_CHECKING, cast

from inseries.base.errors import CaseError
from inseries.case.positions import with_seconds

if TYPE_CHECKING:
    from os import PathLike

LARGEST_BYTES = 1_000_000  # chosen: hundreds of times a full case file; refused before reading

Table = dict[str, object]


def file_text(path: str | PathLike[str]) -> str:
    """The text of a case file.

    Parameters
    ----------
    path : str or path of the file

    Raises
    ------
    CaseError
        ``not_found``, ``is_directory``, ``not_a_file``, ``unreadable``, ``too_large``,
        ``not_utf8``.
    """
    file = Path(path)
    try:
        return _decoded(_bytes(file), file.name)
    except FileNotFoundError as error:
        raise _refusal(
            file.name, "there is no such file", "not_found", "check the name and the folder."
        ) from error
    except (OSError, ValueError) as error:
        if isinstance(error, CaseError):
            raise
        raise _refusal(
            file.name, "the file cannot be read", "unreadable", "check its name and permissions."
        ) from error


def tables(text: str, name: str) -> Table:
    """The tables of a case text.

    Parameters
    ----------
    text : str, TOML
    name : str, name of the file, for error messages

    Raises
    ------
    CaseError
        ``empty``, ``toml_syntax``.
    """
    if not re.sub(r"#.*", "", text).strip():
        raise _refusal(
            name, "the file is empty", "empty", "`inseries new`, which writes a skeleton."
        )
    try:
        return tomllib.loads(with_seconds(text))
    except (ValueError, RecursionError) as error:
        # ValueError also covers numbers with thousands of digits, RecursionError deep nesting
        raise _syntax(text, name, str(error)) from error


def _bytes(file: Path) -> bytes:
    if file.is_dir():
        raise _refusal(
            file.name, "this is a folder, not a case file", "is_directory", "name a file in it."
        )
    if not file.is_file() and file.exists():
        raise _refusal(
            file.name, "this is not an ordinary file", "not_a_file", "a case file in TOML."
        )
    size = file.stat().st_size
    if size <= LARGEST_BYTES:
        with file.open("rb") as stream:
            content = stream.read(LARGEST_BYTES + 1)
        size = max(size, len(content))
        if size <= LARGEST_BYTES:
            return content
    raise CaseError(
        "the file is too large to be a case file, and was not read",
        code="too_large",
        where=file.name,
        value=round(size / 1e6, 1),
        unit="MB",
        remedy=f"a case file below {LARGEST_BYTES / 1e6:.0f} MB.",
    )


def _decoded(content: bytes, name: str) -> str:
    try:
        # -sig: some editors put a byte order mark in front, which TOML does not know
        return content.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        line = content[: error.start].count(b"\n") + 1
        raise CaseError(
            "the file is not UTF-8 text",
            code="not_utf8",
            where=f"{name}, line {line}",
            value=f"byte 0x{content[error.start]:02x}",
            remedy="save it again as UTF-8 in a text editor.",
        ) from error


_TOML_WORDS = {
    "Cannot overwrite a value": "the same key stands twice in one table",
    "Expected newline or end of document after a statement": "a value on this line is followed "
    "by something that does not belong there",
    "Invalid value": "there is no number, text in quotes, or date after the equals sign",
    "Expected '=' after a key in a key/value pair": "a key on this line has no equals sign",
    "Unterminated string": "a text has no closing quote",
    "Invalid statement": "this line is neither a key with a value nor a table in brackets",
}


def _syntax(text: str, name: str, message: str) -> CaseError:
    lines = text.splitlines()
    place = re.search(r"\(at line (\d+), column \d+\)", message)
    line = int(place[1]) if place else len(lines) if "end of document)" in message else 0
    what = re.sub(r"\s*\(at [^)]*\)$", "", message)
    if not line:
        what = "a number or a nesting in it is too long"
    remedy = "write lines such as weight_kg = 3.4, with words in quotes."
    if 0 < line <= len(lines) and re.search(r"=\s*-?\d+,\d", lines[line - 1]):
        what, remedy = "a number is written with a comma", "a decimal point, such as 3.4."
    return CaseError(
        f"this is not valid TOML: {_TOML_WORDS.get(what, what[:1].lower() + what[1:])}",
        code="toml_syntax",
        where=f"{name}, line {line}" if line else name,
        remedy=remedy,
    )


def _refusal(name: str, what: str, code: str, remedy: str) -> CaseError:
    return CaseError(what, code=code, where=name, remedy=remedy)


def as_table(value: object) -> Table | None:
    """The value as a table, or None where it is none."""
    return cast("Table", value) if isinstance(value, dict) else None
