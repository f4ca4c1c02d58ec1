"""What one reads off an orbit: pressures, flows, volumes, saturations, by name."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from inseries.circuit.network import Circuit, Floats, Ventricle
from inseries.circuit.oxygen import Oxygen, oxygen_balance
from inseries.circuit.oxygen_exchange import eddy_flow

if TYPE_CHECKING:
    from inseries.circuit.orbit import Orbit

# derived: columns of part_readouts
P_MEAN, P_MAX, P_MIN, V_MAX, V_MIN, STRESS_MEAN, STRESS_MAX, STRETCH_MAX, STRETCH_MIN = range(9)
# derived: mL/s to mL/min
MINUTE_S = 60.0
# derived: names that the beds of the lungs go by; collaterals are counted apart
LUNG_BEDS = frozenset({"lungs", "right_lung", "left_lung"})


@dataclass(frozen=True, kw_only=True)
class Readings:
    """Read-outs of n members by name; each an array, shape (n,)."""

    orbit: Orbit

    @cached_property
    def oxygen(self) -> Oxygen:
        """Oxygen of every part, balanced when first asked for."""
        return oxygen_balance(self.orbit)

    @property
    def circuit(self) -> Circuit:
        """The circuit they were read from."""
        return self.orbit.circuit

    def part(self, name: str, column: int) -> Floats:
        """One read-out of a part."""
        return self.orbit.part_readouts[:, self.circuit.index(name), column]

    def mean_mmhg(self, name: str) -> Floats:
        """Mean pressure of a part."""
        return self.part(name, P_MEAN)

    def systolic_mmhg(self, name: str) -> Floats:
        """Highest pressure of a part."""
        return self.part(name, P_MAX)

    def diastolic_mmhg(self, name: str) -> Floats:
        """Lowest pressure of a part."""
        return self.part(name, P_MIN)

    def end_diastolic_ml(self, name: str) -> Floats:
        """Largest volume of a chamber."""
        return self.part(name, V_MAX)

    def ejection_pct(self, name: str) -> Floats:
        """Ejection fraction of a ventricle, %."""
        return 100.0 * (1.0 - self.part(name, V_MIN) / self.part(name, V_MAX))

    def saturation_pct(self, name: str) -> Floats:
        """Saturation of a part, %."""
        return 100.0 * self.oxygen.saturation[:, self.circuit.index(name)]

    def po2_mmhg(self, name: str) -> Floats:
        """Oxygen pressure of a part."""
        return self.oxygen.po2_mmhg[:, self.circuit.index(name)]

    def venous_pct(self, bed: str) -> Floats:
        """Saturation of blood that leaves a bed, before it mixes, %."""
        return 100.0 * self.oxygen.venous_saturation[:, self.oxygen.beds.index(bed)]

    def flow_ml_s(self, edge: str) -> Floats:
        """Net mean flow of an edge, forwards positive."""
        both = self.orbit.edge_flows_ml_s[:, self.circuit.edge_index(edge)]
        return both[:, 0] - both[:, 1]

    def both_ways_ml_s(self, edge: str) -> tuple[Floats, Floats]:
        """Mean flow of an edge forwards and backwards."""
        both = self.orbit.edge_flows_ml_s[:, self.circuit.edge_index(edge)]
        return both[:, 0], both[:, 1]

    def eddy_ml_s(self, edge: str) -> Floats:
        """Exchange both ways at an edge on top of its net and phasic flow."""
        return np.broadcast_to(eddy_flow(self.circuit.edge(edge)), (self.orbit.members,))

    @property
    def systemic_flow_ml_s(self) -> Floats:
        """Flow through the body's beds, a coronary bed of its own included."""
        edges = self.circuit.edges
        beds = [edge.name for edge in edges if edge.systemic or edge.self_regulated]
        return np.sum([self.flow_ml_s(name) for name in beds], axis=0)

    @property
    def lung_flow_ml_s(self) -> Floats:
        """Flow through the lungs' beds: one, or a right and a left."""
        beds = [edge.name for edge in self.circuit.edges if edge.name in LUNG_BEDS]
        return np.sum([self.flow_ml_s(name) for name in beds], axis=0)

    @property
    def atrial_gradient_mmhg(self) -> Floats:
        """Mean left minus right atrial pressure."""
        return self.mean_mmhg("LA") - self.mean_mmhg("RA")

    @property
    def pressure_ratio(self) -> Floats:
        """Left over right ventricular systolic pressure."""
        return self.systolic_mmhg("LV") / self.systolic_mmhg("RV")

    def mass_g(self, name: str) -> Floats:
        """Wall mass of a ventricle."""
        part = self.circuit.part(name)
        assert isinstance(part, Ventricle)
        return np.broadcast_to(np.asarray(part.mass_g, dtype=np.float64), (self.orbit.members,))


def read(orbit: Orbit) -> Readings:
    """Read-outs of an orbit."""
    return Readings(orbit=orbit)
