"""Leaks, coronary bed, septum, sac, support and reflex: what each changes, and when it refuses."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from rooms.topology_samples import AFTER_BYPASS, mixing, switched

from inseries.base.errors import CircuitError, RouteNotPossible
from inseries.circuit.fetus import fetus
from inseries.circuit.newborn import normal_newborn, parallel_newborn
from inseries.circuit.orbit import FINE, QUICK, Regulation, find_orbit
from inseries.circuit.readouts import read
from inseries.circuit.waveforms import waveforms
from inseries.routes import (
    arterial_switch,
    atrial_switch,
    coronary_need,
    newborn_reflex,
    pump_head_mmhg,
    with_aortic_leak,
    with_branch_stenosis,
    with_coronaries,
    with_lung_branches,
    with_ostial_stenosis,
    with_pericardium,
    with_septum,
    with_support,
    with_valve_leak,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from inseries.circuit.network import Circuit
    from inseries.circuit.readouts import Readings


def _seen(circuit: Circuit) -> Readings:
    return read(find_orbit(circuit, settings=FINE))


@pytest.mark.parametrize(
    ("make", "valve"),
    [(normal_newborn, "lv_outlet"), (switched, "lv_outlet"), (parallel_newborn, "rv_outlet")],
)
def test_the_aortic_leak_is_on_the_valve_before_the_aorta(
    make: Callable[[], Circuit], valve: str
) -> None:
    """Whichever ventricle feeds the aorta, its outlet leaks, and no other way changes."""
    before, after = make(), with_aortic_leak(make(), 0.03)
    changed = {edge.name for edge in after.edges if edge != before.edge(edge.name)}
    assert changed == {valve}
    forwards, backwards = _seen(after).both_ways_ml_s(valve)
    assert 0.2 < backwards[0] / forwards[0] < 0.5


@pytest.mark.parametrize("valve", ["mitral", "tricuspid", "lv_outlet", "rv_outlet"])
def test_a_leak_comes_back_into_the_chamber_before_it(valve: str) -> None:
    """Any valve can leak: the chamber before it fills more, and less goes on to the body."""
    tight, leaking = _seen(normal_newborn()), _seen(with_valve_leak(normal_newborn(), valve, 0.03))
    before = normal_newborn().edge(valve).start
    assert leaking.both_ways_ml_s(valve)[1][0] > 0.1
    assert leaking.end_diastolic_ml(before)[0] > tight.end_diastolic_ml(before)[0] + 0.1
    assert leaking.systemic_flow_ml_s[0] < tight.systemic_flow_ml_s[0]


def test_no_leak_is_the_valve_as_it_was() -> None:
    """An opening of 0 gives the tight valve's beat."""
    tight, none = _seen(normal_newborn()), _seen(with_aortic_leak(normal_newborn(), 0.0))
    assert none.orbit.part_readouts == pytest.approx(tight.orbit.part_readouts, abs=1e-6)


@pytest.mark.parametrize(
    "make", [normal_newborn, switched, mixing, lambda: atrial_switch(mixing())]
)
def test_a_coronary_bed_changes_little_else(make: Callable[[], Circuit]) -> None:
    """Pressures of arteries and atria stay within 0.2 mmHg, and so does the body's flow, to 1 %."""
    before, after = _seen(make()), _seen(with_coronaries(make()))
    for part in ("AoU", "PA", "LA", "RA"):
        assert after.mean_mmhg(part) == pytest.approx(before.mean_mmhg(part), abs=0.2)
    assert after.systemic_flow_ml_s == pytest.approx(before.systemic_flow_ml_s, rel=0.01)
    share = sum(edge.uptake_share for edge in after.circuit.edges)
    assert share == pytest.approx(1.0)


def test_the_bed_lies_in_the_wall_of_the_body_ventricle() -> None:
    """Its vessels bear the pressure of the ventricle before the aorta; its mass sizes them."""
    normal, parallel = with_coronaries(normal_newborn()), with_coronaries(parallel_newborn())
    assert getattr(normal.part("CM"), "by", None) == "LV"
    assert getattr(parallel.part("CM"), "by", None) == "RV"
    heavy = with_coronaries(normal_newborn().with_part("LV", mass_g=2.0 * 5.92))
    assert coronary_need(heavy).flow_ml_s == pytest.approx(
        2.0 * np.asarray(coronary_need(normal).flow_ml_s)
    )
    assert 2.0 * np.asarray(heavy.edge("coronary_bed").resistance_mmhg_s_ml) == pytest.approx(
        normal.edge("coronary_bed").resistance_mmhg_s_ml
    )


def test_vessels_of_the_wall_stay_open() -> None:
    """At no time of the beat is less blood in the wall than stretches nothing."""
    waves = waveforms(with_coronaries(normal_newborn()))
    assert waves.volume_ml("CM").min() > 0.0
    assert waves.volume_ml("CA").min() > 0.0


