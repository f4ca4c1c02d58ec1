"""What a growth law is asked, and what it answers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from inseries.course.walls import Floats, Wall


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """What one ventricle bears; each an array, shape (n,).

    Parameters
    ----------
    mean_stress_mmhg : fibre stress averaged over the beat
    filled_stretch : largest fibre stretch of the beat
    emptied_stretch : smallest fibre stretch of the beat
    surface_m2 : body surface on that day
    usual_volume_ml : cavity a ventricle of that body tends to
    """

    mean_stress_mmhg: Floats
    filled_stretch: Floats
    emptied_stretch: Floats
    surface_m2: Floats
    usual_volume_ml: Floats


@dataclass(frozen=True, slots=True, kw_only=True)
class Individual:
    """How one baby's walls differ from the law's constants; factors, shape (n,)."""

    set_point: Floats
    gain_rate: Floats
    loss_rate: Floats


class Law(Protocol):
    """A growth law: the rates of a wall under its load."""

    @property
    def name(self) -> str:
        """What the law is called in an answer."""
        ...

    def rates(self, wall: Wall, load: Load, who: Individual, side: str) -> Wall:
        """Rates of change per day of every field of the wall; side is "left" or "right"."""
        ...
