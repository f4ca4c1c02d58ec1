"""The one form in which every verb answers: printed, as JSON, and to Python.

A verb gives an `Answer`. Its result is a frozen dataclass of numbers, words, estimates and
further frozen dataclasses, and knows how to show itself in a terminal (`Shown`).
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Protocol, TypeAlias

from inseries.desk.plain import JsonValue, plain, ucum
from inseries.desk.version import version

if TYPE_CHECKING:
    from inseries.base.errors import InseriesError
    from inseries.base.findings import Caution

SCHEMA_ID = "urn:inseries:answer:1"

Criteria: TypeAlias = Mapping[str, float | str | Mapping[str, float | str]]
"""What a tier asks for: name with unit in it, such as ``la_mean_max_mmhg``, to value."""

Progress: TypeAlias = Callable[[str, float], None]
"""Told the name of the stage, in words a user reads, and the fraction of it that is done."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A small table for the terminal; every cell is text and says its own unit."""

    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A result as a reader at a terminal meets it: sentences, then tables, then a picture."""

    sentences: tuple[str, ...] = ()
    tables: tuple[Table, ...] = ()
    picture: str = ""


class Result(Protocol):
    """A frozen dataclass that can show itself."""

    def shown(self) -> Shown:
        """Sentences, tables and picture for the terminal, within 80 columns."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Refusal:
    """Why there is no answer, and what to try; the value is kept as text or number."""

    code: str
    where: str
    value: str | float | bool | None
    unit: str
    try_: str
    what: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """What would be needed to get the same answer again; None where it played no part."""

    seed: int | None = None
    draws: int | None = None
    effective_draws: float | None = None
    criteria: Criteria = field(default_factory=dict[str, "float | str | Mapping[str, float | str]"])
    input_hash: str | None = None
    kernel_hash: str | None = None
    table_hash: str | None = None
    numba: str | None = None
    cpu: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What a verb found, or why it refuses, with cautions, sources and the record of the run.

    Parameters
    ----------
    verb : str, name of the verb
    case_id : str or None, the case's own id
    result : frozen dataclass or None when refused
    refused : Refusal or None
    cautions : tuple of Caution, printed with the result and never dropped
    sources : tuple of str, bibliography keys used in this answer
    run : Run or None
    """

    verb: str
    case_id: str | None = None
    result: Result | None = None
    refused: Refusal | None = None
    cautions: tuple[Caution, ...] = ()
    sources: tuple[str, ...] = ()
    run: Run | None = None

    @property
    def exit_code(self) -> int:
        """0 when the question was answered, 1 when the answer is refused."""
        return 0 if self.refused is None else 1

    def envelope(self) -> dict[str, JsonValue]:
        """The answer as JSON values, keys in the published order.

        Raises
        ------
        ValueError : where a number is not finite; the text names its place
        TypeError : where a value has no form in JSON; the text names its place
        """
        return {
            "inseries": version(),
            "schema": SCHEMA_ID,
            "verb": self.verb,
            "case": self.case_id,
            "result": plain(self.result, "result"),
            "refused": plain(self.refused, "refused"),
            "cautions": plain(self.cautions, "cautions"),
            "sources": plain(self.sources, "sources"),
            "run": plain(self.run, "run"),
        }

    def to_json(self) -> str:
        """The answer as one JSON object in ASCII; stable order, UCUM units, finite numbers."""
        return json.dumps(self.envelope(), allow_nan=False, indent=2)


def refuse(verb: str, error: InseriesError) -> Answer:
    """The answer of a verb that cannot answer.

    Parameters
    ----------
    verb : str, name of the verb that was asked
    error : InseriesError, any leaf of the tree

    Returns
    -------
    Answer, with `refused` set and without a result
    """
    refusal = Refusal(
        code=error.code,
        where=error.where,
        value=_told(error.value),
        unit=ucum(error.unit),
        try_=error.remedy,
        what=error.what,
    )
    return Answer(verb=verb, refused=refusal)


def _told(value: object) -> str | float | bool | None:
    """A refused value may be anything, even what JSON cannot hold: then it is told in words."""
    if value is None or isinstance(value, bool | str):
        return value
    if isinstance(value, int | float) and abs(value) <= _LARGEST_TOLD:
        return value
    return str(value)


# chosen: beyond this a refused number is told as text; also sorts out infinity and NaN.
_LARGEST_TOLD = 1e15
