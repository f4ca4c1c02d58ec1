"""Networks made of closed loops of flow, for laws of oxygen that need no beat."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
from hypothesis import strategies as st
from rooms.circuit_samples import BLOOD

from inseries.circuit.compiled import REGULATION
from inseries.circuit.network import Circuit, Edge, Vessel
from inseries.circuit.orbit import Orbit, Warm

if TYPE_CHECKING:
    from inseries.circuit.network import Blood

RING = ("SV", "PA", "PV", "AO")


@dataclass(frozen=True, slots=True, kw_only=True)
class Flowing:
    """A network and the mean flow of each edge, forwards and backwards, mL/s."""

    circuit: Circuit
    flows_ml_s: tuple[tuple[float, float], ...]


@st.composite
def flowing(draw: st.DrawFn) -> Flowing:
    """A ring through lungs and body, with further closed loops, some of them through beds.

    Every loop carries one flow all round, so that no part gains blood.
    """
    names = (*RING, *(f"v{i}" for i in range(draw(st.integers(0, 4)))))
    size = draw(st.floats(2.0, 20.0))
    edges = [
        Edge(name="veins", start="SV", end="PA", resistance_mmhg_s_ml=1.0),
        Edge(name="lungs", start="PA", end="PV", resistance_mmhg_s_ml=1.0, lungs=True),
        Edge(name="back", start="PV", end="AO", resistance_mmhg_s_ml=1.0),
        Edge(name="body", start="AO", end="SV", resistance_mmhg_s_ml=1.0, uptake_share=1.0),
    ]
    flows = [(size, 0.0)] * 4
    loops = [[draw(st.sampled_from(RING)), name] for name in names[len(RING) :]]
    any_loop = st.lists(st.sampled_from(names), min_size=2, max_size=4, unique=True)
    for turn, loop in enumerate([*loops, *draw(st.lists(any_loop, max_size=3))]):
        size = draw(st.floats(0.1, 10.0))
        wobble = draw(st.floats(0.0, 3.0))
        for i, start in enumerate(loop):
            end = loop[(i + 1) % len(loop)]
            share = draw(st.sampled_from([0.0, 0.0, 0.3])) if end == "SV" else 0.0
            edges.append(
                Edge(
                    name=f"loop{turn}{i}",
                    start=start,
                    end=end,
                    resistance_mmhg_s_ml=1.0,
                    uptake_share=share,
                )
            )
            flows.append((size + wobble, wobble) if share == 0.0 else (size, 0.0))
    whole = sum(edge.uptake_share for edge in edges)
    edges = [replace(edge, uptake_share=edge.uptake_share / whole) for edge in edges]
    parts = tuple(Vessel(name=name, compliance_ml_mmhg=1.0) for name in names)
    circuit = Circuit(
        topology="loops",
        parts=parts,
        edges=tuple(edges),
        rate_per_min=150.0,
        volume_ml=10.0 * len(parts),
        blood=BLOOD,
        pressure_part="AO",
        filling_part="PV",
    )
    return Flowing(circuit=circuit, flows_ml_s=tuple(flows))


def orbit_with_flows(net: Flowing, blood: Blood) -> Orbit:
    """An orbit of one member that has these flows, 10 mL in every part, and that blood."""
    parts = len(net.circuit.parts)
    readouts = np.zeros((1, parts, 9))
    readouts[:, :, 3:5] = 10.0
    one = np.ones(1)
    return Orbit(
        circuit=replace(net.circuit, blood=blood),
        part_readouts=readouts,
        edge_flows_ml_s=np.array([net.flows_ml_s]),
        regulated=np.zeros((1, REGULATION)),
        tone=0.0 * one,
        bed_factor=one,
        volume_ml=10.0 * parts * one,
        unknowns=np.zeros((1, parts + 1)),
        status=np.zeros(1, dtype=np.int64),
        beats=np.zeros(1, dtype=np.int64),
        gap_ml=0.0 * one,
        worst=np.zeros(1, dtype=np.int64),
        warm=Warm(
            unknowns=np.zeros((1, parts + 1)),
            inverse=np.zeros((1, parts + 1, parts + 1)),
            known=np.zeros((1, 1), dtype=np.int64),
            held=False,
        ),
    )
