"""What the left ventricle could carry on the first day after a switch.

For each tier the heart is filled to the tier's limit of left atrial pressure and the arterial mean
pressure is held by resistance; the output that results must reach the tier's, with a resistance
the bed can give. Given a baby's traits only the operation's own unknowns vary: a design of six
points (middle, two either side of two unknowns, one beside a third that matters less) gives
margins as smooth functions, which are then asked at many drawn unknowns.
"""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING

import numpy as np

from inseries.circuit.orbit import Regulation, Warm, find_orbit
from inseries.circuit.readouts import Readings, read
from inseries.circuit.repeated import repeated
from inseries.prior.bypass import drawn, unknowns
from inseries.prior.traits import Floats, normals
from inseries.routes import AfterBypass, arterial_switch

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    from inseries.circuit.network import Circuit
    from inseries.course.walls import Walls
    from inseries.prior.baby import Baby

# derived: the three unknowns that vary, in the order of their column
UNKNOWNS = ("left_strength", "stiffness", "lung_resistance")
# chosen: the first so many unknowns bend the margins, the rest move them in a straight line
BENT = 2
# chosen: design points lie this many deviations from the middle
DESIGN_REACH = 1.5
# chosen: unknowns drawn to turn margins into a chance; 512 keep its error below 2 points a draw
CHANCE_DRAWS = 512
# chosen: widest search for a resistance that holds the pressure, factors of the baby's own
RESISTANCE_SEARCH_HIGH = 4.0
# derived: mL/s to L/min
L_MIN = 0.06
# derived: no other story to begin beside
NOWHERE: Mapping[float, Floats] = MappingProxyType({})


@dataclass(frozen=True, slots=True, kw_only=True)
class Tier:
    """What counts as carrying the body.

    Parameters
    ----------
    cardiac_index_min_l_min_m2, la_mean_max_mmhg, arterial_mean_min_mmhg : the criteria
    """

    name: str
    cardiac_index_min_l_min_m2: float
    la_mean_max_mmhg: float
    arterial_mean_min_mmhg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Carrying:
    """How one tier is met on one day; arrays of shape (n,).

    Parameters
    ----------
    chance : probability over the operation's unknowns, given the traits
    met : shape (n, unknowns drawn), whether the tier is met under each of the drawn unknowns
    short_of_output, short_of_pressure : share of unknowns that fail by each criterion
    cardiac_index_l_min_m2, resistance_factor : with the unknowns at their middle
    """

    chance: Floats
    met: NDArray[np.bool_]
    short_of_output: Floats
    short_of_pressure: Floats
    cardiac_index_l_min_m2: Floats
    resistance_factor: Floats
    ejection_pct: Floats
    lv_systolic_mmhg: Floats


