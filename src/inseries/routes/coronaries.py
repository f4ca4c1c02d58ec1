"""The vessels of the body's ventricle: ostium, a bed in the squeezed wall, coronary sinus."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from inseries.base.errors import RouteNotPossible
from inseries.circuit.network import Circuit, Edge, SqueezedVessel, Ventricle, Vessel
from inseries.circuit.orbit import Bed
from inseries.routes.additions import addition_values
from inseries.routes.defects import round_area_cm2
from inseries.routes.leaks import AORTA, aortic_valve
from inseries.routes.narrowings import refuse_closed, with_narrowing
from inseries.routes.switch import OPEN_OUTFLOW_CM2

if TYPE_CHECKING:
    from inseries.circuit.network import Leaf, Part

# derived: minutes and 100 g to seconds and 1 g
PER_100G_MIN = 1.0 / 6000.0
# derived: 100 g to 1 g
PER_100G = 1.0 / 100.0


def with_coronaries(circuit: Circuit) -> Circuit:
    """The circuit with a coronary bed of its own for the ventricle that feeds the aorta.

    From the aorta through ``coronary_artery`` (narrow place ``ostium``, wide open) into the great
    coronary vessels ``CA``, through ``coronary_bed`` into the vessels ``CM`` of the wall, which
    bear half the ventricle's pressure, and through ``coronary_sinus`` into the right atrium;
    squeezed veins let nothing back. Resistances and compliances follow the wall's mass. What flows
    here, and the oxygen the wall takes, is taken from ``upper_body``, so that the body's
    resistance and need as a whole stay. Added after an operation, not before: a switch leaves the
    bed with the ventricle it was given.

    The bed keeps its resistance unless ``Regulation(bed=coronary_need(circuit))`` asks it to
    follow its need.

    Parameters
    ----------
    circuit : Circuit after birth, of any topology

    Returns
    -------
    Circuit, of the same topology and volume

    Raises
    ------
    RouteNotPossible
        before birth, or the circuit has a coronary bed already
    """
    if circuit.has_edge("coronary_bed"):
        _refuse("there is a coronary bed already", "coronaries_already", circuit)
    if circuit.topology == "fetal":
        _refuse("the coronary bed is that of a breathing newborn", "before_birth", circuit)
    numbers = addition_values()
    mass = _wall_g(circuit)
    whole = sum(numbers[f"{name}_resistance"] for name in ("epicardial", "bed", "sinus")) / mass
    spared = _spared(circuit, whole, numbers["wall_uptake_share"])
    vessels = _vessels(mass, by=aortic_valve(circuit).start)
    joined = replace(spared, parts=(*vessels, *spared.parts), edges=(*spared.edges, *_ways(mass)))
    return with_narrowing(joined, "coronary_artery", "ostium", OPEN_OUTFLOW_CM2)


def with_ostial_stenosis(circuit: Circuit, diameter_mm: Leaf) -> Circuit:
    """The circuit with a narrow coronary ostium, as after a button was moved.

    Parameters
    ----------
    circuit : Circuit; a coronary bed is added where there is none
    diameter_mm : float or array, shape (n,), narrowest diameter

    Returns
    -------
    Circuit

    Raises
    ------
    RouteNotPossible
        the ostium would be closed, or as ``with_coronaries``
    """
    refuse_closed(diameter_mm, "coronary ostium")
    supplied = circuit if circuit.has_edge("coronary_bed") else with_coronaries(circuit)
    return with_narrowing(supplied, "coronary_artery", "ostium", round_area_cm2(diameter_mm))


def coronary_need(circuit: Circuit, *, work: Leaf = 1.0) -> Bed:
    """Flow that the wall of the body's ventricle needs, and how far its bed can widen.

    Parameters
    ----------
    circuit : Circuit
    work : float or array, shape (n,), need against rest

    Returns
    -------
    Bed, for ``Regulation(bed=...)``
    """
    numbers = addition_values()
    return Bed(
        flow_ml_s=numbers["wall_flow"] * PER_100G_MIN * _wall_g(circuit) * work,
        resistance_low=numbers["widest_bed"],
        resistance_high=numbers["tightest_bed"],
    )


def _vessels(mass_g: Leaf, *, by: str) -> tuple[Part, Part]:
    numbers = addition_values()
    great, inner = numbers["epicardial_compliance"], numbers["wall_compliance"]
    return (
        Vessel(name="CA", compliance_ml_mmhg=great * PER_100G * mass_g),
        SqueezedVessel(
            name="CM",
            compliance_ml_mmhg=inner * PER_100G * mass_g,
            by=by,
            share=numbers["squeeze_share"],
        ),
    )


def _ways(mass_g: Leaf) -> tuple[Edge, Edge, Edge]:
    numbers = addition_values()
    artery, bed, sinus = (
        numbers[f"{name}_resistance"] / mass_g for name in ("epicardial", "bed", "sinus")
    )
    return (
        Edge(name="coronary_artery", start=AORTA, end="CA", resistance_mmhg_s_ml=artery),
        Edge(
            name="coronary_bed",
            start="CA",
            end="CM",
            resistance_mmhg_s_ml=bed,
            uptake_share=numbers["wall_uptake_share"],
            self_regulated=True,
        ),
        Edge(name="coronary_sinus", start="CM", end="RA", resistance_mmhg_s_ml=sinus, valve=True),
    )


def _wall_g(circuit: Circuit) -> Leaf:
    ventricle = circuit.part(aortic_valve(circuit).start)
    assert isinstance(ventricle, Ventricle)
    return ventricle.mass_g


def _spared(circuit: Circuit, resistance: Leaf, share: float) -> Circuit:
    """The circuit whose upper body gives up what goes to the heart."""
    upper = circuit.edge("upper_body")
    left = 1.0 / upper.resistance_mmhg_s_ml - 1.0 / resistance
    if not float(np.min(left)) > 0.0:
        _refuse("the wall would take more than arms and head have", "wall_too_heavy", circuit)
    return circuit.with_edge(
        "upper_body", resistance_mmhg_s_ml=1.0 / left, uptake_share=upper.uptake_share - share
    )


def _refuse(what: str, code: str, circuit: Circuit) -> None:
    raise RouteNotPossible(what, code=code, where="coronaries", value=circuit.topology)
