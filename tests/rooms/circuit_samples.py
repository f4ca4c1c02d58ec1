"""Small circulations and regulations that the tests of circuit, routes and course share."""

from __future__ import annotations

from inseries.circuit.given_state import beat_from
from inseries.circuit.network import (
    Atrium,
    Blood,
    Circuit,
    Edge,
    Floats,
    Part,
    Restriction,
    Ventricle,
    Vessel,
)
from inseries.circuit.orbit import Regulation

BLOOD = Blood(
    haemoglobin_g_dl=16.0, capacity_ml_g=1.36, consumption_ml_min=20.0, lung_saturation=0.97
)
HELD = Regulation(
    pressure_mmhg=48.0,
    filling_mmhg=12.0,
    flow_ml_s=11.0,
    resistance_low=0.6,
    resistance_high=1.6,
    volume_low=0.85,
    volume_high=3.0,
)


def small(
    parts: tuple[Part, ...], edges: tuple[Edge, ...], *, volume_ml: float, period_s: float
) -> Circuit:
    """A circuit of a few parts; its first part is the one that regulation would watch."""
    first = parts[0].name
    return Circuit(
        topology="small",
        parts=parts,
        edges=edges,
        rate_per_min=60.0 / period_s,
        volume_ml=volume_ml,
        blood=BLOOD,
        pressure_part=first,
        filling_part=first,
    )


def two_vessels(*, inertance: float = 0.0, resistance: float = 2.0, period_s: float) -> Circuit:
    """Two vessels of 0.5 and 1.5 mL/mmHg joined by one way."""
    way = Edge(
        name="way",
        start="A",
        end="B",
        resistance_mmhg_s_ml=resistance,
        inertance_mmhg_s2_ml=inertance,
    )
    parts = (
        Vessel(name="A", compliance_ml_mmhg=0.5),
        Vessel(name="B", compliance_ml_mmhg=1.5),
    )
    return small(parts, (way,), volume_ml=20.0, period_s=period_s)


def pump(
    *, arterial_ml_mmhg: float = 0.2, resistance: float = 4.0, inertance: float = 0.0
) -> Circuit:
    """A ventricle that fills an artery and drains a very large vein."""
    ventricle = Ventricle(
        name="LV",
        mass_g=6.0,
        unloaded_volume_ml=4.8,
        active_stress_mmhg=700.0,
        passive_stress_mmhg=6.0,
        passive_exponent=12.0,
    )
    parts: tuple[Part, ...] = (
        ventricle,
        Vessel(name="artery", compliance_ml_mmhg=arterial_ml_mmhg),
        Vessel(name="vein", compliance_ml_mmhg=1e4),
    )
    edges = (
        Edge(name="out", start="LV", end="artery", resistance_mmhg_s_ml=0.1, valve=True),
        Edge(
            name="bed",
            start="artery",
            end="vein",
            resistance_mmhg_s_ml=resistance,
            inertance_mmhg_s2_ml=inertance,
        ),
        Edge(name="in", start="vein", end="LV", resistance_mmhg_s_ml=0.1, valve=True),
    )
    return small(parts, edges, volume_ml=6e4, period_s=0.4)


def smooth(period_s: float = 0.4) -> Circuit:
    """A beating chamber between two vessels, without valves or narrow places."""
    parts: tuple[Part, ...] = (
        Vessel(name="A", compliance_ml_mmhg=0.3),
        Atrium(
            name="heart",
            elastance_min_mmhg_ml=1.0,
            elastance_max_mmhg_ml=3.0,
            unloaded_volume_ml=1.0,
        ),
        Vessel(name="B", compliance_ml_mmhg=1.0),
    )
    edges = (
        Edge(name="one", start="A", end="heart", resistance_mmhg_s_ml=0.2),
        Edge(name="two", start="heart", end="B", resistance_mmhg_s_ml=0.3),
    )
    return small(parts, edges, volume_ml=20.0, period_s=period_s)


def narrow(area_cm2: float, discharge: float = 1.0) -> Restriction:
    """A narrow place."""
    return Restriction(name="opening", area_cm2=area_cm2, discharge=discharge)


def one_beat(circuit: Circuit, state: list[float], *, steps: int) -> tuple[Floats, Floats, Floats]:
    """Time (s), the wave of one beat from a given state (volumes, then inertial flows), its end."""
    return beat_from(circuit, state, steps=steps)
