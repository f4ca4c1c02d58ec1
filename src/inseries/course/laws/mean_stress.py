"""Growth by the fibre stress averaged over the beat.

Why the mean and not the peak: behind a fixed narrowing a stronger wall keeps its peak stress and
would grow without end, while its mean stress falls as it empties better, so that it settles.

x = S/S_0 - 1.  x > 0: dm/dt = m min(x/τ_up, r) max(0, 1 - (m/(M BSA))²).
x < 0: dm/dt = m x/τ_down. Cavity and strength as under every law.
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


@dataclass(frozen=True, slots=True, kw_only=True)
class MeanStress:
    """Law with the packaged constants, or others where given."""

    name: str = "mean fibre stress"
    constants: Mapping[str, float] = field(default_factory=partial(law_constants, "mean_stress"))

    def rates(self, wall: Wall, load: Load, who: Individual, side: str) -> Wall:
        """Rates per day of mass, cavity and strength."""
        off = off_set_point(load, who, side, self.constants)
        return Wall(
            mass_g=wall.mass_g * self._mass_rate(wall, load, who, side),
            unloaded_volume_ml=wall.unloaded_volume_ml * cavity_rate(wall, load, self.constants),
            strength=strength_rate(wall, off, self.constants),
            synthesis_per_day=np.zeros_like(wall.mass_g),
        )

    def _mass_rate(self, wall: Wall, load: Load, who: Individual, side: str) -> Floats:
        c = self.constants
        x = load.mean_stress_mmhg / (c["set_stress"] * who.set_point) - 1.0
        ceiling = c[f"largest_mass_{side}"] * load.surface_m2
        room = np.maximum(0.0, 1.0 - (wall.mass_g / ceiling) ** 2)
        up = np.minimum(x * who.gain_rate / c["gain_time"], c["fastest_gain"]) * room
        return np.where(x > 0.0, up, x * who.loss_rate / c["loss_time"])
