"""What holds for networks of any shape, with every law of part, edge and wall in them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rooms.circuit_samples import narrow, one_beat, small
from rooms.law_samples import ANSWERING, every_law

from inseries.circuit.flat import flatten
from inseries.circuit.network import (
    Atrium,
    Edge,
    OwnLaw,
    Pericardium,
    Septum,
    SqueezedVessel,
    Ventricle,
    Vessel,
)
from inseries.circuit.orbit import FINE, Settings, find_orbit
from inseries.circuit.scaling import scaled
from inseries.circuit.waveforms import waveforms

if TYPE_CHECKING:
    from random import Random

    from inseries.circuit.network import Circuit, Part

some = settings(max_examples=40)
few = settings(max_examples=10)
resistance = st.floats(0.3, 5.0)
area = st.floats(0.02, 0.5)

# What a way may be; each keeps R C and L/R well above a step, as physics/beat_and_orbit.md asks.
PASSIVE = ("linear", "orifice", "valve", "leaky_valve", "two_way")
HEAVY = ("column", "narrow_column")


@st.composite
def ways(draw: st.DrawFn, name: str, start: str, end: str, laws: tuple[str, ...]) -> Edge:
    """A way by one of the laws."""
    law, ohm = draw(st.sampled_from(laws)), draw(resistance)
    fields: dict[str, object] = {"resistance_mmhg_s_ml": ohm}
    if law in {"orifice", "narrow_column"}:
        fields["restrictions"] = (narrow(draw(area)),)
    if law in {"valve", "leaky_valve"}:
        fields["valve"] = True
    if law == "leaky_valve":
        fields["leak_area_cm2"] = draw(area)
    if law in HEAVY:
        fields["inertance_mmhg_s2_ml"] = draw(st.floats(0.1, 0.5))
    if law == "two_way":
        fields = {"own_law": OwnLaw(name=law, numbers={"R_f": ohm, "R_b": 20.0 * ohm})}
    if law == "pump":
        head = draw(st.floats(5.0, 60.0))
        fields = {"own_law": OwnLaw(name=law, numbers={"R": ohm, "B": 0.05, "P_h": head})}
    return Edge(name=name, start=start, end=end, **fields)  # type: ignore[arg-type]


@st.composite
def chambers(draw: st.DrawFn, name: str, by: str) -> Part:
    """A part by one of the laws; one that is squeezed lies in ``by``."""
    kind = draw(st.sampled_from(["vessel", "elastance", "fibre", "squeezed"]))
    if kind == "elastance":
        low = draw(st.floats(0.2, 1.0))
        return Atrium(
            name=name,
            elastance_min_mmhg_ml=low,
            elastance_max_mmhg_ml=low * draw(st.floats(1.0, 4.0)),
            unloaded_volume_ml=draw(st.floats(0.5, 4.0)),
        )
    if kind == "fibre":
        return Ventricle(
            name=name,
            mass_g=draw(st.floats(3.0, 9.0)),
            unloaded_volume_ml=draw(st.floats(4.0, 8.0)),
            active_stress_mmhg=draw(st.floats(100.0, 400.0)),
            passive_stress_mmhg=draw(st.floats(1.0, 6.0)),
            passive_exponent=draw(st.floats(5.0, 12.0)),
        )
    soft = draw(st.floats(0.5, 5.0))
    if kind == "squeezed":
        share = draw(st.floats(0.0, 1.0))
        return SqueezedVessel(name=name, compliance_ml_mmhg=soft, by=by, share=share)
    return Vessel(name=name, compliance_ml_mmhg=soft)


def _joints(draw: st.DrawFn, count: int) -> list[tuple[int, int]]:
    """Pairs that join a ring of so many parts, and a few more."""
    ring = [(i, (i + 1) % count) for i in range(count)]
    place = st.integers(0, count - 1)
    more = st.tuples(place, place).filter(lambda pair: pair[0] != pair[1])
    return ring + draw(st.lists(more, max_size=4))


@st.composite
def nets(draw: st.DrawFn) -> tuple[Circuit, list[float]]:
    """A ring of parts of any law, more ways across it, septum and sac or none, and a start."""
    count = draw(st.integers(2, 6))
    names = [f"p{i}" for i in range(count)]
    first = Atrium(
        name="p0", elastance_min_mmhg_ml=0.5, elastance_max_mmhg_ml=2.0, unloaded_volume_ml=2.0
    )
    parts = (first, *(draw(chambers(name, "p0")) for name in names[1:]))
    laws = (*PASSIVE, *HEAVY, "pump")
    edges = tuple(
        draw(ways(f"e{i}", names[a], names[b], laws))
        for i, (a, b) in enumerate(_joints(draw, count))
    )
    start = [draw(st.floats(4.0, 12.0)) for _ in names]
    circuit = small(parts, edges, volume_ml=sum(start), period_s=0.5)
    if draw(st.booleans()):
        wall = Septum(left="p0", right="p1", elastance_mmhg_ml=10.0, viscosity_mmhg_s_ml=1.0)
        circuit = replace(circuit, septum=wall)
    if draw(st.booleans()):
        around = tuple(part.name for part in parts if isinstance(part, Atrium | Ventricle))
        sac = Pericardium(around=around, pressure_mmhg=0.5, exponent=2.0, volume_ml=25.0)
        circuit = replace(circuit, pericardium=sac)
    return circuit, [*start, *[0.0] * (flatten(circuit).states - count)]


@st.composite
def vessels(draw: st.DrawFn, laws: tuple[str, ...]) -> tuple[Circuit, list[float]]:
    """Vessels in a ring and across it, nothing that drives, and a start; own states at rest."""
    count = draw(st.integers(2, 6))
    names = [f"v{i}" for i in range(count)]
    parts = tuple(Vessel(name=n, compliance_ml_mmhg=draw(st.floats(0.5, 5.0))) for n in names)
    edges = tuple(
        draw(ways(f"e{i}", names[a], names[b], laws))
        for i, (a, b) in enumerate(_joints(draw, count))
    )
    start = [draw(st.floats(0.0, 50.0)) for _ in names]
    circuit = small(parts, edges, volume_ml=sum(start) + 1.0, period_s=1.0)
    return circuit, [*start, *[0.0] * (flatten(circuit).states - count)]


@some
@given(nets())
def test_blood_is_kept_by_any_network(net: tuple[Circuit, list[float]]) -> None:
    """Whatever drives, leaks, squeezes or shifts, all volumes add up to what they were."""
    circuit, start = net
    count = len(circuit.parts)
    _, wave, end = one_beat(circuit, start, steps=200)
    assert np.isfinite(wave).all()
    assert wave[:, :count].sum(axis=1) == pytest.approx(sum(start[:count]), abs=1e-9)
    assert end[:count].sum() == pytest.approx(sum(start[:count]), abs=1e-9)


@some
@given(vessels(PASSIVE))
def test_light_blood_never_overdraws_a_vessel(net: tuple[Circuit, list[float]]) -> None:
    """Where blood has no weight and nothing drives, no vessel is emptied below nothing."""
    circuit, start = net
    _, wave, _ = one_beat(circuit, start, steps=200)
    assert wave[:, : len(circuit.parts)].min() >= -1e-12


@some
@given(vessels((*PASSIVE, *HEAVY)))
def test_what_nothing_drives_only_loses_energy(net: tuple[Circuit, list[float]]) -> None:
    """V²/2C of vessels and L Q²/2 of columns together never rise, whatever the ways are."""
    circuit, start = net
    count = len(circuit.parts)
    inertances = np.array([float(edge.inertance_mmhg_s2_ml) for edge in circuit.edges])
    _, wave, _ = one_beat(circuit, start, steps=200)
    stored = 0.5 * (wave[:, :count] * wave[:, count : 2 * count]).sum(axis=1)
    moving = 0.5 * (inertances * wave[:, 2 * count :] ** 2).sum(axis=1)
    energy = stored + moving
    assert np.all(np.diff(energy) <= 1e-9 * (1.0 + energy[0]))


@some
@given(nets(), st.randoms(use_true_random=False))
def test_order_of_any_network_does_not_count(
    net: tuple[Circuit, list[float]], random: Random
) -> None:
    """Parts, edges and members of the sac in another order: the same beat, to rounding."""
    circuit, start = net
    count = len(circuit.parts)
    parts, edges = list(range(count)), list(circuit.edges)
    random.shuffle(parts)
    random.shuffle(edges)
    other = replace(circuit, parts=tuple(circuit.parts[i] for i in parts), edges=tuple(edges))
    if circuit.pericardium is not None:
        around = list(circuit.pericardium.around)
        random.shuffle(around)
        other = replace(other, pericardium=replace(circuit.pericardium, around=tuple(around)))
    moved = [start[i] for i in parts] + start[count:]
    one, two = one_beat(circuit, start, steps=100)[1], one_beat(other, moved, steps=100)[1]
    for i, name in enumerate(part.name for part in circuit.parts):
        j = other.index(name)
        assert two[:, j] == pytest.approx(one[:, i], abs=1e-8)
        assert two[:, count + j] == pytest.approx(one[:, count + i], abs=1e-7)
    for i, name in enumerate(edge.name for edge in circuit.edges):
        j = other.edge_index(name)
        assert two[:, 2 * count + j] == pytest.approx(one[:, 2 * count + i], abs=1e-6)


MASSES, LEAKS = st.floats(5.0, 11.0), st.floats(0.005, 0.03)
many = st.lists(st.tuples(MASSES, LEAKS), min_size=2, max_size=11)


def _ensemble(members: list[tuple[float, float]]) -> Circuit:
    mass, leak = np.array(members).T
    return every_law(mass_g=mass, leak_area_cm2=leak)


@few
@given(many, st.randoms(use_true_random=False))
def test_order_of_members_does_not_count(
    members: list[tuple[float, float]], random: Random
) -> None:
    """Members in another order have the same orbits, to the last digit, in the other order."""
    order = list(range(len(members)))
    random.shuffle(order)
    one, two = find_orbit(_ensemble(members)), find_orbit(_ensemble([members[i] for i in order]))
    assert np.array_equal(two.part_readouts, one.part_readouts[order])
    assert np.array_equal(two.edge_flows_ml_s, one.edge_flows_ml_s[order])
    assert np.array_equal(two.beats, one.beats[order])


@few
@given(many, many)
def test_neighbours_do_not_count(
    members: list[tuple[float, float]], others: list[tuple[float, float]]
) -> None:
    """A member's orbit is the same, to the last digit, whoever stands before it."""
    one = find_orbit(_ensemble(members))
    two = find_orbit(_ensemble([*others, *members]))
    assert np.array_equal(two.part_readouts[len(others) :], one.part_readouts)
    assert np.array_equal(two.unknowns[len(others) :], one.unknowns)


