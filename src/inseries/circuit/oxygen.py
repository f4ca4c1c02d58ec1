"""Oxygen as a steady balance over the mean flows of an orbit."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from inseries.circuit.network import Circuit, Edge, Floats
    from inseries.circuit.orbit import Orbit

# chosen: mixed venous saturation below which no more oxygen can be taken up
LEAST_VENOUS_SATURATION = 0.15
# chosen: forward flow (mL/s) given to every edge, so that a chamber without through-flow takes
# its upstream neighbour's content
TRACE_FLOW_ML_S = 1e-6
# derived: dL to mL in oxygen capacity
DL_ML = 100.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Oxygen:
    """Saturations (fraction, shape (n, parts)); share of the need met; effective flow (mL/s)."""

    saturation: Floats
    need_met: Floats
    effective_flow_ml_s: Floats


def oxygen_balance(orbit: Orbit) -> Oxygen:
    """Saturation of every part when each is well mixed and intake equals uptake.

    For every part the oxygen that flows in equals what flows out: Σ F_in (x_in - x) = uptake,
    with F the mean forward and backward flows of the orbit, blood leaving the lungs at the lungs'
    saturation, and eddy exchange both ways at the atrial defect.

    Parameters
    ----------
    orbit : Orbit with n members

    Returns
    -------
    Oxygen

    Holds when the state lasts minutes; dissolved oxygen is neglected. Where the need would take
    mixed venous saturation below 15 %, only what leaves 15 % is taken and the share is reported.
    """
    matrix, given, taken = _balance(orbit)
    whole = np.linalg.solve(matrix, given[:, :, None])[:, :, 0]
    drop = np.linalg.solve(matrix, taken[:, :, None])[:, :, 0]
    veins = orbit.circuit.index("SV")
    room = whole[:, veins] - LEAST_VENOUS_SATURATION
    met = np.clip(room / np.maximum(drop[:, veins], 1e-9), 0.0, 1.0)
    saturation = whole - met[:, None] * drop
    return Oxygen(
        saturation=saturation,
        need_met=met,
        effective_flow_ml_s=_effective_flow(orbit, saturation, met),
    )


def oxygen_capacity(circuit: Circuit) -> Floats:
    """Oxygen a mL of blood can carry, mL."""
    blood = circuit.blood
    return np.asarray(blood.haemoglobin_g_dl * blood.capacity_ml_g / DL_ML, dtype=np.float64)


def _balance(orbit: Orbit) -> tuple[Floats, Floats, Floats]:
    circuit = orbit.circuit
    n, parts = orbit.members, len(circuit.parts)
    matrix = np.zeros((n, parts, parts))
    given, taken = np.zeros((n, parts)), np.zeros((n, parts))
    capacity = oxygen_capacity(circuit)
    for i, edge in enumerate(circuit.edges):
        a, b = circuit.index(edge.start), circuit.index(edge.end)
        eddy = eddy_flow(edge)
        forward = orbit.edge_flows_ml_s[:, i, 0] + eddy + TRACE_FLOW_ML_S
        backward = orbit.edge_flows_ml_s[:, i, 1] + eddy
        matrix[:, b, b] += forward
        matrix[:, a, a] += backward
        matrix[:, a, b] -= backward
        if edge.lungs:
            given[:, b] += forward * circuit.blood.lung_saturation
        else:
            matrix[:, b, a] -= forward
        need = np.asarray(circuit.blood.consumption_ml_min) / 60.0
        taken[:, b] += edge.uptake_share * need / capacity
    return matrix, given, taken


def eddy_flow(edge: Edge) -> Floats:
    """Exchange both ways through the first narrow place of an edge, mL/s."""
    area = edge.restrictions[0].area_cm2 if edge.restrictions else 0.0
    return np.asarray(edge.eddy_speed_cm_s * area, dtype=np.float64)


def _effective_flow(orbit: Orbit, saturation: Floats, met: Floats) -> Floats:
    """Flow that carries the uptake from lung veins to body veins once (Fick)."""
    circuit = orbit.circuit
    rise = saturation[:, circuit.index("PV")] - saturation[:, circuit.index("SV")]
    need = np.asarray(circuit.blood.consumption_ml_min) / 60.0
    return met * need / (oxygen_capacity(circuit) * np.maximum(rise, 1e-6))
