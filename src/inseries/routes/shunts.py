"""A systemic-to-pulmonary shunt: a tube of its own from the arch to the lung artery."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from inseries.base.errors import RouteNotPossible
from inseries.circuit.network import Edge, Restriction
from inseries.routes.additions import addition_values
from inseries.routes.defects import round_area_cm2
from inseries.routes.narrowings import refuse_negative

if TYPE_CHECKING:
    from inseries.circuit.network import Circuit, Leaf

# derived: mm to cm
MM_CM = 10.0
# derived: mPa s to dyn s/cm², and dyn/cm² to mmHg
MPA_S_DYN, DYN_MMHG = 0.01, 1.0 / 1333.22


def with_shunt(circuit: Circuit, diameter_mm: Leaf) -> Circuit:
    """The circuit with a systemic-to-pulmonary shunt of that inner diameter; 0 closes it.

    The way ``shunt`` leads from the arch to the lung artery: the resistance of a straight tube,
    R = 128 μ l / (π d⁴), in series with the loss at its two ends. Its blood is the aorta's, and
    counts in the oxygen of the lung artery. A tube does not grow: it is put into a circuit that
    already has the baby's size. A shunt that is there is set to the new diameter.

    Parameters
    ----------
    circuit : Circuit after birth
    diameter_mm : float or array, shape (n,)

    Returns
    -------
    Circuit; without any shunt it is the one given

    Raises
    ------
    CircuitError
        there is no arch or no lung artery
    RouteNotPossible
        before birth, or a negative diameter

    Holds for a flow that does not turn turbulent in the tube, as at the flows of an infant.
    """
    circuit.part("AoU")
    circuit.part("PA")
    refuse_negative(diameter_mm, "shunt")
    if circuit.topology == "fetal":
        raise RouteNotPossible(
            "a shunt is for lungs that breathe",
            code="before_birth",
            where="shunt",
            value=circuit.topology,
            remedy="a circuit after birth",
        )
    tube = _tube(diameter_mm)
    if circuit.has_edge("shunt"):
        return replace(
            circuit, edges=tuple(tube if edge.name == "shunt" else edge for edge in circuit.edges)
        )
    if not float(np.max(diameter_mm)) > 0.0:
        return circuit
    return replace(circuit, edges=(*circuit.edges, tube))


def _tube(diameter_mm: Leaf) -> Edge:
    numbers = addition_values()
    ends = Restriction(
        name="opening",
        area_cm2=round_area_cm2(diameter_mm),
        discharge=numbers["shunt_discharge"],
    )
    return Edge(
        name="shunt",
        start="AoU",
        end="PA",
        resistance_mmhg_s_ml=shunt_resistance(diameter_mm),
        restrictions=(ends,),
    )


def shunt_resistance(diameter_mm: Leaf) -> Leaf:
    """Resistance of the tube without its ends, mmHg s/mL; float or array, shape (n,)."""
    numbers = addition_values()
    across_cm = np.maximum(diameter_mm, numbers["shunt_least"]) / MM_CM
    thickness = numbers["shunt_viscosity"] * MPA_S_DYN * DYN_MMHG
    return 128.0 * thickness * numbers["shunt_length"] / (np.pi * across_cm**4)
