"""The body over decades and the draws: all that the parts of an outlook share."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from inseries.norms.body import CDC_Z_LIMIT, DAYS_PER_YEAR, LAST_YEAR, Body, body_at
from inseries.norms.zscores import echo_z
from inseries.outlook.numbers import draw, drawn_names
from inseries.prior.traits import normals

if TYPE_CHECKING:
    from inseries.norms.lms import Sex
    from inseries.outlook.numbers import Floats

# chosen: years looked at, closer while the body grows fast
YEARS = (0.25, 0.5, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 14.0, 15.0, 16.0, 18.0, 20.0,
         25.0, 30.0, 35.0, 40.0)  # fmt: skip
# chosen: streams of draws beside those of the table: one for each material, some for sizes
EXTRA = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """One child's body at every age looked at, and n draws of what is not known.

    Parameters
    ----------
    sex : ``"female"`` or ``"male"``
    z : float, weight and length for age, kept from the operation on
    years : array, shape (a,), ages; the first is the operation's
    bodies : tuple of Body, one an age
    normals : array, shape (n, columns), standard normal
    """

    sex: Sex
    z: float
    years: Floats
    bodies: tuple[Body, ...]
    normals: Floats

    @property
    def draws(self) -> int:
        """How many draws."""
        return self.normals.shape[0]

    @property
    def surface_m2(self) -> Floats:
        """Body surface at every age, m², shape (a,)."""
        return np.array([body.surface_m2 for body in self.bodies])

    @property
    def growth(self) -> Floats:
        """Diameter of native wall over that at the operation, shape (a,)."""
        return (self.surface_m2 / self.surface_m2[0]) ** POWER

    def usual_mm(self, item: str) -> Floats:
        """Usual size of an echo item at every age, mm, shape (a,)."""
        return np.array([echo_z(item, 1.0, m2).expected for m2 in self.surface_m2])

    def drawn(self, name: str) -> Floats:
        """One row of the table at this child's draws, shape (n,)."""
        return draw(name, self.normals[:, drawn_names().index(name)])

    def extra(self, column: int) -> Floats:
        """Further standard normals, shape (n,)."""
        return self.normals[:, len(drawn_names()) + column]

    def middle(self) -> Frame:
        """The same child with everything unknown at its middle: one draw."""
        return replace(self, normals=np.zeros((1, self.normals.shape[1])))

    def at(self, year: float) -> int:
        """Place of the age looked at that lies nearest."""
        return int(np.argmin(np.abs(self.years - year)))


# published: sluysmans2005, diameters grow with the square root of body surface
POWER = 0.5


def years_from(operation_years: float) -> Floats:
    """The operation's age and every later age looked at, years."""
    later = [year for year in YEARS if year > operation_years]
    return np.array([operation_years, *later])


def frame_of(
    sex: Sex, *, z: float, operation_days: float, draws: int, seed: int, digest: str
) -> Frame:
    """The frame of one child.

    Parameters
    ----------
    sex : ``"female"`` or ``"male"``
    z : float, weight and length for age; kept within two deviations, beyond which no reference
        holds past nine years
    operation_days : float, age at the operation
    draws, seed, digest : how many draws, and what they are keyed by

    Raises
    ------
    NormsError : an age outside the table
    """
    kept = float(np.clip(z, -CDC_Z_LIMIT, CDC_Z_LIMIT))
    years = years_from(operation_days / DAYS_PER_YEAR)
    shape = (draws, len(drawn_names()) + EXTRA)
    return Frame(
        sex=sex,
        z=kept,
        years=years,
        bodies=tuple(body_at(sex, float(min(year, LAST_YEAR)), kept) for year in years),
        normals=normals(shape, seed, digest, "outlook"),
    )
