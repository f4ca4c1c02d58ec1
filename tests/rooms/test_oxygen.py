"""Blood, its refusals, and oxygen over minutes, on small examples."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from rooms.circuit_samples import BLOOD, two_vessels

from inseries.base.errors import CircuitError
from inseries.circuit.blood import carriage, lung_content
from inseries.circuit.newborn import normal_newborn, parallel_newborn
from inseries.circuit.orbit import Orbit, find_orbit
from inseries.circuit.oxygen import oxygen_balance
from inseries.circuit.oxygen_course import (
    Phase,
    oxygen_course,
    part_volumes_ml,
    unstressed_shares,
)
from inseries.circuit.oxygen_exchange import plan_of
from inseries.routes import with_atrial_defect, with_duct


@pytest.mark.parametrize(
    "wrong", [{"lung_saturation": 97.0}, {"fetal_share": 1.2}, {"inspired_fraction": 40.0}]
)
def test_a_share_above_the_whole_is_refused(wrong: dict[str, float]) -> None:
    """Per cent where a fraction belongs is refused with the name of the place."""
    with pytest.raises(CircuitError) as refusal:
        replace(BLOOD, **wrong)
    assert refusal.value.code == "more_than_all"
    assert next(iter(wrong)) in refusal.value.where


def test_full_lungs_in_air_have_no_pressure_and_are_refused() -> None:
    """At a saturation of one there is no telling the pressure."""
    with pytest.raises(CircuitError):
        replace(BLOOD, lung_saturation=1.0)


def test_thin_air_lowers_what_lungs_give() -> None:
    """At the pressure of 3000 m air gives less, oxygen to breathe brings it back."""
    high = replace(BLOOD, barometric_mmhg=526.0)
    here, there, helped = (
        float(lung_content(blood, carriage(blood, 1))[0, 0])
        for blood in (BLOOD, high, replace(high, inspired_fraction=0.4))
    )
    assert there < here < helped


def test_members_with_other_blood_stand_side_by_side() -> None:
    """Each member is answered as if it were alone."""
    circuit = with_atrial_defect(parallel_newborn(), np.array([6.0, 6.0]))
    grams, gas = np.array([12.0, 18.0]), np.array([0.21, 1.0])
    both = oxygen_balance(
        find_orbit(circuit.with_blood(haemoglobin_g_dl=grams, inspired_fraction=gas))
    )
    for i in range(2):
        alone = with_atrial_defect(parallel_newborn(), 6.0).with_blood(
            haemoglobin_g_dl=float(grams[i]), inspired_fraction=float(gas[i])
        )
        told = oxygen_balance(find_orbit(alone))
        assert both.po2_mmhg[i] == pytest.approx(told.po2_mmhg[0], abs=1e-3)
        assert both.venous_saturation[i] == pytest.approx(told.venous_saturation[0], abs=1e-6)


def test_a_member_without_flows_leaves_the_others_alone() -> None:
    """Where one member's flows are no numbers its oxygen is none either; its neighbour's is."""
    orbit = find_orbit(with_atrial_defect(parallel_newborn(), np.array([6.0, 5.0])))
    flows = orbit.edge_flows_ml_s.copy()
    flows[1] = np.nan
    told, whole = oxygen_balance(replace(orbit, edge_flows_ml_s=flows)), oxygen_balance(orbit)
    assert told.saturation[0] == pytest.approx(whole.saturation[0])
    assert np.all(np.isnan(told.saturation[1]))
    assert np.isnan(told.need_met[1])


def test_a_bed_in_want_is_limited_alone() -> None:
    """Where legs get too little, arms still take all they need."""
    circuit = normal_newborn()
    legs = 20.0 * circuit.edge("lower_body").resistance_mmhg_s_ml
    told = oxygen_balance(find_orbit(circuit.with_edge("lower_body", resistance_mmhg_s_ml=legs)))
    upper, lower = told.beds.index("upper_body"), told.beds.index("lower_body")
    assert told.bed_need_met[0, upper] == 1.0
    assert 0.0 < told.bed_need_met[0, lower] < 1.0
    assert told.venous_saturation[0, lower] == pytest.approx(0.15, abs=1e-5)
    assert told.need_met[0] == pytest.approx(told.bed_need_met[0].mean())


def test_a_plan_is_made_once() -> None:
    """Circuits of one make share the plan of their flows."""
    assert plan_of(normal_newborn()) is plan_of(normal_newborn().with_blood(ph=7.3))
    assert plan_of(normal_newborn()) is not plan_of(parallel_newborn())


def test_all_blood_lies_somewhere() -> None:
    """Unstressed shares add up to one, and the parts' mean volumes to about all blood."""
    assert sum(unstressed_shares().values()) == pytest.approx(1.0)
    orbit = find_orbit(parallel_newborn())
    assert part_volumes_ml(orbit, 315.0).sum() == pytest.approx(315.0, rel=0.05)


def _torn() -> tuple[Orbit, Orbit]:
    tight, torn = (
        find_orbit(with_duct(with_atrial_defect(parallel_newborn(), mm), 1.5)) for mm in (2.5, 7.0)
    )
    return tight, torn


def test_phases_follow_one_another() -> None:
    """A septum torn for three minutes and closed again ends where it began."""
    tight, torn = _torn()
    course = oxygen_course(
        tight, [Phase(orbit=torn, minutes=3.0), Phase(orbit=tight, minutes=30.0)], 315.0
    )
    arms = course.saturation_pct("AoU")[:, 0]
    assert course.minutes[0] == 0.0
    assert course.minutes[-1] == pytest.approx(33.0)
    assert np.all(np.diff(course.minutes) > 0.0)
    assert arms.max() > arms[0] + 15.0
    assert arms[-1] == pytest.approx(arms[0], abs=0.2)


def test_half_of_the_rise_comes_when_it_is_told() -> None:
    """At the told minute saturation is half way; more blood takes longer."""
    tight, torn = _torn()
    few, more = (
        oxygen_course(tight, [Phase(orbit=torn, minutes=15.0)], volume, step_s=1.0)
        for volume in (200.0, 400.0)
    )
    half = few.minutes_to_half("AoU")[0]
    arms = few.saturation_pct("AoU")[:, 0]
    assert np.interp(half, few.minutes, arms) == pytest.approx(0.5 * (arms[0] + arms[-1]), abs=0.01)
    assert half < more.minutes_to_half("AoU")[0]


def test_nothing_changes_without_a_change() -> None:
    """Flows as they were leave oxygen as it was."""
    _, torn = _torn()
    course = oxygen_course(torn, [Phase(orbit=torn, minutes=5.0)], 315.0)
    assert course.content[-1] == pytest.approx(course.content[0], abs=1e-9)


def test_courses_without_time_or_through_other_parts_are_refused() -> None:
    """No phase, no minutes, no step, other parts: each is refused."""
    _, torn = _torn()
    other = find_orbit(two_vessels(period_s=0.4))
    for phases, step in (
        ([], 1.0),
        ([Phase(orbit=torn, minutes=0.0)], 1.0),
        ([Phase(orbit=torn, minutes=1.0)], 0.0),
    ):
        with pytest.raises(CircuitError, match="needs time"):
            oxygen_course(torn, phases, 315.0, step_s=step)
    with pytest.raises(CircuitError, match="same parts"):
        oxygen_course(torn, [Phase(orbit=other, minutes=1.0)], 315.0)