def test_the_great_vessels_are_no_faster_than_a_step() -> None:
    """Wide open and at a slow rate, quick and fine steps see the same flow and pressure."""
    circuit = replace(with_coronaries(normal_newborn()), rate_per_min=90.0)
    held = Regulation(
        pressure_mmhg=55.0,
        filling_mmhg=None,
        resistance_low=0.5,
        resistance_high=2.0,
        bed=coronary_need(circuit, work=50.0),
    )
    quick, fine = (read(find_orbit(circuit, held, settings=each)) for each in (QUICK, FINE))
    assert quick.flow_ml_s("coronary_bed") == pytest.approx(
        fine.flow_ml_s("coronary_bed"), rel=0.01
    )
    assert quick.mean_mmhg("CA") == pytest.approx(fine.mean_mmhg("CA"), abs=0.5)


def test_a_working_heart_gets_what_it_needs() -> None:
    """A heart that needs twice the flow gets it from a bed that widens."""
    circuit = with_coronaries(normal_newborn())
    held = {"pressure_mmhg": 55.0, "filling_mmhg": None, "resistance_low": 0.5}
    flows = [
        float(
            read(
                find_orbit(
                    circuit,
                    Regulation(**held, resistance_high=2.0, bed=coronary_need(circuit, work=work)),
                )
            ).flow_ml_s("coronary_bed")[0]
        )
        for work in (1.0, 2.0)
    ]
    assert flows[1] == pytest.approx(2.0 * flows[0], rel=1e-3)


def test_the_sac_is_nearly_silent_in_the_reference_newborn() -> None:
    """It adds less than 0.1 mmHg to either atrium, and takes less than 1 % of the flow."""
    free, held = _seen(normal_newborn()), _seen(with_pericardium(normal_newborn()))
    for part in ("LA", "RA"):
        assert 0.0 < held.mean_mmhg(part)[0] - free.mean_mmhg(part)[0] < 0.1
    assert held.systemic_flow_ml_s == pytest.approx(free.systemic_flow_ml_s, rel=0.01)


def test_a_tight_sac_bites() -> None:
    """The smaller the sac, the higher the atria and the less goes round, at equal blood volume."""
    sizes = np.array([39.0, 32.0, 27.0, 23.0])
    seen = _seen(with_pericardium(normal_newborn(), volume_ml=sizes))
    assert np.all(np.diff(seen.mean_mmhg("RA")) > 0.0)
    assert np.all(np.diff(seen.systemic_flow_ml_s) < 0.0)
    assert seen.mean_mmhg("RA")[-1] > seen.mean_mmhg("RA")[0] + 1.0


def test_a_soft_septum_lends_left_volume_to_the_right() -> None:
    """The softer, the higher the left atrium and the lower the right; a hard one is no septum."""
    free = _seen(normal_newborn())
    seen = _seen(with_septum(normal_newborn(), elastance_mmhg_ml=np.array([1e4, 80.0, 40.0, 20.0])))
    assert np.all(np.diff(seen.mean_mmhg("LA")) > 0.0)
    assert np.all(np.diff(seen.mean_mmhg("RA")) < 0.0)
    assert seen.mean_mmhg("LA")[0] == pytest.approx(free.mean_mmhg("LA")[0], abs=0.05)


def test_support_takes_over() -> None:
    """With more head more flows through the pump, and less through lungs and heart."""
    seen = _seen(with_support(switched(), np.array([0.0, 60.0, 90.0, 120.0, 150.0])))
    assert seen.flow_ml_s("support")[0] == pytest.approx(0.0, abs=1e-6)
    assert np.all(np.diff(seen.flow_ml_s("support")) > 0.0)
    assert np.all(np.diff(seen.lung_flow_ml_s) < 0.0)
    assert np.all(np.diff(seen.mean_mmhg("AoU")) > 0.0)


def test_support_meets_a_need_that_lungs_do_not() -> None:
    """Where lungs take up no oxygen, the oxygenator brings it: the share met follows the pump."""
    circuit = switched().with_edge("lungs", lungs=False)
    seen = _seen(with_support(circuit, np.array([40.0, 55.0, 80.0, 150.0])))
    met = seen.oxygen.need_met
    assert met[0] < 0.9
    assert np.all(np.diff(met) >= 0.0)
    assert met[-1] == pytest.approx(1.0)


def test_a_head_gives_the_flow_it_was_asked_for() -> None:
    """The head for 100 mL/min/kg against the pressure that then holds gives it, to 2 %."""
    asked = 100.0 * 3.5 / 60.0
    head, circuit = 100.0, switched()
    for _ in range(6):
        seen = _seen(with_support(circuit, head))
        against = float((seen.mean_mmhg("AoU") - seen.mean_mmhg("RA"))[0])
        head = float(pump_head_mmhg(asked, against))
    assert _seen(with_support(circuit, head)).flow_ml_s("support")[0] == pytest.approx(
        asked, rel=0.02
    )


