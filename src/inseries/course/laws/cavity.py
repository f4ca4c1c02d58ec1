"""The cavity, which both laws treat alike: it follows its filling and tends back to its size.

d ln V_0/dt = g (λ_ED - λ*) - h ln(V_0/V_usual). Without the second term two parallel loops would
swap volume without limit.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Mapping

    from inseries.course.laws.interface import Load
    from inseries.course.walls import Floats, Wall


def cavity_rate(wall: Wall, load: Load, constants: Mapping[str, float]) -> Floats:
    """Relative rate of the unloaded cavity, per day, shape (n,)."""
    pull = constants["cavity_gain"] * (load.filled_stretch - constants["set_stretch"])
    back = np.log(wall.unloaded_volume_ml / load.usual_volume_ml)
    return pull - constants["cavity_return"] * back
