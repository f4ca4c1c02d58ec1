"""What holds for every circulation: volume, order, passivity, size."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rooms.circuit_samples import HELD, one_beat, small

from inseries.circuit.network import Edge, Vessel
from inseries.circuit.newborn import normal_newborn, parallel_newborn
from inseries.circuit.orbit import FINE, find_orbit
from inseries.circuit.readouts import read
from inseries.circuit.repeated import repeated
from inseries.circuit.scaling import scaled
from inseries.circuit.waveforms import waveforms
from inseries.routes import with_atrial_defect, with_duct, with_ventricular_defect

if TYPE_CHECKING:
    from random import Random

    from inseries.circuit.network import Circuit

share = st.floats(0.5, 2.0)
some = settings(max_examples=20)


@st.composite
def babies(draw: st.DrawFn) -> Circuit:
    """A newborn around the reference, healthy or parallel, with openings of any size."""
    make = draw(st.sampled_from([normal_newborn, parallel_newborn]))
    circuit = make()
    circuit = with_atrial_defect(circuit, draw(st.floats(2.5, 9.0)))
    circuit = with_duct(circuit, draw(st.sampled_from([0.0, 1.5, 3.0])))
    circuit = with_ventricular_defect(circuit, draw(st.sampled_from([0.0, 2.0, 5.0])))
    lungs = circuit.edge("lungs").resistance_mmhg_s_ml
    circuit = circuit.with_edge("lungs", resistance_mmhg_s_ml=lungs * draw(share))
    circuit = circuit.with_part("PV", compliance_ml_mmhg=draw(st.floats(0.5, 2.0)))
    blood = draw(st.floats(10.0, 20.0))
    need = float(circuit.blood.consumption_ml_min) * draw(st.floats(0.6, 1.6))
    circuit = circuit.with_blood(haemoglobin_g_dl=blood, consumption_ml_min=need)
    return replace(circuit, rate_per_min=draw(st.floats(110.0, 180.0)))


@st.composite
def vessel_nets(draw: st.DrawFn) -> tuple[Circuit, list[float]]:
    """Passive vessels joined in a chain and by a few more ways, and volumes to start from."""
    count = draw(st.integers(2, 6))
    names = [f"v{i}" for i in range(count)]
    parts = tuple(Vessel(name=n, compliance_ml_mmhg=draw(st.floats(0.5, 5.0))) for n in names)
    pairs = [(i, i + 1) for i in range(count - 1)]
    pairs += draw(
        st.lists(
            st.tuples(st.integers(0, count - 1), st.integers(0, count - 1)).filter(
                lambda pair: pair[0] != pair[1]
            ),
            max_size=3,
        )
    )
    edges = tuple(
        Edge(
            name=f"e{i}",
            start=names[a],
            end=names[b],
            resistance_mmhg_s_ml=draw(st.floats(0.2, 5.0)),
            inertance_mmhg_s2_ml=draw(st.sampled_from([0.0, 0.0, 0.1, 0.5])),
        )
        for i, (a, b) in enumerate(pairs)
    )
    start = [draw(st.floats(0.0, 50.0)) for _ in names]
    return small(parts, edges, volume_ml=sum(start) + 1.0, period_s=1.0), start


@some
@given(vessel_nets())
def test_volume_is_kept(net: tuple[Circuit, list[float]]) -> None:
    """Whatever flows, the volumes of all parts together stay what they were."""
    circuit, start = net
    heavy = sum(edge.inertance_mmhg_s2_ml > 0.0 for edge in circuit.edges)
    _, wave, end = one_beat(circuit, [*start, *[0.0] * heavy], steps=200)
    count = len(circuit.parts)
    assert wave[:, :count].sum(axis=1) == pytest.approx(sum(start), abs=1e-9)
    assert end[:count].sum() == pytest.approx(sum(start), abs=1e-9)


@some
@given(vessel_nets())
def test_passive_parts_only_lose_energy(net: tuple[Circuit, list[float]]) -> None:
    """Stored energy, V²/2C of vessels and L Q²/2 of moving blood, never rises by itself."""
    circuit, start = net
    inertances = np.array([float(edge.inertance_mmhg_s2_ml) for edge in circuit.edges])
    heavy = int(np.sum(inertances > 0.0))
    _, wave, _ = one_beat(circuit, [*start, *[0.0] * heavy], steps=200)
    count = len(circuit.parts)
    stored = 0.5 * (wave[:, :count] * wave[:, count : 2 * count]).sum(axis=1)
    moving = 0.5 * (inertances * wave[:, 2 * count :] ** 2).sum(axis=1)
    energy = stored + moving
    assert np.all(np.diff(energy) <= 1e-9 * (1.0 + energy[0]))


@some
@given(babies(), st.randoms(use_true_random=False))
def test_order_of_parts_and_edges_does_not_count(circuit: Circuit, random: Random) -> None:
    """Written down in another order, a circulation has the same pressures and flows."""
    parts, edges = list(circuit.parts[:-1]), list(circuit.edges)
    random.shuffle(parts)
    random.shuffle(edges)
    other = replace(circuit, parts=(*parts, circuit.parts[-1]), edges=tuple(edges))
    one, two = (read(find_orbit(each, HELD, settings=FINE)) for each in (circuit, other))
    for part in circuit.parts:
        assert one.mean_mmhg(part.name) == pytest.approx(two.mean_mmhg(part.name), abs=1e-3)
        assert one.saturation_pct(part.name) == pytest.approx(
            two.saturation_pct(part.name), abs=1e-2
        )
    for edge in circuit.edges:
        assert one.flow_ml_s(edge.name) == pytest.approx(two.flow_ml_s(edge.name), abs=1e-3)


@some
@given(babies(), st.floats(0.5, 3.0))
def test_size_keeps_pressures_and_scales_flows(circuit: Circuit, ratio: float) -> None:
    """A body of another size has the same pressures, and flows and volumes in proportion."""
    one = read(find_orbit(circuit, settings=FINE))
    two = read(find_orbit(scaled(circuit, ratio), settings=FINE))
    for name in ("AoU", "PA", "LA", "RA", "LV", "RV"):
        assert two.systolic_mmhg(name) == pytest.approx(one.systolic_mmhg(name), abs=1e-3)
        assert two.end_diastolic_ml(name) == pytest.approx(
            ratio * one.end_diastolic_ml(name), rel=1e-4
        )
    assert two.systemic_flow_ml_s == pytest.approx(ratio * one.systemic_flow_ml_s, rel=1e-4)


@some
@given(babies())
def test_volume_is_kept_round_the_heart(circuit: Circuit) -> None:
    """At every step of the repeating beat all volumes add up to the whole."""
    waves = waveforms(circuit)
    assert waves.volumes_ml.sum(axis=1) == pytest.approx(float(circuit.volume_ml), abs=1e-8)


@some
@given(babies())
def test_what_flows_in_flows_out(circuit: Circuit) -> None:
    """Over a repeating beat no part gains or loses blood."""
    seen = read(find_orbit(circuit, HELD, settings=FINE))
    for part in circuit.parts:
        gained = sum(
            seen.flow_ml_s(edge.name) * ((edge.end == part.name) - (edge.start == part.name))
            for edge in circuit.edges
        )
        assert gained == pytest.approx([0.0], abs=1e-4)


@some
@given(babies(), st.integers(2, 3))
def test_repeating_changes_nothing(circuit: Circuit, times: int) -> None:
    """Members repeated have the orbit of the one."""
    many = circuit.with_part("LV", mass_g=np.array([5.0]))
    one, more = find_orbit(many), find_orbit(repeated(many, 1, times))
    for member in range(times):
        assert np.array_equal(more.part_readouts[member], one.part_readouts[0])
