"""Openings between the loops, by diameter: what septostomy, closure and the duct change."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from inseries.circuit.network import Circuit, Leaf

# derived: mm to cm
MM_CM = 10.0


def round_area_cm2(diameter_mm: Leaf) -> Leaf:
    """Area of a round opening."""
    return np.pi / 4.0 * (diameter_mm / MM_CM) ** 2


def with_atrial_defect(circuit: Circuit, diameter_mm: Leaf) -> Circuit:
    """The circuit with an atrial defect of that diameter (septostomy widens it)."""
    return circuit.with_area("atrial_defect", "opening", round_area_cm2(diameter_mm))


def with_duct(circuit: Circuit, diameter_mm: Leaf) -> Circuit:
    """The circuit with an arterial duct of that diameter; 0 closes it."""
    return circuit.with_area("duct", "opening", round_area_cm2(diameter_mm))


def with_ventricular_defect(circuit: Circuit, diameter_mm: Leaf) -> Circuit:
    """The circuit with a ventricular septal defect of that diameter; 0 closes it."""
    return circuit.with_area("ventricular_defect", "opening", round_area_cm2(diameter_mm))
