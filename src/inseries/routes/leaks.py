"""Valves that leak, by the effective opening through which blood comes back."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from inseries.base.errors import RouteNotPossible

if TYPE_CHECKING:
    from inseries.circuit.network import Circuit, Edge, Leaf

# derived: the vessel whose valve is the body's
AORTA = "AoU"


def with_valve_leak(circuit: Circuit, valve: str, area_cm2: Leaf) -> Circuit:
    """The circuit with a valve that leaks backwards.

    Parameters
    ----------
    circuit : Circuit
    valve : name of an edge that is a valve, such as ``"mitral"``
    area_cm2 : float or array, shape (n,), effective regurgitant opening; 0 for a tight valve

    Returns
    -------
    Circuit; the way forwards is as before

    Raises
    ------
    CircuitError
        there is no such edge
    RouteNotPossible
        the edge is no valve, or the opening is negative or wider than the valve itself

    Source: the effective regurgitant opening as zoghbi2017 grades it.
    """
    edge = circuit.edge(valve)
    if not edge.valve or edge.own_law is not None:
        raise RouteNotPossible(
            "only a valve can leak",
            code="no_valve",
            where=valve,
            remedy="a way that lets nothing back, such as mitral or lv_outlet",
        )
    widest = float(np.max(np.asarray(area_cm2) / _narrowest_cm2(edge)))
    if not (float(np.min(area_cm2)) >= 0.0 and widest <= 1.0):
        raise RouteNotPossible(
            "a leak lies between none and the whole valve",
            code="leak_out_of_bounds",
            where=f"leak of {valve}",
            value=float(np.max(area_cm2)) if widest > 1.0 else float(np.min(area_cm2)),
            unit="cm2",
        )
    return circuit.with_edge(valve, leak_area_cm2=area_cm2)


def with_aortic_leak(circuit: Circuit, area_cm2: Leaf) -> Circuit:
    """The circuit with a leak of the valve before the aorta, whichever ventricle feeds it.

    After an arterial switch this is the native pulmonary valve; arguments and refusals are those
    of ``with_valve_leak``.
    """
    return with_valve_leak(circuit, aortic_valve(circuit).name, area_cm2)


def aortic_valve(circuit: Circuit) -> Edge:
    """The valve through which blood enters the aorta; its start is the body's ventricle."""
    for edge in circuit.edges:
        if edge.valve and edge.end == AORTA:
            return edge
    raise RouteNotPossible(
        "no valve leads into the aorta", code="no_valve", where=AORTA, value=circuit.topology
    )


def _narrowest_cm2(edge: Edge) -> Leaf:
    narrowest: Leaf = np.inf
    for place in edge.restrictions:
        narrowest = np.minimum(narrowest, place.area_cm2)
    return narrowest
