"""Growth by how far the fibres are from their usual length at the end of ejection.

A ventricle that cannot empty ends its beat with long fibres: it grows. One that bears little ejects
too far: it shrinks. Either brings the fibres back, so that the law settles behind a narrowing as
well as between two parallel loops.

e = λ_ES/λ_ES* - 1.  e > 0: u = k₊ min(e, e₊);  e < 0: u = k₋ max(e, -e₋).
Synthesis takes its time: da/dt = (u - a)/τ_a.
a > 0: dm/dt = m a max(0, 1 - (m/(M BSA))⁴);  a < 0: dm/dt = m a.
Cavity and strength as under every law.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from inseries.course.laws.cavity import cavity_rate
from inseries.course.laws.constants import law_constants
from inseries.course.laws.strength import off_set_point, strength_rate
from inseries.course.walls import Floats, Wall

if TYPE_CHECKING:
    from collections.abc import Mapping

    from inseries.course.laws.interface import Individual, Load

# chosen: a fourth power leaves walls well below the ceiling free
ROOM_POWER = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class EmptiedStretch:
    """Law with the packaged constants, or others where given."""

    name: str = "emptied fibre stretch"
    constants: Mapping[str, float] = field(
        default_factory=partial(law_constants, "emptied_stretch")
    )

    def rates(self, wall: Wall, load: Load, who: Individual, side: str) -> Wall:
        """Rates per day of mass, cavity, strength and synthesis."""
        c = self.constants
        off = off_set_point(load, who, side, c)
        return Wall(
            mass_g=wall.mass_g * self._growth(wall, load, side),
            unloaded_volume_ml=wall.unloaded_volume_ml * cavity_rate(wall, load, c),
            strength=strength_rate(wall, off, c),
            synthesis_per_day=(self._wished(off, who) - wall.synthesis_per_day)
            / c["synthesis_days"],
        )

    def _growth(self, wall: Wall, load: Load, side: str) -> Floats:
        """Relative rate of mass per day: synthesis, the less the nearer the ceiling."""
        ceiling = self.constants[f"largest_mass_{side}"] * load.surface_m2
        room = np.maximum(0.0, 1.0 - (wall.mass_g / ceiling) ** ROOM_POWER)
        return np.where(wall.synthesis_per_day > 0.0, room, 1.0) * wall.synthesis_per_day

    def _wished(self, off: Floats, who: Individual) -> Floats:
        """Synthesis that the stretch asks for, per day."""
        c = self.constants
        up = c["gain_rate"] * who.gain_rate * np.minimum(off, c["largest_excess"])
        down = c["loss_rate"] * who.loss_rate * np.maximum(off, -c["largest_lack"])
        return np.where(off > 0.0, up, down)
