"""Narrow places by diameter: band, coarctation, and the lung artery after a switch."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from inseries.base.errors import RouteNotPossible
from inseries.circuit.network import Restriction
from inseries.routes.additions import addition_values
from inseries.routes.defects import round_area_cm2

if TYPE_CHECKING:
    from inseries.circuit.network import Circuit, Leaf

# common practice: share of an orifice's area that the jet uses, as of every defect and band
DISCHARGE = 0.8


def with_narrowing(circuit: Circuit, edge: str, name: str, area_cm2: Leaf) -> Circuit:
    """The circuit with a narrow place on an edge: put there, or set where it is already.

    Parameters
    ----------
    circuit : Circuit
    edge, name : the edge, and the narrow place on it
    area_cm2 : float or array, shape (n,)

    Returns
    -------
    Circuit

    Raises
    ------
    CircuitError
        there is no such edge
    """
    places = circuit.edge(edge).restrictions
    if any(place.name == name for place in places):
        return circuit.with_area(edge, name, area_cm2)
    new = Restriction(name=name, area_cm2=area_cm2, discharge=DISCHARGE)
    return circuit.with_edge(edge, restrictions=(*places, new))


def band_lumen_mm(circumference_mm: float) -> float:
    """Lumen that a band of that circumference leaves: the wall lies between the two."""
    return circumference_mm / np.pi - 2.0 * addition_values()["artery_wall"]


def band_circumference_mm(lumen_mm: Leaf) -> Leaf:
    """Circumference of a band that leaves a lumen of that diameter."""
    return np.pi * (lumen_mm + 2.0 * addition_values()["artery_wall"])


def with_band(circuit: Circuit, lumen_mm: Leaf) -> Circuit:
    """The circuit with a band round the lung artery that the left ventricle feeds.

    Parameters
    ----------
    circuit : Circuit, topology ``"parallel"`` or ``"atrial_switched"``
    lumen_mm : float or array, shape (n,), inner diameter that the band leaves

    Returns
    -------
    Circuit

    Raises
    ------
    RouteNotPossible
        the left ventricle does not feed the lung artery, or the band closes it
    """
    if circuit.topology not in ("parallel", "atrial_switched"):
        raise RouteNotPossible(
            "a band trains the left ventricle only where it feeds the lung artery",
            code="left_ventricle_not_before_lungs",
            where="band",
            value=circuit.topology,
            remedy="a circuit with parallel circulations, or after an atrial switch",
        )
    refuse_closed(lumen_mm, "band")
    return with_narrowing(circuit, "lv_outlet", "band", round_area_cm2(lumen_mm))


def with_coarctation(circuit: Circuit, diameter_mm: Leaf) -> Circuit:
    """The circuit with a narrow arch before the duct; 0 is an interrupted arch.

    The narrow place stands in series with the isthmus, whose own loss is small.

    Parameters
    ----------
    circuit : Circuit with an edge ``arch``
    diameter_mm : float or array, shape (n,)

    Returns
    -------
    Circuit

    Raises
    ------
    RouteNotPossible
        arch and duct are both closed: no way to the lower body is left; or a negative diameter
    """
    refuse_negative(diameter_mm, "coarctation")
    duct = circuit.edge("duct").restrictions[0].area_cm2
    if np.any((np.asarray(diameter_mm) <= 0.0) & (np.asarray(duct) <= 0.0)):
        raise RouteNotPossible(
            "with arch and duct closed no blood reaches the legs",
            code="no_way_to_the_legs",
            where="coarctation",
            value=0.0,
            unit="mm",
            remedy="open the duct first",
        )
    return with_narrowing(circuit, "arch", "coarctation", round_area_cm2(diameter_mm))


def with_supravalvar_stenosis(circuit: Circuit, diameter_mm: Leaf) -> Circuit:
    """The circuit with a narrow lung trunk above the valve, as grows at its suture line.

    Parameters
    ----------
    circuit : Circuit, topology ``"repaired"``
    diameter_mm : float or array, shape (n,)

    Returns
    -------
    Circuit

    Raises
    ------
    RouteNotPossible
        before the switch, or the trunk would be closed
    """
    refuse_unrepaired(circuit, "supravalvar stenosis")
    refuse_closed(diameter_mm, "supravalvar stenosis")
    return with_narrowing(circuit, "rv_outlet", "supravalvar", round_area_cm2(diameter_mm))


def refuse_closed(diameter_mm: Leaf, where: str) -> None:
    """Refuses a narrow place without lumen, by ``RouteNotPossible``."""
    smallest = float(np.min(diameter_mm))
    if not smallest > 0.0:
        raise RouteNotPossible(
            "a narrow place must leave a lumen",
            code="closed",
            where=where,
            value=smallest,
            unit="mm",
            remedy="a diameter above zero",
        )


def refuse_negative(diameter_mm: Leaf, where: str) -> None:
    """Refuses a diameter below zero, by ``RouteNotPossible``."""
    smallest = float(np.min(diameter_mm))
    if not smallest >= 0.0:
        raise RouteNotPossible(
            "a diameter cannot be negative",
            code="negative",
            where=where,
            value=smallest,
            unit="mm",
            remedy="0 for a closed place",
        )


def refuse_unrepaired(circuit: Circuit, where: str) -> None:
    """Refuses a circuit that has not had an arterial switch, by ``RouteNotPossible``."""
    if circuit.topology != "repaired":
        raise RouteNotPossible(
            "this narrowing is one of the switched lung artery",
            code="not_repaired",
            where=where,
            value=circuit.topology,
            remedy="a circuit after the arterial switch",
        )