def test_blood_can_be_drawn_from_the_blue_atrium_after_an_atrial_switch() -> None:
    """There ``LA`` is blue: support from it reddens what it draws."""
    seen = _seen(with_support(atrial_switch(mixing()), 120.0, start="LA"))
    assert seen.flow_ml_s("support")[0] > 1.0
    assert seen.saturation_pct("LA")[0] < seen.saturation_pct("RA")[0] - 5.0


def test_reflex_of_a_newborn_at_rest_does_nothing() -> None:
    """At the pressure that it keeps, tone is zero and the beat is the one without it."""
    free = _seen(normal_newborn())
    held = Regulation(
        pressure_mmhg=float(free.mean_mmhg("AoU")[0]),
        filling_mmhg=None,
        resistance_low=0.3,
        resistance_high=3.0,
        reflex=newborn_reflex(),
    )
    orbit = find_orbit(normal_newborn(), held, settings=FINE)
    assert orbit.tone == pytest.approx([0.0], abs=1e-4)
    assert read(orbit).systemic_flow_ml_s == pytest.approx(free.systemic_flow_ml_s, abs=1e-4)


def test_lung_flow_is_that_of_both_lungs() -> None:
    """Of a divided lung artery the two beds are counted together; collaterals stay apart."""
    whole, divided = _seen(switched()), _seen(with_lung_branches(switched()))
    assert divided.lung_flow_ml_s == pytest.approx(whole.lung_flow_ml_s, rel=0.01)
    narrow = _seen(with_branch_stenosis(switched(), left_mm=2.0))
    beds = narrow.flow_ml_s("right_lung") + narrow.flow_ml_s("left_lung")
    assert narrow.lung_flow_ml_s == pytest.approx(beds)


EVERY_ADDITION: dict[str, Callable[[object], Circuit]] = {
    "aortic leak": lambda x: with_aortic_leak(switched(), 0.01 * x),
    "ostial stenosis": lambda x: with_ostial_stenosis(switched(), 0.4 * x),
    "septum": lambda x: with_septum(switched(), surface_ratio=x),
    "sac": lambda x: with_pericardium(switched(), surface_ratio=x),
    "support": lambda x: with_support(switched(), 80.0 * x, surface_ratio=x),
}


@pytest.mark.parametrize("name", EVERY_ADDITION)
def test_many_members_are_many_single_ones(name: str) -> None:
    """An addition on an array of sizes gives for each member what it gives for that size alone."""
    sizes = np.array([1.0, 1.3])
    together = find_orbit(EVERY_ADDITION[name](sizes))
    for member, size in enumerate(sizes):
        alone = find_orbit(EVERY_ADDITION[name](float(size)))
        assert alone.part_readouts[0] == pytest.approx(together.part_readouts[member], abs=1e-3)


@pytest.mark.parametrize("name", EVERY_ADDITION)
@pytest.mark.parametrize("size", [-1.0, float("nan")])
def test_no_addition_takes_an_impossible_size(name: str, size: float) -> None:
    """A size below zero, or none at all, is refused with the place that is meant."""
    with pytest.raises(RouteNotPossible) as refused:
        EVERY_ADDITION[name](np.array([1.0, size]))
    assert refused.value.where


@pytest.mark.parametrize(
    ("add", "code"),
    [
        (lambda: with_valve_leak(switched(), "lungs", 0.02), "no_valve"),
        (lambda: with_aortic_leak(switched(), 0.6), "leak_out_of_bounds"),
        (lambda: with_coronaries(with_coronaries(switched())), "coronaries_already"),
        (lambda: with_coronaries(fetus()), "before_birth"),
        (
            lambda: arterial_switch(with_coronaries(mixing()), AFTER_BYPASS, relieve_outflow=True),
            "coronaries_already",
        ),
        (lambda: with_ostial_stenosis(switched(), 0.0), "closed"),
        (lambda: with_septum(switched(), elastance_mmhg_ml=0.0), "no_size"),
        (lambda: with_pericardium(switched(), volume_ml=0.0), "no_size"),
        (lambda: with_support(with_support(switched(), 80.0), 80.0), "support_already"),
        (lambda: with_support(fetus(), 80.0), "before_birth"),
        (lambda: pump_head_mmhg(5.0, 50.0, surface_ratio=0.0), "no_size"),
        (
            lambda: with_coronaries(replace(_huge(), topology="normal")),
            "wall_too_heavy",
        ),
    ],
)
def test_an_addition_names_why_it_is_not_possible(add: Callable[[], object], code: str) -> None:
    """An addition whose precondition is not met is refused, with what was found."""
    with pytest.raises(RouteNotPossible) as refused:
        add()
    assert refused.value.code == code


def _huge() -> Circuit:
    return normal_newborn().with_part("LV", mass_g=2000.0)


@pytest.mark.parametrize(
    "add",
    [
        lambda: with_valve_leak(switched(), "no such valve", 0.02),
        lambda: with_support(switched(), 80.0, start="no such vein"),
    ],
)
def test_an_addition_knows_its_places(add: Callable[[], object]) -> None:
    """A valve or vein that is not there is refused by name."""
    with pytest.raises(CircuitError) as refused:
        add()
    assert "no such" in str(refused.value.where)