@few
@given(many)
def test_eight_abreast_are_as_one_alone(members: list[tuple[float, float]]) -> None:
    """One circulation alone has the orbit that it has among eight, to a billionth."""
    together = find_orbit(_ensemble(members))
    for i, (mass, leak) in enumerate(members):
        alone = find_orbit(every_law(mass_g=mass, leak_area_cm2=leak))
        assert together.part_readouts[i] == pytest.approx(
            alone.part_readouts[0], rel=1e-9, abs=1e-9
        )
        assert together.beats[i] == alone.beats[0]


@few
@given(MASSES, LEAKS)
def test_blood_is_kept_over_the_repeating_beat(mass: float, leak: float) -> None:
    """With every law at work the repeating beat keeps its blood, and no part gains any."""
    circuit = every_law(mass_g=mass, leak_area_cm2=leak)
    orbit = find_orbit(circuit, settings=FINE)
    assert waveforms(orbit).volumes_ml.sum(axis=1) == pytest.approx(circuit.volume_ml, abs=1e-8)
    net = orbit.edge_flows_ml_s[0, :, 0] - orbit.edge_flows_ml_s[0, :, 1]
    gained = np.zeros(len(circuit.parts))
    for edge, flow in zip(circuit.edges, net, strict=True):
        gained[circuit.index(edge.start)] -= flow
        gained[circuit.index(edge.end)] += flow
    assert gained == pytest.approx(np.zeros(len(circuit.parts)), abs=1e-4)


