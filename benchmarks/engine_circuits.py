"""Circuits of the speed report: three newborns, chains of parts, a spread of members."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np

from inseries.circuit.network import Circuit, Edge, Vessel
from inseries.circuit.newborn import normal_newborn, parallel_newborn
from inseries.routes import with_atrial_defect, with_duct

# chosen: members, seed, and spreads (ln) of lung resistance and of the left ventricle's mass
MEMBERS, SEED, LUNG_SPREAD, MASS_SPREAD = 512, 4, 0.3, 0.15
# chosen: what a neighbour's lung resistance differs by
NEIGHBOUR = 1.02
# chosen: parts of chains; a further compartment's compliance (mL/mmHg) and usual pressure (mmHg)
CHAINS, COMPLIANCE, PRESSURE = (5, 9, 15, 25, 40), 0.1, 25.0

CIRCUITS = {
    "normal newborn": normal_newborn(),
    "parallel, atrial defect 7 mm": with_atrial_defect(parallel_newborn(), 7.0),
    "parallel, atrial defect 2.5 mm, duct 3 mm": with_duct(
        with_atrial_defect(parallel_newborn(), 2.5), 3.0
    ),
}


def neighbour(circuit: Circuit) -> Circuit:
    """The circuit with a slightly higher resistance of the lungs."""
    resistance = circuit.edge("lungs").resistance_mmhg_s_ml * NEIGHBOUR
    return circuit.with_edge("lungs", resistance_mmhg_s_ml=resistance)


def ensemble(circuit: Circuit, members: int = MEMBERS) -> Circuit:
    """Members that differ in the resistance of their lungs and the mass of their left ventricle."""
    rng = np.random.default_rng(SEED)
    lungs = circuit.edge("lungs").resistance_mmhg_s_ml
    mass = circuit.part("LV").mass_g
    return circuit.with_edge(
        "lungs", resistance_mmhg_s_ml=lungs * np.exp(LUNG_SPREAD * rng.standard_normal(members))
    ).with_part("LV", mass_g=mass * np.exp(MASS_SPREAD * rng.standard_normal(members)))


def chain(parts: int) -> Circuit:
    """A normal newborn with its lower body in compartments, or its left heart alone."""
    newborn = normal_newborn()
    return _compartments(newborn, parts - len(newborn.parts)) if parts > 5 else _left(newborn)


def _compartments(newborn: Circuit, more: int) -> Circuit:
    if more <= 0:
        return newborn
    bed = newborn.edge("lower_body")
    stops = [bed.start, *(f"bed_{i}" for i in range(more)), bed.end]
    share = bed.resistance_mmhg_s_ml / (more + 1)
    ways = tuple(
        Edge(name=f"bed_to_{end}", start=start, end=end, resistance_mmhg_s_ml=share)
        for start, end in pairwise(stops)
    )
    vessels = tuple(Vessel(name=name, compliance_ml_mmhg=COMPLIANCE) for name in stops[1:-1])
    return replace(
        newborn,
        parts=newborn.parts[:-1] + vessels + newborn.parts[-1:],
        edges=tuple(edge for edge in newborn.edges if edge is not bed) + ways,
        volume_ml=newborn.volume_ml + more * COMPLIANCE * PRESSURE,
    )


def _left(newborn: Circuit) -> Circuit:
    """Left atrium and ventricle, aorta, body and its veins, which lead back to the left atrium."""
    kept = ("mitral", "lv_outlet", "arch", "upper_body", "lower_body")
    back = replace(newborn.edge("body_veins"), end="LA")
    return replace(
        newborn,
        parts=tuple(newborn.part(name) for name in ("LA", "LV", "AoU", "AoD", "SV")),
        edges=(*(newborn.edge(name) for name in kept), back),
        volume_ml=newborn.volume_ml * 0.75,
    )
