"""Routes between topologies: what each changes, in which direction, and when it refuses."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from rooms.circuit_samples import HELD
from rooms.topology_samples import FIRST_HOURS, mixing, switched

from inseries.base.errors import RouteNotPossible
from inseries.circuit.fetus import fetus
from inseries.circuit.newborn import normal_newborn, parallel_newborn
from inseries.circuit.orbit import find_orbit
from inseries.circuit.readouts import read
from inseries.routes import (
    atrial_switch,
    birth,
    round_area_cm2,
    with_atrial_defect,
    with_band,
    with_branch_stenosis,
    with_coarctation,
    with_duct,
    with_lung_branches,
    with_supravalvar_stenosis,
    with_ventricular_defect,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from inseries.circuit.network import Circuit
    from inseries.circuit.readouts import Readings
    from inseries.routes import AfterBirth


def _held(circuit: Circuit) -> Readings:
    return read(find_orbit(circuit, HELD))


def _free(circuit: Circuit) -> Readings:
    return read(find_orbit(circuit))


def test_the_atrial_switch_puts_the_loops_in_series() -> None:
    """Body and lungs carry one flow, the aorta is as red as the lungs, the left ventricle blue."""
    after = atrial_switch(mixing()).with_edge("collaterals", resistance_mmhg_s_ml=1e6)
    seen = _held(after)
    assert (after.topology, after.filling_part) == ("atrial_switched", "RA")
    assert seen.systemic_flow_ml_s == pytest.approx(seen.lung_flow_ml_s, rel=1e-3)
    assert seen.saturation_pct("AoU") == pytest.approx([97.0], abs=0.1)
    assert seen.saturation_pct("LV") == pytest.approx(seen.saturation_pct("SV"), abs=0.1)
    assert seen.pressure_ratio[0] < 0.8


def test_the_atrial_switch_leaves_the_great_arteries() -> None:
    """Outlets, parts and volume stay; only the veins, the openings and the band change."""
    before = with_band(with_duct(mixing(), 3.0), 4.0)
    after = atrial_switch(before)
    assert (after.parts, after.volume_ml) == (before.parts, before.volume_ml)
    changed = {edge.name for edge in after.edges if edge != before.edge(edge.name)}
    assert changed == {"body_veins", "lung_veins", "atrial_defect", "duct", "lv_outlet"}
    kept = atrial_switch(with_ventricular_defect(before, 2.0), keep_openings=True)
    assert kept.edge("duct") == before.edge("duct")
    assert kept.edge("ventricular_defect").restrictions[0].area_cm2 == round_area_cm2(2.0)


def test_a_narrow_channel_holds_back_what_it_carries() -> None:
    """A narrow body channel raises body veins, a narrow lung channel lung veins and lung artery."""
    wide = _free(atrial_switch(mixing()))
    body = _free(atrial_switch(mixing(), body_channel_mm=2.5))
    lungs = _free(atrial_switch(mixing(), lung_channel_mm=2.5))
    assert body.mean_mmhg("SV")[0] > wide.mean_mmhg("SV")[0] + 1.0
    assert lungs.mean_mmhg("PV")[0] > wide.mean_mmhg("PV")[0] + 1.0
    assert lungs.mean_mmhg("PV")[0] - lungs.mean_mmhg("RA")[0] > 5.0
    for narrow in (body, lungs):
        assert narrow.systemic_flow_ml_s[0] < wide.systemic_flow_ml_s[0]


def test_a_tighter_band_raises_left_pressure_and_lowers_lung_flow() -> None:
    """Left ventricular pressure rises and lung flow falls with every millimetre of lumen lost."""
    seen = _held(with_band(mixing(), np.array([6.0, 5.0, 4.0, 3.5])))
    assert np.all(np.diff(seen.systolic_mmhg("LV")) > 0.0)
    assert np.all(np.diff(seen.lung_flow_ml_s) < 0.0)


def test_a_narrow_arch_divides_the_pressures() -> None:
    """A coarctation leaves the legs at a lower pressure; the isthmus itself is as it was."""
    free, narrow = normal_newborn(), with_coarctation(with_duct(normal_newborn(), 3.0), 2.0)
    seen = _free(narrow)
    assert seen.mean_mmhg("AoU")[0] > seen.mean_mmhg("AoD")[0] + 10.0
    assert narrow.edge("arch").restrictions[0] == free.edge("arch").restrictions[0]
    again = with_coarctation(narrow, 3.0)
    assert [place.name for place in again.edge("arch").restrictions] == ["isthmus", "coarctation"]


def test_supravalvar_stenosis_loads_the_right_ventricle() -> None:
    """A narrow switched lung trunk raises right ventricular pressure above that of the artery."""
    wide, narrow = _held(switched()), _held(with_supravalvar_stenosis(switched(), 4.5))
    assert narrow.systolic_mmhg("RV")[0] > wide.systolic_mmhg("RV")[0] + 5.0
    assert narrow.systolic_mmhg("RV")[0] > narrow.systolic_mmhg("PA")[0] + 10.0


def test_branches_change_nothing_by_themselves() -> None:
    """Divided, the lung artery has the flow and mean pressure it had, and its shares are kept."""
    whole, divided = _free(switched()), _free(with_lung_branches(switched(), right_share=0.55))
    right, left = divided.flow_ml_s("right_lung"), divided.flow_ml_s("left_lung")
    assert right + left == pytest.approx(whole.lung_flow_ml_s, rel=0.01)
    assert divided.mean_mmhg("PA") == pytest.approx(whole.mean_mmhg("PA"), abs=0.5)
    assert right / (right + left) == pytest.approx([0.55], abs=1e-3)


def test_a_narrow_branch_sends_blood_to_the_other_side() -> None:
    """The narrower the left branch, the less flows left, and the more the right ventricle works."""
    seen = _free(with_branch_stenosis(switched(), left_mm=np.array([4.0, 3.0, 2.0, 1.5])))
    right, left = seen.flow_ml_s("right_lung"), seen.flow_ml_s("left_lung")
    assert np.all(np.diff(left / (left + right)) < 0.0)
    assert np.all(np.diff(seen.systolic_mmhg("RV")) > 0.0)


def test_birth_turns_the_circulation_round() -> None:
    """As lung resistance falls lung flow rises, the flap shuts and the duct turns round."""
    before = _free(fetus())
    hours = [_held(birth(fetus(), _first(factor))) for factor in (1.0, 0.5, 0.3, 0.2)]
    lungs = [float(seen.lung_flow_ml_s[0]) for seen in hours]
    duct = [float(seen.flow_ml_s("duct")[0]) for seen in hours]
    foramen = [float(seen.flow_ml_s("oval_foramen")[0]) for seen in hours]
    assert lungs == sorted(lungs)
    assert duct == sorted(duct)
    assert foramen == sorted(foramen, reverse=True)
    assert before.flow_ml_s("duct")[0] < 0.0 < duct[-1]
    assert before.flow_ml_s("oval_foramen")[0] > 5.0
    assert foramen[-1] < 0.01 * lungs[-1]
    assert hours[-1].saturation_pct("AoU")[0] > 94.0


def _first(factor: float) -> AfterBirth:
    return replace(FIRST_HOURS, lung_resistance=factor)


def test_birth_takes_the_placenta_away() -> None:
    """What belongs to the cord goes, lungs take up oxygen, duct and foramen stay as they are."""
    before, after = fetus(), birth(fetus(), FIRST_HOURS)
    assert {part.name for part in before.parts} - {part.name for part in after.parts} == {"UV"}
    gone = {edge.name for edge in before.edges} - {edge.name for edge in after.edges}
    assert gone == {"placenta", "umbilical_vein"}
    assert [edge.name for edge in after.edges if edge.lungs] == ["lungs", "collaterals"]
    for name in ("duct", "oval_foramen"):
        assert after.edge(name) == before.edge(name)


def test_the_cord_takes_its_share_of_blood() -> None:
    """The volume left after clamping is that of the fetus less what stood in its umbilical part."""
    before = find_orbit(fetus())
    held = 0.5 * before.part_readouts[0, before.circuit.index("UV"), 3:5].sum()
    left = float(birth(fetus(), FIRST_HOURS).volume_ml)
    assert left == pytest.approx(float(fetus().volume_ml) - held, abs=0.1)


EVERY_ROUTE: dict[str, Callable[[object], Circuit]] = {
    "band": lambda mm: with_band(mixing(), mm),
    "coarctation": lambda mm: with_coarctation(with_duct(mixing(), 3.0), mm),
    "supravalvar": lambda mm: with_supravalvar_stenosis(switched(), mm),
    "left branch": lambda mm: with_branch_stenosis(switched(), left_mm=mm),
    "leak": lambda mm: atrial_switch(mixing(), leak_mm=mm),
    "body channel": lambda mm: atrial_switch(mixing(), body_channel_mm=mm),
    "lung channel": lambda mm: atrial_switch(mixing(), lung_channel_mm=mm),
}


@pytest.mark.parametrize("name", EVERY_ROUTE)
def test_many_members_are_many_single_ones(name: str) -> None:
    """A route on an array of sizes gives for each member what it gives for that size alone."""
    sizes = np.array([4.5, 3.5])
    together = find_orbit(EVERY_ROUTE[name](sizes))
    for member, size in enumerate(sizes):
        alone = find_orbit(EVERY_ROUTE[name](float(size)))
        assert together.part_readouts[member] == pytest.approx(alone.part_readouts[0], abs=0.05)


@pytest.mark.parametrize("name", EVERY_ROUTE)
@pytest.mark.parametrize("size", [-1.0, float("nan")])
def test_no_route_takes_an_impossible_size(name: str, size: float) -> None:
    """A size below zero, or none at all, is refused with the place that is meant."""
    with pytest.raises(RouteNotPossible) as refused:
        EVERY_ROUTE[name](np.array([3.0, size]))
    assert refused.value.where


@pytest.mark.parametrize("name", [n for n in EVERY_ROUTE if n not in ("leak", "coarctation")])
def test_a_closed_way_is_refused(name: str) -> None:
    """A narrow place on the only way is not closed altogether."""
    with pytest.raises(RouteNotPossible, match="lumen"):
        EVERY_ROUTE[name](0.0)


@pytest.mark.parametrize(
    ("route", "code"),
    [
        (lambda: atrial_switch(switched()), "not_parallel"),
        (lambda: with_band(switched(), 4.0), "left_ventricle_not_before_lungs"),
        (lambda: with_band(normal_newborn(), 4.0), "left_ventricle_not_before_lungs"),
        (lambda: with_supravalvar_stenosis(mixing(), 4.0), "not_repaired"),
        (lambda: with_branch_stenosis(mixing(), left_mm=3.0), "not_repaired"),
        (lambda: with_coarctation(parallel_newborn(), 0.0), "no_way_to_the_legs"),
        (lambda: with_lung_branches(with_lung_branches(switched())), "divided_already"),
        (lambda: with_lung_branches(switched(), right_share=1.0), "share_out_of_bounds"),
        (lambda: birth(with_atrial_defect(normal_newborn(), 3.0), FIRST_HOURS), "not_fetal"),
    ],
)
def test_a_route_names_why_it_is_not_possible(route: Callable[[], Circuit], code: str) -> None:
    """A route whose precondition is not met is refused, with what was found and what to do."""
    with pytest.raises(RouteNotPossible) as refused:
        route()
    assert refused.value.code == code


def test_a_ventricle_can_be_banded_after_an_atrial_switch() -> None:
    """The left ventricle still feeds the lungs after an atrial switch, and a band loads it."""
    free, banded = _held(atrial_switch(mixing())), _held(with_band(atrial_switch(mixing()), 4.0))
    assert banded.systolic_mmhg("LV")[0] > free.systolic_mmhg("LV")[0] + 15.0
