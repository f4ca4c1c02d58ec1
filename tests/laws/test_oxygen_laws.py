"""What holds for oxygen in every blood and every network."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rooms.circuit_samples import HELD
from rooms.oxygen_samples import Flowing, flowing, orbit_with_flows

from inseries.circuit.blood import carriage, lung_content, p50_mmhg, po2_mmhg, saturation
from inseries.circuit.network import Blood
from inseries.circuit.newborn import normal_newborn, parallel_newborn
from inseries.circuit.orbit import FINE, find_orbit
from inseries.circuit.oxygen import oxygen_balance
from inseries.circuit.oxygen_course import Phase, oxygen_course
from inseries.circuit.oxygen_exchange import LEAST_VENOUS_SATURATION, TRACE_FLOW_ML_S
from inseries.routes import with_atrial_defect, with_duct

if TYPE_CHECKING:
    from inseries.circuit.network import Circuit
    from inseries.circuit.orbit import Orbit

some = settings(max_examples=30)


@st.composite
def bloods(draw: st.DrawFn) -> Blood:
    """Blood of a newborn, healthy or ill, in air or not."""
    return Blood(
        haemoglobin_g_dl=draw(st.floats(5.0, 25.0)),
        capacity_ml_g=1.36,
        consumption_ml_min=draw(st.floats(5.0, 40.0)),
        lung_saturation=draw(st.floats(0.85, 0.99)),
        fetal_share=draw(st.floats(0.01, 1.0)),
        ph=draw(st.floats(6.9, 7.6)),
        temperature_c=draw(st.floats(32.0, 40.0)),
        carbon_dioxide_mmhg=draw(st.floats(20.0, 80.0)),
        inspired_fraction=draw(st.floats(0.21, 1.0)),
    )


@given(st.floats(0.001, 0.999), st.floats(12.0, 40.0))
def test_saturation_and_pressure_are_inverse(fraction: float, p50: float) -> None:
    """A saturation turned into a pressure and back is the same."""
    assert saturation(po2_mmhg(fraction, p50), p50) == pytest.approx(fraction, abs=1e-11)


@given(st.floats(12.0, 40.0))
def test_half_is_saturated_at_p50(p50: float) -> None:
    """At its own P50 every curve is half full."""
    assert saturation(p50, p50) == pytest.approx(0.5, abs=1e-4)


@given(bloods(), st.floats(0.0, 700.0), st.floats(0.0, 700.0))
def test_content_rises_with_pressure(blood: Blood, a: float, b: float) -> None:
    """More pressure never means less oxygen."""
    carried = carriage(blood, 1)
    low, high = (float(carried.content(p)[0, 0]) for p in sorted((a, b)))
    assert 0.0 <= low <= high


@given(bloods(), st.lists(st.floats(0.0, 700.0), min_size=1, max_size=5))
def test_content_and_pressure_are_inverse(blood: Blood, pressures: list[float]) -> None:
    """A pressure turned into a content and back is the same to a few parts in a million."""
    carried = carriage(blood, 1)
    row = np.array([pressures])
    assert np.allclose(carried.pressure(carried.content(row)), row, rtol=5e-6, atol=1e-9)


@given(bloods(), st.floats(-0.1, 0.0))
def test_content_below_zero_has_no_pressure(blood: Blood, content: float) -> None:
    """What a sum of errors left below nothing counts as nothing."""
    assert carriage(blood, 1).pressure(np.array([[content]])) == pytest.approx(0.0)


@given(bloods(), st.floats(0.21, 1.0))
def test_in_air_lungs_give_their_own_saturation(blood: Blood, inspired: float) -> None:
    """In air at sea level lungs give lung_saturation, and richer gas gives more."""
    air = replace(blood, inspired_fraction=0.21, carbon_dioxide_mmhg=40.0)
    carried = carriage(air, 1)
    here = lung_content(air, carried)
    assert here == pytest.approx(carried.content_at(air.lung_saturation), rel=1e-4)
    assert lung_content(replace(air, inspired_fraction=inspired), carried) >= here - 1e-6


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0), st.floats(6.9, 7.6), st.floats(6.9, 7.6))
def test_fetal_blood_and_alkali_hold_oxygen_tighter(
    share_a: float, share_b: float, ph_a: float, ph_b: float
) -> None:
    """More fetal haemoglobin and a higher pH both lower the pressure of half saturation."""
    less, more = sorted((share_a, share_b))
    acid, base = sorted((ph_a, ph_b))
    assert p50_mmhg(more, acid) <= p50_mmhg(less, acid)
    assert p50_mmhg(less, base) <= p50_mmhg(less, acid)


@some
@given(flowing(), bloods())
def test_oxygen_taken_in_is_oxygen_used(net: Flowing, blood: Blood) -> None:
    """In any network what blood gains in the lungs is what the beds take, to 1e-4 of the need."""
    orbit = orbit_with_flows(net, blood)
    told = oxygen_balance(orbit)
    used = told.need_met * blood.consumption_ml_min / 60.0
    gained = sum(
        (orbit.edge_flows_ml_s[:, i, 0] + TRACE_FLOW_ML_S)
        * (told.lung_content - told.content[:, orbit.circuit.index(edge.start)])
        for i, edge in enumerate(orbit.circuit.edges)
        if edge.lungs
    )
    assert gained == pytest.approx(used, abs=1e-4 * blood.consumption_ml_min / 60.0)


@some
@given(flowing(), bloods())
def test_contents_lie_between_beds_and_lungs(net: Flowing, blood: Blood) -> None:
    """No blood is richer than the lungs', none poorer than what beds leave at most."""
    told = oxygen_balance(orbit_with_flows(net, blood))
    assert told.content.max() <= told.lung_content[0] + 1e-9
    floor = min(LEAST_VENOUS_SATURATION, blood.lung_saturation)
    assert told.saturation.min() >= floor - 1e-5
    assert told.venous_saturation.min() >= floor - 1e-5
    assert np.all((told.bed_need_met >= 0.0) & (told.bed_need_met <= 1.0))


