"""A systemic-to-pulmonary shunt: what it adds, what flows through it, and when it refuses."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import pytest
from rooms.topology_samples import FIRST_HOURS, mixing, switched

from inseries.base.errors import RouteNotPossible
from inseries.circuit.fetus import fetus
from inseries.circuit.newborn import normal_newborn
from inseries.circuit.orbit import FINE, find_orbit
from inseries.circuit.readouts import read
from inseries.routes import atrial_switch, birth, with_band, with_lung_branches, with_shunt
from inseries.routes.shunts import shunt_resistance

if TYPE_CHECKING:
    from collections.abc import Callable

    from inseries.circuit.network import Circuit
    from inseries.circuit.readouts import Readings


def _seen(circuit: Circuit) -> Readings:
    return read(find_orbit(circuit, settings=FINE))


def test_no_shunt_is_the_circuit_as_it_was() -> None:
    """A tube of 0 mm adds no way at all, and costs nothing."""
    circuit = mixing()
    assert with_shunt(circuit, 0.0) is circuit
    assert with_shunt(circuit, np.zeros(3)) is circuit


def test_it_is_one_way_more() -> None:
    """The shunt leads from the arch to the lung artery, and no other way changes."""
    before, after = mixing(), with_shunt(mixing(), 3.5)
    assert (after.edge("shunt").start, after.edge("shunt").end) == ("AoU", "PA")
    assert after.edges[:-1] == before.edges
    assert after.parts == before.parts


def test_its_tube_resists_as_a_straight_one() -> None:
    """3.5 mm across, 2.5 cm long, 4.5 mPa s: by Poiseuille's law in SI units, to 0.1 %."""
    pascal_s_m3 = 128.0 * 4.5e-3 * 2.5e-2 / (math.pi * 3.5e-3**4)
    assert shunt_resistance(3.5) == pytest.approx(pascal_s_m3 * 1e-6 / 133.322, rel=1e-3)
    assert shunt_resistance(3.0) == pytest.approx(shunt_resistance(6.0) * 16.0)


def test_the_wider_the_more_goes_to_the_lungs() -> None:
    """Flow through tube and lungs and the lung artery's pressure rise with the diameter."""
    seen = _seen(with_shunt(with_band(mixing(), 4.0), np.array([0.0, 2.5, 3.0, 3.5, 4.0])))
    assert seen.flow_ml_s("shunt")[0] == pytest.approx(0.0, abs=1e-3)
    assert np.all(np.diff(seen.flow_ml_s("shunt")) > 0.1)
    assert np.all(np.diff(seen.lung_flow_ml_s) > 0.1)
    assert np.all(np.diff(seen.mean_mmhg("PA")) > 0.1)


def test_its_blood_carries_the_oxygen_of_the_aorta() -> None:
    """The lung artery's content is the mean of ventricle and shunt, by what each brings in."""
    seen = _seen(with_shunt(mixing(), 3.5))
    content = {name: seen.oxygen.content[0, seen.circuit.index(name)] for name in ("LV", "AoU")}
    left, tube = (float(seen.both_ways_ml_s(name)[0][0]) for name in ("lv_outlet", "shunt"))
    mixed = (left * content["LV"] + tube * content["AoU"]) / (left + tube)
    assert seen.oxygen.content[0, seen.circuit.index("PA")] == pytest.approx(mixed, rel=1e-3)
    assert content["AoU"] < mixed < content["LV"]


def test_it_gives_blue_blood_to_the_lungs_behind_a_band() -> None:
    """Behind a band a shunt brings more oxygen to the body: saturation of the arms rises."""
    seen = _seen(with_shunt(with_band(mixing(), 3.0), np.array([0.0, 3.0])))
    rise = np.diff(seen.saturation_pct("AoU"))[0]
    assert rise > 2.0


def test_a_shunt_can_be_set_anew_and_closed() -> None:
    """Given again, the tube takes the new diameter; at 0 mm it lets nothing through."""
    wide = with_shunt(mixing(), 4.0)
    assert with_shunt(wide, 3.0) == with_shunt(mixing(), 3.0)
    closed = _seen(with_shunt(wide, 0.0))
    assert closed.flow_ml_s("shunt")[0] == pytest.approx(0.0, abs=1e-6)
    assert closed.mean_mmhg("PA") == pytest.approx(_seen(mixing()).mean_mmhg("PA"), abs=1e-3)


def test_many_members_are_many_single_ones() -> None:
    """An array of diameters gives for each member what it gives alone."""
    sizes = np.array([2.5, 3.5])
    together = find_orbit(with_shunt(mixing(), sizes))
    for member, size in enumerate(sizes):
        alone = find_orbit(with_shunt(mixing(), float(size)))
        assert alone.part_readouts[0] == pytest.approx(together.part_readouts[member], abs=1e-3)


@pytest.mark.parametrize(
    "make",
    [
        normal_newborn,
        switched,
        lambda: atrial_switch(mixing()),
        lambda: with_lung_branches(switched()),
    ],
)
def test_it_can_be_added_wherever_lungs_breathe(make: Callable[[], Circuit]) -> None:
    """In every topology after birth the beat repeats and blood runs from aorta to lung artery."""
    orbit = find_orbit(with_shunt(make(), 3.0))
    assert orbit.settled.all()
    assert read(orbit).flow_ml_s("shunt")[0] > 0.5


def test_in_the_first_hours_it_carries_nothing() -> None:
    """Just born, with a wide duct, aorta and lung artery have one pressure: nothing is driven."""
    seen = _seen(with_shunt(birth(fetus(), FIRST_HOURS), 3.0))
    assert abs(seen.flow_ml_s("shunt")[0]) < 0.2


@pytest.mark.parametrize(
    ("add", "code"),
    [
        (lambda: with_shunt(mixing(), -1.0), "negative"),
        (lambda: with_shunt(mixing(), np.array([3.0, math.nan])), "negative"),
        (lambda: with_shunt(fetus(), 3.0), "before_birth"),
    ],
)
def test_it_names_why_it_is_not_possible(add: Callable[[], object], code: str) -> None:
    """A diameter below zero, none at all, and a shunt before birth are refused with the reason."""
    with pytest.raises(RouteNotPossible) as refused:
        add()
    assert refused.value.code == code
    assert refused.value.where == "shunt"
