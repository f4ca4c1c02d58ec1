"""What was made once for the same thing is not made again; the oldest is let go."""

from __future__ import annotations

from collections import OrderedDict
from threading import Lock
from typing import TYPE_CHECKING, Generic, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable, Hashable

Made = TypeVar("Made")
MOST = 96  # chosen: pieces of page kept; each is some hundred kilobytes at most


class Kept(Generic[Made]):
    """Things by what they were made from."""

    def __init__(self) -> None:
        self._held: OrderedDict[Hashable, Made] = OrderedDict()
        self._lock = Lock()

    def get(self, key: Hashable, make: Callable[[], Made]) -> Made:
        """The thing for a key, made where it is not there; two may make it at once, one is kept."""
        with self._lock:
            if key in self._held:
                self._held.move_to_end(key)
                return self._held[key]
        made = make()
        with self._lock:
            self._held[key] = made
            while len(self._held) > MOST:
                self._held.popitem(last=False)
        return made
