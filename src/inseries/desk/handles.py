"""What a finger may move on a page: each numeric option of a verb, and openings tried unwritten."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, cast

from inseries.base.errors import CaseError
from inseries.base.numbers import read_rows
from inseries.desk.verbs import VERBS

if TYPE_CHECKING:
    from collections.abc import Mapping

    from inseries.desk.verbs import Verb

TRIED = "try_"
"""Beginning of the name of a handle that tries a reading without writing it down."""
WITHOUT_PAGE = frozenset({"new", "check", "verify", "demo"})
# chosen: draws of a first look by verb, for an answer within a second or two
COARSE = {"now": 24, "window": 24, "band": 32, "routes": 32, "outlook": 32}
FULLER = frozenset({"window"})
"""Verbs with a second look between the first and the full answer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Handle:
    """One thing that can be moved.

    Parameters
    ----------
    name : of the option, or of a reading behind ``try_``
    word : as the page names it
    unit : as it is printed
    low, high, step : reach of the slider
    verbs : pages that have it
    drawn : what it moves where a picture shows it, such as ``"age"``; empty where none does
    mark : the sign that it moves in the picture of the routes, as lane and sign
    """

    name: str
    word: str
    unit: str
    low: float
    high: float
    step: float
    verbs: tuple[str, ...] = ()
    drawn: str = ""
    mark: str = ""


@cache
def _all() -> tuple[Handle, ...]:
    rows = read_rows("inseries.desk", "handles.toml")
    found: list[Handle] = []
    for name, row in rows.items():
        told = {k: v for k, v in row.items() if k not in {"provenance", "because"}}
        told["verbs"] = tuple(cast("list[str]", told.get("verbs", [])))
        found.append(Handle(name=name, **told))  # pyright: ignore[reportArgumentType]
    return tuple(found)


def handles(verb: Verb) -> tuple[Handle, ...]:
    """What can be moved on the page of a verb."""
    return tuple(h for h in _all() if h.name in verb.takes or verb.name in h.verbs)


def pages() -> tuple[Verb, ...]:
    """The verbs that have a page: those that ask about one case."""
    return tuple(v for v in VERBS.values() if "case" in v.takes and v.name not in WITHOUT_PAGE)


def options(verb: Verb, asked: Mapping[str, str]) -> dict[str, float]:
    """What an address asks for, as numbers within the reach of the handles.

    Raises
    ------
    CaseError, for a word where a number belongs, or a number out of reach
    """
    known = {handle.name: handle for handle in handles(verb)}
    return {name: _number(known[name], told) for name, told in asked.items() if name in known}


def _number(handle: Handle, told: str) -> float:
    try:
        number = float(told.replace(",", "."))
    except ValueError as error:
        raise _refused(handle, told, "this needs a number") from error
    if not handle.low <= number <= handle.high:
        raise _refused(handle, told, "this lies outside what is computed here")
    return number


def _refused(handle: Handle, told: str, what: str) -> CaseError:
    return CaseError(
        what,
        code="impossible_value",
        where=handle.word,
        value=told[:32],
        unit=handle.unit,
        remedy=f"a number from {handle.low:g} to {handle.high:g}.",
    )


def parted(asked: Mapping[str, float]) -> tuple[dict[str, float], dict[str, float]]:
    """What is tried without being written down, and the options of the verb."""
    tries = {name: value for name, value in asked.items() if name.startswith(TRIED)}
    return tries, {name: value for name, value in asked.items() if name not in tries}
