"""Operations: what they change, what they leave, when they refuse."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from rooms.circuit_samples import HELD

from inseries.base.errors import CircuitError, RouteNotPossible
from inseries.circuit.newborn import normal_newborn, parallel_newborn
from inseries.circuit.orbit import find_orbit
from inseries.circuit.readouts import read
from inseries.routes import (
    AfterBypass,
    arterial_switch,
    round_area_cm2,
    with_atrial_defect,
    with_duct,
    with_left_outflow,
    with_ventricular_defect,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from inseries.circuit.network import Circuit

UNHARMED = AfterBypass(
    left_strength=1.0,
    right_strength=1.0,
    stiffness=1.0,
    lung_resistance=1.0,
    rate_per_min=148.0,
)
AFTER = AfterBypass(
    left_strength=0.7,
    right_strength=0.9,
    stiffness=1.4,
    lung_resistance=1.2,
    rate_per_min=160.0,
)


def test_area_of_a_round_opening() -> None:
    """Ten millimetres across are a quarter of pi in cm², one by one for many members."""
    assert round_area_cm2(10.0) == pytest.approx(np.pi / 4.0)
    assert np.allclose(round_area_cm2(np.array([0.0, 20.0])), [0.0, np.pi])


@pytest.mark.parametrize(
    ("open_it", "edge"),
    [
        (with_atrial_defect, "atrial_defect"),
        (with_duct, "duct"),
        (with_ventricular_defect, "ventricular_defect"),
    ],
)
def test_an_opening_changes_one_edge(
    open_it: Callable[[Circuit, float], Circuit], edge: str
) -> None:
    """Opening a defect sets its own area and leaves every other part and edge alone."""
    before = parallel_newborn()
    after = open_it(before, 4.0)
    assert after.edge(edge).restrictions[0].area_cm2 == pytest.approx(round_area_cm2(4.0))
    assert after.parts == before.parts
    assert [e for e in after.edges if e.name != edge] == [e for e in before.edges if e.name != edge]
    assert after.with_area(edge, "opening", 0.0) == before


def test_a_tighter_outflow_raises_the_pressure_before_it() -> None:
    """A narrowing of the left outflow raises left ventricular pressure and leaves a gradient."""
    free = with_atrial_defect(parallel_newborn(), 7.0)
    tight = with_left_outflow(free, 0.12)
    one, two = (read(find_orbit(circuit, HELD)) for circuit in (free, tight))
    assert two.systolic_mmhg("LV")[0] > one.systolic_mmhg("LV")[0] + 20.0
    assert two.systolic_mmhg("LV")[0] > two.systolic_mmhg("PA")[0] + 20.0


def test_the_switch_crosses_the_great_arteries() -> None:
    """After the switch the left ventricle feeds the aorta, the right the lung artery."""
    after = arterial_switch(parallel_newborn(), AFTER, relieve_outflow=True)
    assert (after.topology, after.edge("lv_outlet").end) == ("repaired", "AoU")
    assert after.edge("rv_outlet").end == "PA"


def test_the_valve_travels_with_its_vessel() -> None:
    """The new aortic valve is the one that stood over the lung artery, and the reverse."""
    before = parallel_newborn()
    after = arterial_switch(before, AFTER, relieve_outflow=True)
    for name in ("lv_outlet", "rv_outlet"):
        areas = [
            {place.name: place.area_cm2 for place in circuit.edge(name).restrictions}["valve"]
            for circuit in (before, after)
        ]
        assert areas[0] == areas[1]


def test_the_switch_closes_openings_unless_kept() -> None:
    """Duct and defects are closed with the switch, or left as they are when asked."""
    before = with_duct(with_atrial_defect(parallel_newborn(), 7.0), 3.0)
    before = with_ventricular_defect(before, 2.0)
    for name in ("duct", "atrial_defect", "ventricular_defect"):
        closed = arterial_switch(before, AFTER, relieve_outflow=True).edge(name)
        kept = arterial_switch(before, AFTER, relieve_outflow=True, keep_openings=True).edge(name)
        assert closed.restrictions[0].area_cm2 == 0.0
        assert kept == before.edge(name)


def test_a_fixed_narrowing_goes_into_the_body_s_path() -> None:
    """A left outflow narrowing that is not relieved stays where it is, now before the aorta."""
    before = with_left_outflow(parallel_newborn(), 0.15)
    left = arterial_switch(before, AFTER, relieve_outflow=False).edge("lv_outlet")
    relieved = arterial_switch(before, AFTER, relieve_outflow=True).edge("lv_outlet")
    assert left.restrictions[0].area_cm2 == 0.15
    assert relieved.restrictions[0].area_cm2 > 1.0


def test_bypass_changes_strength_stiffness_lungs_and_rate_only() -> None:
    """The heart just off bypass differs by the stated factors and in nothing else."""
    before = parallel_newborn()
    after = arterial_switch(before, AFTER, relieve_outflow=True)
    unharmed = arterial_switch(before, UNHARMED, relieve_outflow=True)
    left, was = after.part("LV"), before.part("LV")
    changed = {f.name for f in fields(left) if getattr(left, f.name) != getattr(was, f.name)}
    assert changed == {"active_stress_mmhg", "passive_stress_mmhg"}
    assert left.active_stress_mmhg == pytest.approx(0.7 * was.active_stress_mmhg)
    assert left.passive_stress_mmhg == pytest.approx(1.4 * was.passive_stress_mmhg)
    lungs = [circuit.edge("lungs").resistance_mmhg_s_ml for circuit in (before, after)]
    assert lungs[1] == pytest.approx(1.2 * lungs[0])
    assert after.rate_per_min == 160.0
    assert (unharmed.parts, unharmed.volume_ml) == (before.parts, before.volume_ml)


def test_no_blood_is_lost_in_the_switch() -> None:
    """The switch changes no volume: what is filled or bled comes after, by regulation."""
    assert (
        arterial_switch(parallel_newborn(), AFTER, relieve_outflow=True).volume_ml
        == parallel_newborn().volume_ml
    )


def test_the_switch_puts_the_loops_in_series() -> None:
    """After the switch body and lungs carry the same flow, and the arms are as red as the lungs."""
    after = arterial_switch(parallel_newborn(), AFTER, relieve_outflow=True)
    after = after.with_edge("collaterals", resistance_mmhg_s_ml=1e6)
    seen = read(find_orbit(after, HELD))
    assert seen.systemic_flow_ml_s == pytest.approx(seen.lung_flow_ml_s, rel=1e-3)
    assert seen.saturation_pct("AoU") == pytest.approx([97.0], abs=0.1)


def test_a_heart_without_harm_needs_less_filling() -> None:
    """The factors of bypass cost output: the same heart unharmed ejects more at the same volume."""
    flows = [
        read(
            find_orbit(arterial_switch(parallel_newborn(), after, relieve_outflow=True))
        ).systemic_flow_ml_s[0]
        for after in (replace(AFTER, rate_per_min=148.0), UNHARMED)
    ]
    assert flows[0] < flows[1]


@pytest.mark.parametrize("topology", ["normal", "repaired"])
def test_only_parallel_loops_can_be_switched(topology: str) -> None:
    """A heart whose loops are in series already is refused, with the reason."""
    with pytest.raises(RouteNotPossible, match="parallel") as refused:
        arterial_switch(replace(normal_newborn(), topology=topology), AFTER, relieve_outflow=True)
    assert refused.value.value == topology


def test_an_opening_of_negative_size_is_refused() -> None:
    """A defect's area cannot be below zero when the orbit is asked for."""
    wrong = parallel_newborn().with_area("duct", "opening", -1.0)
    with pytest.raises(CircuitError, match="duct"):
        find_orbit(wrong)
