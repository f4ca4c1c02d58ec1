"""Tangents of the beat against central differences in extended precision.

Outside source: the equations of docs/physics written down once more below, in the 64-bit mantissa
of numpy's longdouble and without a line of the kernels: laws, septum, sac, Heun's steps,
regulation. Differences over 1e-7 err there by 1e-12; what the exponential of the kernels leaves,
3e-10 of a pressure, is the larger part of the tolerance of 1e-7.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from rooms.law_samples import ANSWERING, SAC, SEPTUM, every_law

from inseries.circuit.compiled import beat_with_slopes, new_crew
from inseries.circuit.flat import flatten
from inseries.circuit.network import Atrium, SqueezedVessel, Ventricle, Vessel
from inseries.circuit.orbit import ABREAST, Regulation, find_orbit, regulation_rows

if TYPE_CHECKING:
    from inseries.circuit.network import Circuit, Edge, Floats, Part

LONG = np.longdouble
STEPS, H = 50, LONG("1e-7")
# Two needs of filling, so that once the flow decides and once the filling pressure.
FLOWS = {"flow decides": 11.0, "filling decides": 20.0}

pytestmark = pytest.mark.skipif(
    np.finfo(LONG).eps > 1e-18, reason="this machine's longdouble is no wider than its double"
)


class Outside:
    """The map from beat to beat of a circuit, for many starts at once, shape (unknowns, starts)."""

    def __init__(self, circuit: Circuit, regulation: Regulation) -> None:
        self.circuit, self.held = circuit, regulation
        self.names = [part.name for part in circuit.parts]
        self.heavy = [e.name for e in circuit.edges if float(e.inertance_mmhg_s2_ml) > 0.0]

    def __call__(self, y: Floats) -> Floats:
        """Unknowns after a beat."""
        count, size = len(self.names), len(self.names) + len(self.heavy) + 1
        total, tone, own = y[size - 1], y[size], y[size + 1]
        reflex = self.held.reflex
        assert reflex is not None
        self.tone, self.own = tone, own
        rest = total * (1 + LONG(reflex.volume) * tone) - y[: count - 1].sum(axis=0)
        x = np.concatenate([y[: count - 1], rest[None], y[count - 1 : size - 1]])
        period = 60 / LONG(self.circuit.rate_per_min) * np.exp(-LONG(reflex.rate) * tone)
        dt, seen = period / STEPS, np.zeros((4, y.shape[1]), dtype=LONG)
        for s in range(STEPS):
            at_start, now = self.rates(s / LONG(STEPS), x)
            at_end, then = self.rates((s + 1) / LONG(STEPS), x + dt * at_start)
            x = x + dt * (at_start + at_end) / 2
            seen = seen + (now + then) / LONG(2 * STEPS)
        after = np.concatenate([x[: count - 1], x[count:], y[size - 1 :].copy()])
        self.regulate(after, seen, size - 1)
        return after

    def rates(self, share: LONG, x: Floats) -> tuple[Floats, Floats]:
        """Rates of the state, and what regulation sees."""
        pressure = self.pressures(share, x)
        count, z = len(self.names), x[-1]
        dx, heavy = np.zeros_like(x), count
        flows = {}
        for edge in self.circuit.edges:
            drop = pressure[edge.start] - pressure[edge.end]
            if edge.name in self.heavy:
                flow, inertance = x[heavy], LONG(edge.inertance_mmhg_s2_ml)
                resistance, loss = LONG(edge.resistance_mmhg_s_ml), _loss(edge)
                dx[heavy] = (drop - resistance * flow - loss * flow * abs(flow)) / inertance
                heavy += 1
            else:
                flow = self.flow(edge, drop)
            flows[edge.name] = flow
            dx[self.names.index(edge.start)] -= flow
            dx[self.names.index(edge.end)] += flow
        left, right = pressure[SEPTUM.left], pressure[SEPTUM.right]
        dx[-1] = (left - right - LONG(SEPTUM.elastance_mmhg_ml) * z) / LONG(
            SEPTUM.viscosity_mmhg_s_ml
        )
        body = sum(flows[e.name] for e in self.circuit.edges if e.systemic)
        bed = sum(flows[e.name] for e in self.circuit.edges if e.self_regulated)
        return dx, np.array(
            [pressure[self.circuit.pressure_part], pressure[self.circuit.filling_part], body, bed]
        )

    def pressures(self, share: LONG, x: Floats) -> dict[str, Floats]:
        """Pressure of every part."""
        volume = dict(zip(self.names, x, strict=False))
        free = {**volume}
        free[SEPTUM.left] = volume[SEPTUM.left] - x[-1]
        free[SEPTUM.right] = volume[SEPTUM.right] + x[-1]
        parts = {part.name: part for part in self.circuit.parts}
        pressure = {name: self.alone(part, share, free[name]) for name, part in parts.items()}
        inside = sum(volume[name] for name in SAC.around) / LONG(SAC.volume_ml)
        n = LONG(SAC.exponent)
        sac = LONG(SAC.pressure_mmhg) * (np.exp(n * (inside - 1)) - np.exp(-n))
        pressure |= {name: pressure[name] + sac for name in SAC.around}
        for part in parts.values():
            if isinstance(part, SqueezedVessel):
                pressure[part.name] = pressure[part.name] + LONG(part.share) * pressure[part.by]
        return pressure

    def alone(self, part: Part, share: LONG, volume: Floats) -> Floats:
        """Pressure of a part without its neighbours."""
        if isinstance(part, Vessel | SqueezedVessel):
            return volume / LONG(part.compliance_ml_mmhg)
        e = _activation(part, share)
        if isinstance(part, Atrium):
            low, high = LONG(part.elastance_min_mmhg_ml), LONG(part.elastance_max_mmhg_ml)
            return (low + (high - low) * e) * (volume - LONG(part.unloaded_volume_ml))
        assert self.held.reflex is not None
        wall, unloaded = LONG(part.mass_g) / LONG(1.05), LONG(part.unloaded_volume_ml)
        strength = LONG(part.active_stress_mmhg) * np.exp(
            LONG(self.held.reflex.strength) * self.tone
        )
        lam = np.cbrt((wall + 3 * volume) / (wall + 3 * unloaded))
        overlap = np.clip((lam - LONG(0.79)) / (LONG(1.25) - LONG(0.79)), 0, 1)
        k, bent = LONG(part.passive_exponent), np.minimum(lam, LONG(1.30))
        rise = np.exp(k * (bent - 1))
        passive = LONG(part.passive_stress_mmhg) * (rise - 1 + k * rise * (lam - bent))
        return (strength * e * overlap + passive) / 3 * np.log(1 + wall / volume)

    def flow(self, edge: Edge, drop: Floats) -> Floats:
        """Flow of an edge without weight."""
        if edge.own_law is not None:
            numbers = {name: LONG(value) for name, value in edge.own_law.numbers.items()}
            if edge.own_law.name == "two_way":
                return np.where(drop > 0, drop / numbers["R_f"], drop / numbers["R_b"])
            driven = np.maximum(drop + numbers["P_h"], 0)
            return _through(driven, numbers["R"], numbers["B"])
        resistance = LONG(edge.resistance_mmhg_s_ml)
        if edge.systemic:
            resistance = resistance * np.exp(self.tone)
        if edge.self_regulated:
            resistance = resistance * np.exp(self.own)
        ahead = _through(np.maximum(drop, 0), resistance, _loss(edge))
        if not edge.valve:
            return ahead - _through(np.maximum(-drop, 0), resistance, _loss(edge))
        if float(edge.leak_area_cm2) == 0.0:
            return ahead
        back = LONG(4e-4) / LONG(edge.leak_area_cm2) ** 2
        return ahead - _through(np.maximum(-drop, 0), resistance, back)

    def regulate(self, after: Floats, seen: Floats, first: int) -> None:
        """Total volume, tone and own resistance after the beat; the map itself knows no bounds."""
        held = self.held
        assert held.reflex is not None
        assert held.bed is not None
        assert held.flow_ml_s is not None
        assert held.filling_mmhg is not None
        lacking = np.minimum(
            1 - seen[2] / LONG(held.flow_ml_s), 1 - seen[1] / LONG(held.filling_mmhg)
        )
        gain = LONG(held.reflex.gain)
        lack = 1 - seen[0] / LONG(held.pressure_mmhg)
        after[first] *= 1 + LONG(0.1) * lacking
        after[first + 1] += LONG(0.2) / (1 + gain) * (gain * lack - after[first + 1])
        after[first + 2] += LONG(0.2) * (seen[3] / LONG(held.bed.flow_ml_s) - 1)


def _loss(edge: Edge) -> LONG:
    places = [LONG(4e-4) / (LONG(p.discharge) * LONG(p.area_cm2)) ** 2 for p in edge.restrictions]
    return sum(places, LONG(0)) if places else LONG(1e-6) if edge.valve else LONG(0)


def _through(size: Floats, resistance: Floats, loss: Floats) -> Floats:
    """Positive root of R Q + B Q² = size."""
    return 2 * size / (resistance + np.sqrt(resistance * resistance + 4 * loss * size))


def _activation(part: Ventricle | Atrium, share: LONG) -> LONG:
    start, rise, fall = (LONG(value) for value in part.activation)
    since, pi = (share - start) % 1, 4 * np.arctan(LONG(1))
    if since < rise:
        return (1 - np.cos(pi * since / rise)) / 2
    return (1 + np.cos(pi * (since - rise) / fall)) / 2 if since < rise + fall else LONG(0)


def _ours(
    circuit: Circuit, y: Floats, regulation: Regulation, abreast: int | None
) -> tuple[Floats, Floats]:
    """Unknowns after a beat and the beat's Jacobian, by the kernels, of every row of y."""
    flat = flatten(circuit)
    network, count = flat.network(STEPS), y.shape[0]
    like = 0.0 if abreast is None else np.zeros(8)
    crew = new_crew(network, flat.theta.shape[1], flat.unknowns, like)
    crew.team[:count] = np.arange(count)
    theta = np.repeat(flat.theta, count, axis=0)
    reg = np.repeat(regulation_rows(regulation, flat), count, axis=0)
    beat_with_slopes(network, theta, y, reg, crew, 2 + flat.beds, abreast, None)
    return crew.g[:count].copy(), crew.J[:count] + np.eye(flat.unknowns)


