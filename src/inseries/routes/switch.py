"""The arterial switch: great arteries crossed back, openings closed, the heart just off bypass."""

from __future__ import annotations

from dataclasses import dataclass, replace

from inseries.base.errors import RouteNotPossible
from inseries.circuit.network import Circuit, Leaf, Ventricle
from inseries.routes.defects import with_atrial_defect, with_duct, with_ventricular_defect


@dataclass(frozen=True, slots=True, kw_only=True)
class AfterBypass:
    """What bypass and cross-clamp leave behind for the first day, as factors and a rate.

    Parameters
    ----------
    left_strength, right_strength : contractility against before
    stiffness : passive stress of the left ventricle against before
    lung_resistance : against before
    rate_per_min : heart rate
    """

    left_strength: Leaf
    right_strength: Leaf
    stiffness: Leaf
    lung_resistance: Leaf
    rate_per_min: Leaf


def arterial_switch(
    circuit: Circuit, after: AfterBypass, *, relieve_outflow: bool, keep_openings: bool = False
) -> Circuit:
    """The circuit after the switch.

    The left ventricle now feeds the aorta through the native pulmonary valve, which travels with
    it; the right ventricle the lung artery. Duct and defects are closed unless kept.

    Parameters
    ----------
    circuit : Circuit with parallel circulations
    after : the heart just off bypass
    relieve_outflow : a left outflow narrowing goes (dynamic, or resected); otherwise it stays in
        the body's path with its gradient
    keep_openings : leave duct and defects as they are

    Returns
    -------
    Circuit, topology ``"repaired"``

    Raises
    ------
    RouteNotPossible
        the circulations are not parallel, or there is a coronary bed already
    """
    if circuit.topology != "parallel":
        raise RouteNotPossible(
            "a switch needs parallel circulations",
            code="not_parallel",
            where="arterial switch",
            value=circuit.topology,
            remedy="a circuit before any switch",
        )
    if circuit.has_edge("coronary_bed"):
        raise RouteNotPossible(
            "a coronary bed lies in the wall of the ventricle that feeds the aorta",
            code="coronaries_already",
            where="arterial switch",
            remedy="the coronary bed after the switch",
        )
    crossed = circuit.with_edge("lv_outlet", end="AoU").with_edge("rv_outlet", end="PA")
    crossed = crossed if keep_openings else _closed(crossed)
    if relieve_outflow:
        crossed = with_left_outflow(crossed, OPEN_OUTFLOW_CM2)
    crossed = crossed.with_area("lv_outlet", "band", OPEN_OUTFLOW_CM2)
    return replace(_off_bypass(crossed, after), topology="repaired")


# chosen: area of an outflow without narrowing, cm²; loss below 0.1 mmHg at 100 mL/s
OPEN_OUTFLOW_CM2 = 10.0


def with_left_outflow(circuit: Circuit, area_cm2: Leaf) -> Circuit:
    """The circuit with the narrowest place of the left outflow at that area."""
    return circuit.with_area("lv_outlet", "outflow", area_cm2)


def _closed(circuit: Circuit) -> Circuit:
    return with_ventricular_defect(with_duct(with_atrial_defect(circuit, 0.0), 0.0), 0.0)


def _off_bypass(circuit: Circuit, after: AfterBypass) -> Circuit:
    left, right = circuit.part("LV"), circuit.part("RV")
    assert isinstance(left, Ventricle)
    assert isinstance(right, Ventricle)
    lungs = circuit.edge("lungs").resistance_mmhg_s_ml
    weakened = circuit.with_part(
        "LV",
        active_stress_mmhg=left.active_stress_mmhg * after.left_strength,
        passive_stress_mmhg=left.passive_stress_mmhg * after.stiffness,
    ).with_part("RV", active_stress_mmhg=right.active_stress_mmhg * after.right_strength)
    changed = weakened.with_edge("lungs", resistance_mmhg_s_ml=lungs * after.lung_resistance)
    return replace(changed, rate_per_min=after.rate_per_min)
