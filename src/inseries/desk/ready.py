"""Babies kept ready for a finger: narrowed once, looked at as often as something is moved."""

from __future__ import annotations

from collections import OrderedDict
from threading import Lock
from typing import TYPE_CHECKING, Generic, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable, Hashable

Made = TypeVar("Made")
# chosen: babies kept ready; each is some megabytes
MOST_READY = 6


class Babies(Generic[Made]):
    """The last few babies, by case and number of draws."""

    def __init__(self) -> None:
        self._held: OrderedDict[Hashable, Made] = OrderedDict()
        self._making: dict[Hashable, Lock] = {}
        self._lock = Lock()

    def ready(self, key: Hashable, make: Callable[[], Made]) -> Made:
        """A baby as it is now; narrowed only the first time, and by one who asks alone.

        Parameters
        ----------
        key : whatever the draws depend on
        make : narrows them; what it raises is raised, and the next who asks tries again
        """
        with self._lock:
            mine = self._making.setdefault(key, Lock())
        with mine:
            with self._lock:
                if key in self._held:
                    self._held.move_to_end(key)
                    return self._held[key]
            made = make()
            with self._lock:
                self._held[key] = made
                while len(self._held) > MOST_READY:
                    self._making.pop(self._held.popitem(last=False)[0], None)
            return made
