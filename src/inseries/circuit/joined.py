"""Refusals: networks that cannot be a circulation, whatever their numbers."""

from __future__ import annotations

from collections import Counter
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple, NoReturn

from inseries.base.errors import CircuitError

if TYPE_CHECKING:
    from collections.abc import Sequence


class Way(NamedTuple):
    """An edge as far as its place in the network goes."""

    name: str
    start: str
    end: str
    valve: bool


@lru_cache(maxsize=256)
def refuse_unjoined(
    parts: tuple[str, ...], ways: tuple[Way, ...], watched: tuple[str, ...]
) -> None:
    """Refuses a network that cannot be a circulation; one that was looked at is known.

    Parameters
    ----------
    parts : names of the parts
    ways : edges
    watched : names of the parts whose pressure regulation watches

    Raises
    ------
    CircuitError
        a name given twice, an edge or a watch on a part that is not there, an edge from a part
        to itself, a part with no way in or no way out
    """
    _refuse_twice(parts, "a part is named twice", "part_twice")
    _refuse_twice([way.name for way in ways], "an edge is named twice", "edge_twice")
    for way in ways:
        for name in (way.start, way.end):
            if name not in parts:
                _refuse("an edge ends at a part that is not there", "no_such_part", way.name, name)
        if way.start == way.end:
            _refuse("an edge leads nowhere else", "edge_to_itself", way.name, way.start)
    for name in watched:
        if name not in parts:
            _refuse("a part to be watched is not there", "no_such_part", name)
    _refuse_dead_ends(parts, ways)


def _refuse_dead_ends(parts: Sequence[str], ways: Sequence[Way]) -> None:
    """A way without valve leads both in and out."""
    into = {way.end for way in ways} | {way.start for way in ways if not way.valve}
    out = {way.start for way in ways} | {way.end for way in ways if not way.valve}
    for name in parts:
        if name not in into or name not in out:
            side = "out of" if name in into else "into"
            _refuse(f"no way leads {side} a part", "dead_end", name)


def _refuse_twice(names: Sequence[str], what: str, code: str) -> None:
    for name, times in Counter(names).items():
        if times > 1:
            _refuse(what, code, name)


def _refuse(what: str, code: str, where: str, value: str | None = None) -> NoReturn:
    raise CircuitError(what, code=code, where=where, value=value)