@pytest.fixture(scope="module")
def starts() -> Floats:
    """Three states near the repeating beat, with tone and own resistance away from rest."""
    y = find_orbit(every_law()).unknowns[0]
    near = y * np.array([[1.0], [1.02], [0.97]])
    near[:, -2:] = [[0.05, -0.1], [0.2, 0.15], [-0.1, 0.05]]
    return near


@pytest.mark.parametrize("abreast", [None, ABREAST], ids=["alone", "abreast"])
@pytest.mark.parametrize("wish", FLOWS)
def test_tangents_against_extended_precision(
    starts: Floats, wish: str, abreast: int | None
) -> None:
    """Beat and Jacobian of a network with every law agree with the equations written down again."""
    regulation = replace(ANSWERING, flow_ml_s=FLOWS[wish])
    circuit = every_law()
    rows = starts[:1] if abreast is None else starts
    ends, slopes = _ours(circuit, rows, regulation, abreast)
    outside = Outside(circuit, regulation)
    for y, end, slope in zip(rows, ends, slopes, strict=True):
        middle = y.astype(LONG)[:, None]
        step = H * np.maximum(1, abs(middle[:, 0]))
        after = outside(np.hstack([middle, middle + np.diag(step), middle - np.diag(step)]))
        n = y.size
        theirs = (after[:, 1 : n + 1] - after[:, n + 1 :]) / (2 * step)
        assert np.abs(end - after[:, 0]).max() < 1e-7
        row = np.abs(theirs).max(axis=1, keepdims=True)
        assert np.all(np.abs(slope - theirs) < 1e-7 * row)