@few
@given(MASSES, LEAKS, st.floats(0.4, 2.5))
def test_size_does_not_count_with_every_law(mass: float, leak: float, ratio: float) -> None:
    """In a body of another size every law keeps its pressures, and gives flows in proportion.

    Every valve has its opening here: the least loss of one without does not know of size.
    """
    circuit = every_law(mass_g=mass, leak_area_cm2=leak)
    circuit = circuit.with_edge("pulmonary", restrictions=(narrow(0.4),))
    one, two = find_orbit(circuit, settings=FINE), find_orbit(scaled(circuit, ratio), settings=FINE)
    columns = one.part_readouts.shape[2]
    power = np.array([0.0] * 3 + [1.0] * 2 + [0.0] * (columns - 5))
    assert two.part_readouts[0] == pytest.approx(one.part_readouts[0] * ratio**power, abs=1e-3)
    assert two.edge_flows_ml_s[0] == pytest.approx(ratio * one.edge_flows_ml_s[0], abs=1e-3)


def test_one_core_gives_what_two_give_with_every_law() -> None:
    """With every law, reflex and own bed the number of threads changes no digit."""
    circuit = every_law(mass_g=np.linspace(6.0, 10.0, 21))
    several = find_orbit(circuit, ANSWERING, settings=Settings(threads=2))
    one = find_orbit(circuit, ANSWERING, settings=Settings(threads=1))
    assert np.array_equal(one.unknowns, several.unknowns)
    assert np.array_equal(one.part_readouts, several.part_readouts)


def test_what_reflex_and_bed_found_holds_by_itself() -> None:
    """With reflex and own bed at rest nothing is left to regulate: fixed, it is the same orbit.

    Within 0.01 mmHg: the tone is left within a thousandth of its place.
    """
    held = find_orbit(every_law(), ANSWERING, settings=FINE)
    alone = find_orbit(held.as_regulated(), settings=FINE)
    assert held.tone[0] != 0.0
    assert held.bed_factor[0] != 1.0
    assert alone.part_readouts[0] == pytest.approx(held.part_readouts[0], abs=0.01)