class Operation:
    """The switch tried on many days of one baby; neighbours in time start from one another.

    Parameters
    ----------
    baby : the draws
    tiers : criteria
    seed, digest : of the run and the case
    bent : whether margins bend with strength and stiffness; False takes them straight, for a
        coarse look with two design points fewer
    beside : ``starts`` of the same draws and design under another story, to begin near them
    """

    def __init__(
        self,
        baby: Baby,
        tiers: tuple[Tier, ...],
        seed: int,
        digest: str,
        *,
        bent: bool = True,
        beside: Mapping[float, Floats] = NOWHERE,
    ) -> None:
        self.baby = baby
        self.tiers = tiers
        self.z = normals((CHANCE_DRAWS, len(UNKNOWNS)), seed, digest, "operation")
        self.bent = BENT if bent else 0
        self.design = _design(self.bent)
        self._warm: dict[float, Warm] = {}
        self._beside = beside

    @property
    def starts(self) -> dict[float, Floats]:
        """Unknowns of the orbits found, by age: where those of another story may begin."""
        return {age: warm.unknowns for age, warm in self._warm.items()}

    def on(self, age_days: float, walls: Walls) -> dict[str, Carrying]:
        """Every tier on one day, by name."""
        orbit = find_orbit(
            self._switched(self.baby.unrepaired(age_days, walls)),
            self._regulation(),
            settings=self.baby.settings,
            check=False,
            warm=self._start(age_days),
        )
        self._warm[age_days] = orbit.warm
        self.baby.note(orbit, len(self.design) * len(self.tiers))
        readings, surface = read(orbit), self.baby.story.surface_m2(age_days)
        return {
            tier.name: self._carrying(place, readings, surface)
            for place, tier in enumerate(self.tiers)
        }

    def _switched(self, circuit: Circuit) -> Circuit:
        """Every draw under every design point for every tier: members, then tiers, then points."""
        members, tiers = self.baby.traits.members, len(self.tiers)
        wide = repeated(circuit, members, tiers * len(self.design))
        columns = np.tile(self.design, (members * tiers, 1))
        after = AfterBypass(
            left_strength=drawn("left_strength", columns[:, 0]),
            stiffness=drawn("stiffness", columns[:, 1]),
            lung_resistance=drawn("lung_resistance", columns[:, 2]),
            right_strength=unknowns()["right_strength"][0],
            rate_per_min=unknowns()["rate"][0],
        )
        relieved = self.baby.story.outflow_yields
        return arterial_switch(wide, after, relieve_outflow=relieved)

    def _regulation(self) -> Regulation:
        """Each tier's pressure held and its filling reached, with a resistance searched for."""

        def each(values: list[float]) -> Floats:
            return np.tile(np.repeat(values, len(self.design)), self.baby.traits.members)

        return Regulation(
            pressure_mmhg=each([tier.arterial_mean_min_mmhg for tier in self.tiers]),
            filling_mmhg=each([tier.la_mean_max_mmhg for tier in self.tiers]),
            resistance_low=unknowns()["resistance_low"][0],
            resistance_high=RESISTANCE_SEARCH_HIGH,
            volume_low=0.3,
            volume_high=4.0,
        )

    def _start(self, age: float) -> Warm | None:
        """Where a search may start, a copy, since a search moves its start.

        From the nearest day tried, and on as the neighbour's story went on; without one between the
        days tried before and after.
        """
        beside = self._beside
        if not self._warm:
            return Warm.beginning(beside[age].copy(), held=True) if age in beside else None
        close = min(self._warm, key=lambda other: abs(other - age))
        start = self._warm[close].at(np.arange(len(self._warm[close].known)))
        across = [other for other in self._warm if (other - age) * (close - age) < 0.0]
        if age in beside and close in beside:
            start.unknowns += beside[age] - beside[close]
        elif across:
            far = min(across, key=lambda other: abs(other - age))
            share = (age - close) / (far - close)
            start.unknowns += share * (self._warm[far].unknowns - start.unknowns)
        return start

    def _carrying(self, place: int, readings: Readings, surface: float) -> Carrying:
        def mine(values: Floats) -> Floats:
            """Values of this tier, shape (n, points)."""
            return values.reshape(-1, len(self.tiers), len(self.design))[:, place]

        index = mine(readings.systemic_flow_ml_s) * L_MIN / surface
        factor = mine(readings.orbit.resistance_factor)
        output = self._asked(index) - self.tiers[place].cardiac_index_min_l_min_m2
        tone = unknowns()["resistance_high"][0] - self._asked(factor)
        met = (output >= 0.0) & (tone >= 0.0)
        return Carrying(
            chance=met.mean(axis=1),
            met=met,
            short_of_output=(output < 0.0).mean(axis=1),
            short_of_pressure=((tone < 0.0) & (output >= 0.0)).mean(axis=1),
            cardiac_index_l_min_m2=index[:, 0],
            resistance_factor=factor[:, 0],
            ejection_pct=mine(readings.ejection_pct("LV"))[:, 0],
            lv_systolic_mmhg=mine(readings.systolic_mmhg("LV"))[:, 0],
        )

    def _asked(self, values: Floats) -> Floats:
        """Values at the design points, (n, points), carried to the drawn unknowns: (n, draws)."""
        bends = self.bent
        middle = values[:, :1]
        bent, straight = self.z[:, :bends], self.z[:, bends:]
        low, high = values[:, 1 : 1 + bends], values[:, 1 + bends : 1 + 2 * bends]
        slope = (high - low) / (2.0 * DESIGN_REACH)
        bend = (high + low - 2.0 * middle) / (2.0 * DESIGN_REACH**2)
        beside = (values[:, 1 + 2 * bends :] - middle) / DESIGN_REACH
        return middle + slope @ bent.T + bend @ (bent.T**2) + beside @ straight.T


def _design(bent: int) -> Floats:
    """Rows: middle; each bent unknown below; each above; each straight one above."""
    count = len(UNKNOWNS)
    reach = DESIGN_REACH * np.eye(count)
    return np.vstack([np.zeros((1, count)), -reach[:bent], reach[:bent], reach[bent:]])
