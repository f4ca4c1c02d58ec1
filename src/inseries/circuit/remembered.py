"""What was once made of a record, found again by the record itself and forgotten with it.

Records that are alike stay equal, as values are; only the very same one is found. A dictionary of
weak keys would ask for hashes, which records of arrays do not have.
"""

from __future__ import annotations

from typing import Generic, TypeVar
from weakref import ref

K = TypeVar("K")
V = TypeVar("V")


class Remembered(Generic[K, V]):
    """A memory of frozen records; it keeps none of them alive."""

    def __init__(self) -> None:
        self._kept: dict[int, tuple[ref[K], V]] = {}

    def __contains__(self, record: K) -> bool:
        """Whether something was made of this very record."""
        kept = self._kept.get(id(record))
        return kept is not None and kept[0]() is record

    def __getitem__(self, record: K) -> V:
        """What was made of it; KeyError when nothing was."""
        return self._kept[id(record)][1]

    def __setitem__(self, record: K, made: V) -> None:
        """Remembers it for as long as the record lives."""
        key, kept = id(record), self._kept
        kept[key] = ref(record, lambda _: kept.pop(key, None)), made

    def __len__(self) -> int:
        """How many records are remembered."""
        return len(self._kept)
