"""A small circulation in which every law of part, edge and wall is at work."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from rooms.circuit_samples import narrow, small

from inseries.circuit.flat import flatten
from inseries.circuit.network import (
    Atrium,
    Edge,
    OwnLaw,
    Part,
    Pericardium,
    Septum,
    SqueezedVessel,
    Ventricle,
    Vessel,
)
from inseries.circuit.orbit import Bed, Reflex, Regulation, Settings, find_orbit

if TYPE_CHECKING:
    from inseries.circuit.network import Circuit, Leaf


def _ventricle(name: str, mass_g: float) -> Ventricle:
    return Ventricle(
        name=name,
        mass_g=mass_g,
        unloaded_volume_ml=4.8,
        active_stress_mmhg=700.0,
        passive_stress_mmhg=6.0,
        passive_exponent=12.0,
    )


PARTS: tuple[Part, ...] = (
    _ventricle("LV", 8.0),
    _ventricle("RV", 4.0),
    Atrium(
        name="LA",
        elastance_min_mmhg_ml=1.0,
        elastance_max_mmhg_ml=2.5,
        unloaded_volume_ml=2.0,
    ),
    Vessel(name="aorta", compliance_ml_mmhg=0.25),
    SqueezedVessel(name="wall", compliance_ml_mmhg=0.1, by="LV", share=0.3),
    Vessel(name="PA", compliance_ml_mmhg=0.5),
    Vessel(name="legs", compliance_ml_mmhg=0.3),
    Vessel(name="veins", compliance_ml_mmhg=5.0),
)
EDGES: tuple[Edge, ...] = (
    Edge(
        name="mitral",
        start="LA",
        end="LV",
        resistance_mmhg_s_ml=0.05,
        valve=True,
        restrictions=(narrow(0.5),),
    ),
    Edge(
        name="aortic",
        start="LV",
        end="aorta",
        resistance_mmhg_s_ml=0.05,
        valve=True,
        restrictions=(narrow(0.3),),
        leak_area_cm2=0.01,
    ),
    Edge(
        name="arch",
        start="aorta",
        end="legs",
        resistance_mmhg_s_ml=0.2,
        inertance_mmhg_s2_ml=0.02,
        restrictions=(narrow(0.2),),
    ),
    Edge(name="arms_bed", start="aorta", end="veins", resistance_mmhg_s_ml=9.0, systemic=True),
    Edge(name="legs_bed", start="legs", end="veins", resistance_mmhg_s_ml=9.0, systemic=True),
    Edge(
        name="coronary_bed",
        start="aorta",
        end="wall",
        resistance_mmhg_s_ml=60.0,
        self_regulated=True,
    ),
    Edge(name="sinus", start="wall", end="veins", resistance_mmhg_s_ml=15.0),
    Edge(
        name="tricuspid",
        start="veins",
        end="RV",
        own_law=OwnLaw(name="two_way", numbers={"R_f": 0.1, "R_b": 50.0}),
    ),
    Edge(name="pulmonary", start="RV", end="PA", resistance_mmhg_s_ml=0.1, valve=True),
    Edge(name="lungs", start="PA", end="LA", resistance_mmhg_s_ml=0.8),
    Edge(
        name="duct",
        start="legs",
        end="PA",
        resistance_mmhg_s_ml=0.1,
        restrictions=(narrow(0.02, 0.8),),
    ),
    Edge(
        name="support",
        start="veins",
        end="aorta",
        own_law=OwnLaw(name="pump", numbers={"R": 5.0, "B": 0.5, "P_h": 70.0}),
    ),
)
SEPTUM = Septum(left="LV", right="RV", elastance_mmhg_ml=50.0, viscosity_mmhg_s_ml=0.3)
SAC = Pericardium(around=("LV", "RV", "LA"), pressure_mmhg=0.5, exponent=4.0, volume_ml=30.0)

# A body that answers by reflex, fills itself, and has a bed of its own; no bound is reached.
ANSWERING = Regulation(
    pressure_mmhg=66.0,
    filling_mmhg=21.0,
    flow_ml_s=15.0,
    resistance_low=0.4,
    resistance_high=2.5,
    volume_low=0.5,
    volume_high=2.0,
    reflex=Reflex(gain=2.0, rate=0.4, strength=0.3, volume=0.1),
    bed=Bed(flow_ml_s=0.8, resistance_low=0.2, resistance_high=4.0),
)


def every_law(*, mass_g: Leaf = 8.0, leak_area_cm2: Leaf = 0.01) -> Circuit:
    """Two ventricles, an atrium and their vessels, joined by one edge at least of every law."""
    circuit = small(PARTS, EDGES, volume_ml=110.0, period_s=0.4)
    circuit = circuit.with_part("LV", mass_g=mass_g)
    circuit = circuit.with_edge("aortic", leak_area_cm2=leak_area_cm2)
    return replace(
        circuit, septum=SEPTUM, pericardium=SAC, pressure_part="aorta", filling_part="LA"
    )


def state_of(circuit: Circuit) -> list[float]:
    """The whole state of one circulation, own states too, as its repeating beat begins."""
    fine = Settings(steps=800, tolerance_ml=1e-8)
    unknowns = find_orbit(circuit, settings=fine).unknowns[0]
    size, others = flatten(circuit).states, len(circuit.parts) - 1
    last = unknowns[size - 1] - unknowns[:others].sum()
    return [*unknowns[:others], last, *unknowns[others : size - 1]]
