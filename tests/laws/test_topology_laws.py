"""What holds in every topology: it settles, keeps its blood, and knows no order and no size."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from rooms.topology_samples import TOPOLOGIES

from inseries.circuit.orbit import FINE, find_orbit
from inseries.circuit.readouts import read
from inseries.circuit.scaling import scaled
from inseries.circuit.waveforms import waveforms

# A closed place leaks the same in every size. Where all are closed and the loops share only the
# collaterals, filling of one against the other hangs on that leak, by some hundredths of a mmHg.
SHUT = 0.05

every = pytest.mark.parametrize("name", TOPOLOGIES)


@every
def test_it_settles_with_default_settings(name: str) -> None:
    """Asked without settings or a start from a neighbour, the beat repeats."""
    orbit = find_orbit(TOPOLOGIES[name]())
    assert orbit.settled.all()


@every
def test_it_keeps_its_blood(name: str) -> None:
    """At every step of the beat all volumes add up, and over it no part gains or loses."""
    circuit = TOPOLOGIES[name]()
    orbit = find_orbit(circuit, settings=FINE)
    waves = waveforms(orbit)
    assert waves.volumes_ml.sum(axis=1) == pytest.approx(float(circuit.volume_ml), abs=1e-8)
    seen = read(orbit)
    for part in circuit.parts:
        gained = sum(
            seen.flow_ml_s(edge.name) * ((edge.end == part.name) - (edge.start == part.name))
            for edge in circuit.edges
        )
        assert gained == pytest.approx([0.0], abs=1e-4)


@every
def test_oxygen_taken_up_is_oxygen_used(name: str) -> None:
    """What blood gains where it takes up oxygen is what the beds take, to 1 % of the need."""
    circuit = TOPOLOGIES[name]()
    seen = read(find_orbit(circuit, settings=FINE))
    content = seen.oxygen.content[0]
    gained = 0.0
    for edge in circuit.edges:
        if edge.lungs:
            forward, backward = seen.both_ways_ml_s(edge.name)
            start, end = content[circuit.index(edge.start)], content[circuit.index(edge.end)]
            gained += forward[0] * (seen.oxygen.lung_content[0] - start)
            gained += backward[0] * (start - end)
    need = float(circuit.blood.consumption_ml_min) / 60.0
    assert gained == pytest.approx(float(seen.oxygen.need_met[0]) * need, abs=0.01 * need)


@every
@pytest.mark.parametrize("seed", [1, 2])
def test_it_knows_no_order(name: str, seed: int) -> None:
    """Written down in another order, pressures, flows and saturations are the same."""
    circuit = TOPOLOGIES[name]()
    shuffled = random.Random(seed)
    parts, edges = list(circuit.parts), list(circuit.edges)
    shuffled.shuffle(parts)
    shuffled.shuffle(edges)
    other = replace(circuit, parts=tuple(parts), edges=tuple(edges))
    one, two = (read(find_orbit(each, settings=FINE)) for each in (circuit, other))
    for part in circuit.parts:
        assert one.mean_mmhg(part.name) == pytest.approx(two.mean_mmhg(part.name), abs=1e-3)
        assert one.systolic_mmhg(part.name) == pytest.approx(two.systolic_mmhg(part.name), abs=1e-3)
        assert one.saturation_pct(part.name) == pytest.approx(
            two.saturation_pct(part.name), abs=1e-2
        )
    for edge in circuit.edges:
        assert one.flow_ml_s(edge.name) == pytest.approx(two.flow_ml_s(edge.name), abs=1e-3)


@every
@pytest.mark.parametrize("ratio", [0.5, 2.5])
def test_it_knows_no_size(name: str, ratio: float) -> None:
    """A body of another size, with need in proportion, has its pressures and saturations."""
    circuit = TOPOLOGIES[name]()
    need = circuit.blood.consumption_ml_min * ratio
    larger = scaled(circuit, ratio).with_blood(consumption_ml_min=need)
    one, two = (read(find_orbit(each, settings=FINE)) for each in (circuit, larger))
    near = SHUT if name == "parallel" else 1e-3
    for part in circuit.parts:
        assert two.systolic_mmhg(part.name) == pytest.approx(one.systolic_mmhg(part.name), abs=near)
        assert two.saturation_pct(part.name) == pytest.approx(
            one.saturation_pct(part.name), abs=0.05
        )
    for edge in circuit.edges:
        assert two.flow_ml_s(edge.name) == pytest.approx(
            ratio * one.flow_ml_s(edge.name), abs=near * ratio
        )
