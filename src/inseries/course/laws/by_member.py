"""Each member of an ensemble follows its own law: how laws disagree is part of the answer."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from inseries.course.walls import Wall

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from inseries.course.laws.interface import Individual, Law, Load


@dataclass(frozen=True, slots=True, kw_only=True)
class ByMember:
    """Several laws over one ensemble.

    Parameters
    ----------
    laws : the laws, by number
    which : array, shape (n,), number of each member's law
    """

    laws: tuple[Law, ...]
    which: NDArray[np.int64]

    @property
    def name(self) -> str:
        """Names of the laws that any member follows."""
        return " or ".join(self.laws[number].name for number in self._followed())

    def rates(self, wall: Wall, load: Load, who: Individual, side: str) -> Wall:
        """Rates of every member by its own law; a law nobody follows is not asked."""
        followed = self._followed()
        found = self.laws[followed[0]].rates(wall, load, who, side)
        for number in followed[1:]:
            other = self.laws[number].rates(wall, load, who, side)
            found = _chosen(self.which == number, other, found)
        return found

    def at(self, rows: NDArray[np.int64]) -> ByMember:
        """Some of the members."""
        return ByMember(laws=self.laws, which=self.which[rows])

    def _followed(self) -> list[int]:
        return [number for number in range(len(self.laws)) if (self.which == number).any()]


def _chosen(here: NDArray[np.bool_], one: Wall, other: Wall) -> Wall:
    return Wall(
        mass_g=np.where(here, one.mass_g, other.mass_g),
        unloaded_volume_ml=np.where(here, one.unloaded_volume_ml, other.unloaded_volume_ml),
        strength=np.where(here, one.strength, other.strength),
        synthesis_per_day=np.where(here, one.synthesis_per_day, other.synthesis_per_day),
    )
