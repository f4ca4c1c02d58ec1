"""Oxygen as a steady balance of content over the mean flows of an orbit."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from inseries.circuit.blood import DL_ML, saturation
from inseries.circuit.oxygen_exchange import exchange

if TYPE_CHECKING:
    from inseries.circuit.network import Circuit, Floats
    from inseries.circuit.orbit import Orbit
    from inseries.circuit.oxygen_exchange import Exchange


@dataclass(frozen=True, slots=True, kw_only=True)
class Oxygen:
    """Oxygen of n members in every part, and behind every bed before the beds mix.

    Parameters
    ----------
    content, saturation, po2_mmhg : arrays, shape (n, parts): mL/mL, fraction, mmHg
    beds : names of the edges that take oxygen
    venous_saturation, venous_po2_mmhg : arrays, shape (n, beds), of blood that leaves a bed
    bed_need_met : array, shape (n, beds), share of a bed's need that is met
    need_met : array, shape (n,), share of the whole need
    lung_content : array, shape (n,), mL/mL, of blood that leaves the lungs
    effective_flow_ml_s : array, shape (n,)
    """

    content: Floats
    saturation: Floats
    po2_mmhg: Floats
    beds: tuple[str, ...]
    venous_saturation: Floats
    venous_po2_mmhg: Floats
    bed_need_met: Floats
    need_met: Floats
    lung_content: Floats
    effective_flow_ml_s: Floats


def oxygen_balance(orbit: Orbit) -> Oxygen:
    """Oxygen of every part when each is well mixed and intake equals uptake.

    For every part the oxygen that flows in equals what flows out: Σ F_in (c_in - c) = uptake,
    with F the mean forward and backward flows of the orbit, blood leaving the lungs at the content
    that inspired gas and shunt give it, and eddy exchange both ways at the atrial defect.

    Parameters
    ----------
    orbit : Orbit with n members

    Returns
    -------
    Oxygen

    Holds when the state lasts minutes. Where a bed's need would take its venous saturation below
    15 %, only what leaves 15 % is taken and the share is reported.
    """
    flow = exchange(orbit)
    content, limited = _steady(flow)
    return oxygen_of(orbit, flow, content, limited)


def oxygen_capacity(circuit: Circuit) -> Floats:
    """Oxygen that the haemoglobin of a mL of blood can bind, mL."""
    blood = circuit.blood
    return np.asarray(blood.haemoglobin_g_dl * blood.capacity_ml_g / DL_ML, dtype=np.float64)


def oxygen_of(orbit: Orbit, flow: Exchange, content: Floats, limited: Floats) -> Oxygen:
    """Everything told of given contents.

    Parameters
    ----------
    orbit, flow : Orbit of n members, and its Exchange
    content : array, shape (n, parts), mL/mL
    limited : array of 0 and 1, shape (n, beds), beds that take what they can get

    Returns
    -------
    Oxygen
    """
    blood = flow.blood
    venous = flow.venous(content, limited)
    pressures = blood.pressure(np.concatenate([content, venous], axis=1))
    shares = saturation(pressures, blood.p50_mmhg)
    parts = content.shape[1]
    bed_met = flow.met(content, limited)
    met = (bed_met * flow.need).sum(axis=1) / np.maximum(flow.need.sum(axis=1), 1e-12)
    return Oxygen(
        content=content,
        saturation=shares[:, :parts],
        po2_mmhg=pressures[:, :parts],
        beds=flow.plan.beds,
        venous_saturation=shares[:, parts:],
        venous_po2_mmhg=pressures[:, parts:],
        bed_need_met=bed_met,
        need_met=met,
        lung_content=flow.lungs[:, 0],
        effective_flow_ml_s=_effective_flow(orbit, flow, venous, met),
    )


def _steady(flow: Exchange) -> tuple[Floats, Floats]:
    """Contents at which nothing changes, and the beds that then take what they can get.

    Each bed gives blood the larger of two contents; the search over which one ends, since content
    only rises from one trial to the next.
    """
    limited: Floats = np.zeros(flow.need.shape)
    content = flow.solved(limited)
    for _ in range(2 * limited.shape[1]):
        now = flow.limited(content)
        if np.array_equal(now, limited):
            break
        limited = now
        content = flow.solved(limited)
    return content, limited


def _effective_flow(orbit: Orbit, flow: Exchange, venous: Floats, met: Floats) -> Floats:
    """Flow that carries the uptake once from the lungs to the beds (Fick).

    Blood counts as it leaves lungs and beds, before any of it flows back or mixes.
    """
    circuit = orbit.circuit
    edges = [circuit.edge_index(bed) for bed in flow.plan.beds]
    through = orbit.edge_flows_ml_s[:, edges, 0]
    mixed = (through * venous).sum(axis=1) / np.maximum(through.sum(axis=1), 1e-12)
    rise = flow.lungs[:, 0] - mixed
    need = np.asarray(circuit.blood.consumption_ml_min) / 60.0
    return met * need / np.maximum(rise, 1e-7)
