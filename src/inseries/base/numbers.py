"""Numbers that say where they come from, read from packaged tables.

A table is a TOML file beside the room that owns it. Each row is
``name = {value = 26.4, sd = 2.8, unit = "g/m2", provenance = "published", because = "key"}``.
``because`` is the bibliography key of a published number, and the reason of any other.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from enum import StrEnum
from importlib.resources import files


class Provenance(StrEnum):
    """Where a number comes from."""

    PUBLISHED = "published"
    COMMON_PRACTICE = "common practice, no source"
    MEMORY = "from memory, unconfirmed"
    DERIVED = "derived"
    CHOSEN = "chosen"
    FITTED = "derived by tools/calibrate.py"


@dataclass(frozen=True, slots=True, kw_only=True)
class Number:
    """A value with unit, spread, and where it comes from."""

    value: float
    unit: str
    provenance: Provenance
    because: str
    sd: float | None = None
    low: float | None = None
    high: float | None = None


def read_numbers(package: str, name: str) -> dict[str, Number]:
    """Rows of a packaged table of numbers.

    Parameters
    ----------
    package : str, import path of the room that owns the table
    name : str, file name, such as ``"newborn.toml"``

    Returns
    -------
    dict of str to Number, in the order of the file
    """
    return {key: _number(row) for key, row in read_rows(package, name).items()}


def read_rows(package: str, name: str) -> dict[str, dict[str, object]]:
    """Raw rows of a packaged TOML table, in the order of the file."""
    text = files(package).joinpath(name).read_text(encoding="utf-8")
    return tomllib.loads(text)


def _number(row: dict[str, object]) -> Number:
    fields = dict(row)
    fields["provenance"] = Provenance(str(fields["provenance"]))
    return Number(**fields)  # pyright: ignore[reportArgumentType]