@some
@given(flowing(), bloods(), st.floats(1.0, 2.0))
def test_more_need_is_never_met_better(net: Flowing, blood: Blood, more: float) -> None:
    """A larger need leaves every place poorer and is met to no larger share."""
    here = oxygen_balance(orbit_with_flows(net, blood))
    harder = replace(blood, consumption_ml_min=blood.consumption_ml_min * more)
    there = oxygen_balance(orbit_with_flows(net, harder))
    assert np.all(there.content <= here.content + 1e-9)
    assert there.need_met[0] <= here.need_met[0] + 1e-9


@some
@given(flowing(), bloods(), bloods())
def test_the_course_tends_to_the_balance(net: Flowing, first: Blood, second: Blood) -> None:
    """From wherever it starts, oxygen over time ends where the steady balance is."""
    second = replace(second, haemoglobin_g_dl=first.haemoglobin_g_dl)
    before, after = orbit_with_flows(net, first), orbit_with_flows(net, second)
    course = oxygen_course(before, [Phase(orbit=after, minutes=600.0)], 300.0, step_s=600.0)
    assert course.content[-1] == pytest.approx(oxygen_balance(after).content, abs=1e-5)
    assert course.minutes[-1] == pytest.approx(600.0)


def _pair() -> tuple[Orbit, Orbit]:
    tight, torn = (
        find_orbit(with_duct(with_atrial_defect(parallel_newborn(), mm), 1.5), settings=FINE)
        for mm in (2.5, 7.0)
    )
    return tight, torn


@settings(max_examples=8, deadline=None)
@given(st.floats(0.5, 10.0))
def test_steps_do_not_matter_while_beds_are_met(step_s: float) -> None:
    """Stepping is exact: large and small steps reach the same contents."""
    tight, torn = _pair()
    fine, coarse = (
        oxygen_course(tight, [Phase(orbit=torn, minutes=2.0)], 300.0, step_s=step)
        for step in (0.25, step_s)
    )
    assert coarse.need_met.min() == 1.0
    assert coarse.content[-1] == pytest.approx(fine.content[-1], abs=1e-10)


@pytest.mark.parametrize("make", [normal_newborn, parallel_newborn])
def test_real_orbits_keep_the_same_laws(make: object) -> None:
    """On the mean flows of a real beat intake equals uptake to a thousandth of the need."""
    circuit: Circuit = with_atrial_defect(make(), 6.0)  # type: ignore[operator]
    orbit = find_orbit(circuit, HELD, settings=FINE)
    told = oxygen_balance(orbit)
    gained = 0.0
    for i, edge in enumerate(circuit.edges):
        forward, backward = orbit.edge_flows_ml_s[0, i]
        start, end = circuit.index(edge.start), circuit.index(edge.end)
        if edge.lungs:
            gained += forward * (told.lung_content[0] - told.content[0, start])
            gained += backward * (told.content[0, start] - told.content[0, end])
    need = float(circuit.blood.consumption_ml_min) / 60.0
    assert gained == pytest.approx(need * told.need_met[0], rel=1e-3)
