"""Extracorporeal support: a pump and an oxygenator from the body's veins to the aorta."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from inseries.base.errors import RouteNotPossible
from inseries.circuit.network import Edge, OwnLaw
from inseries.routes.additions import addition_values

if TYPE_CHECKING:
    from inseries.circuit.network import Circuit, Leaf


def with_support(
    circuit: Circuit, head_mmhg: Leaf, *, start: str = "RA", surface_ratio: Leaf = 1.0
) -> Circuit:
    """The circuit on support: blood drawn from a vein, given back red to the aorta.

    The way ``support`` obeys ΔP + P_h = R Q + B Q². Blood leaves it with the oxygen of blood that
    leaves the lungs (``Blood.lung_saturation``, inspired gas).

    Parameters
    ----------
    circuit : Circuit after birth
    head_mmhg : P_h, pressure that the pump adds; float or array, shape (n,); see ``pump_head_mmhg``
    start : where blood is drawn; ``"RA"`` or ``"SV"``; after an atrial switch ``"LA"`` is blue
    surface_ratio : body surface over that of the reference newborn, for oxygenator and cannulas

    Returns
    -------
    Circuit

    Raises
    ------
    CircuitError
        there is no part ``start``
    RouteNotPossible
        before birth, a negative head, a size that is not above zero, or support twice
    """
    circuit.part(start)
    if circuit.topology == "fetal":
        _refuse("support is for a breathing newborn", "before_birth", circuit.topology)
    if circuit.has_edge("support"):
        _refuse("there is support already", "support_already", circuit.topology)
    if not float(np.min(head_mmhg)) >= 0.0:
        _refuse("a pump adds pressure", "negative", float(np.min(head_mmhg)))
    resistance, loss = _circuit_numbers(surface_ratio)
    # A pump that adds nothing stands still; the law asks for numbers above zero.
    head = np.maximum(head_mmhg, LEAST_HEAD_MMHG)
    law = OwnLaw(name="pump", numbers={"R": resistance, "B": loss, "P_h": head})
    way = Edge(name="support", start=start, end="AoU", own_law=law, lungs=True)
    return replace(circuit, edges=(*circuit.edges, way))


# chosen: head of a pump that stands, mmHg
LEAST_HEAD_MMHG = 1e-9


def pump_head_mmhg(flow_ml_s: Leaf, against_mmhg: Leaf, *, surface_ratio: Leaf = 1.0) -> Leaf:
    """Head at which a pump gives a steady flow.

    Parameters
    ----------
    flow_ml_s : float or array, shape (n,)
    against_mmhg : pressure of the aorta above that of the vein
    surface_ratio : as in ``with_support``

    Returns
    -------
    float or array, shape (n,), mmHg

    Holds for steady pressures; where they pulse, flow is a little other than asked for.
    """
    resistance, loss = _circuit_numbers(surface_ratio)
    return against_mmhg + resistance * flow_ml_s + loss * flow_ml_s**2


def _circuit_numbers(surface_ratio: Leaf) -> tuple[Leaf, Leaf]:
    if not float(np.min(surface_ratio)) > 0.0:
        _refuse("a size must be above zero", "no_size", float(np.min(surface_ratio)))
    numbers = addition_values()
    return numbers["support_resistance"] / surface_ratio, numbers["support_loss"] / surface_ratio**2


def _refuse(what: str, code: str, value: object) -> None:
    raise RouteNotPossible(what, code=code, where="support", value=value)
