"""The slow state of a heart: what its two ventricles are made of on one day."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from collections.abc import Sequence

Floats: TypeAlias = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    """One ventricle of n members; each field an array, shape (n,).

    Parameters
    ----------
    mass_g : wall mass
    unloaded_volume_ml : cavity volume at stretch 1
    strength : contractile state, 1 at birth
    synthesis_per_day : growth under way (laws with a lag)
    """

    mass_g: Floats
    unloaded_volume_ml: Floats
    strength: Floats
    synthesis_per_day: Floats

    def at(self, rows: NDArray[np.int64]) -> Wall:
        """Some of the members."""
        return Wall(**{f.name: getattr(self, f.name)[rows] for f in fields(self)})


@dataclass(frozen=True, slots=True, kw_only=True)
class Walls:
    """Both ventricles."""

    left: Wall
    right: Wall

    def at(self, rows: NDArray[np.int64]) -> Walls:
        """Some of the members."""
        return Walls(left=self.left.at(rows), right=self.right.at(rows))


def wall(mass_g: Floats, unloaded_volume_ml: Floats) -> Wall:
    """A ventricle as it is at birth: full strength, no growth under way."""
    mass, volume = np.asarray(mass_g, dtype=np.float64), np.asarray(unloaded_volume_ml)
    return Wall(
        mass_g=mass,
        unloaded_volume_ml=np.broadcast_to(volume, mass.shape).astype(np.float64),
        strength=np.ones_like(mass),
        synthesis_per_day=np.zeros_like(mass),
    )


def joined_walls(several: Sequence[Walls]) -> Walls:
    """The members of several ensembles in one."""
    return Walls(
        left=_joined([walls.left for walls in several]),
        right=_joined([walls.right for walls in several]),
    )


def _joined(several: Sequence[Wall]) -> Wall:
    return Wall(
        **{f.name: np.concatenate([getattr(one, f.name) for one in several]) for f in fields(Wall)}
    )
