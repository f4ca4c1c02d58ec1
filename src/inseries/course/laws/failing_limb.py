"""Muscle short of blood: a ventricle loaded beyond its coronaries' reach is weaker.

Need of a gram goes with mean fibre stress times rate. What a bed widened to its utmost can bring
goes with diastolic pressure over the right atrium times arterial content, and reaches the reserve
of what a healthy newborn's wall takes at rest. c = R (b/b₀)/(n/n₀); strength is times min(1, c).

A weaker wall bears less stress and needs less, so that strength rests at one value; behind an ever
tighter band pressure then falls instead of rising: the failing limb.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from inseries.course.walls import Floats

# published: sidi1981, flow in newborn lambs short of oxygen over that at rest, mL/min/100 g
RESERVE = 438.0 / 183.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Burden:
    """What a left ventricle bears and what its coronaries draw from; arrays, shape (n,).

    Parameters
    ----------
    mean_stress_mmhg : fibre stress averaged over the beat
    rate_per_min : heart rate
    drive_mmhg : diastolic pressure of the aorta over the right atrium's
    content_ml_ml : oxygen in arterial blood
    """

    mean_stress_mmhg: Floats
    rate_per_min: Floats
    drive_mmhg: Floats
    content_ml_ml: Floats

    @property
    def need(self) -> Floats:
        """Stress times rate."""
        return self.mean_stress_mmhg * self.rate_per_min

    @property
    def brought(self) -> Floats:
        """Drive times content; none where pressure does not drive."""
        return np.maximum(self.drive_mmhg, 0.0) * self.content_ml_ml


def share_supplied(burden: Burden, healthy: Burden) -> Floats:
    """Share of its strength that the coronaries let a wall keep, shape (n,).

    Parameters
    ----------
    burden : the heart asked about
    healthy : the healthy newborn at rest, one member

    Holds where need follows stress and rate and nothing of the wall has died. *Source* sidi1981
    """
    reached = RESERVE * (burden.brought / healthy.brought) / (burden.need / healthy.need)
    return np.minimum(1.0, reached)
