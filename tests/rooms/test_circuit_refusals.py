"""What a circuit with the further laws refuses, and how a search that does not end says so."""

from __future__ import annotations

import time
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from rooms.law_samples import SAC, SEPTUM, every_law

from inseries.base.errors import CircuitError, NotPeriodic
from inseries.circuit import flat
from inseries.circuit.bounds import refuse_unfit
from inseries.circuit.network import Activation, Edge, OwnLaw, Vessel, mapped
from inseries.circuit.orbit import Settings, find_orbit
from inseries.circuit.remembered import Remembered
from inseries.circuit.status import Status

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from inseries.circuit.network import Circuit, Part

NAN = float("nan")


def _pump(**numbers: float) -> Callable[[Circuit], Circuit]:
    law = OwnLaw(name="pump", numbers={"R": 5.0, "B": 0.5, "P_h": 70.0, **numbers})
    return lambda c: c.with_edge("support", own_law=law)


def _septum(**changes: object) -> Callable[[Circuit], Circuit]:
    return lambda c: replace(c, septum=replace(SEPTUM, **changes))


def _sac(**changes: object) -> Callable[[Circuit], Circuit]:
    return lambda c: replace(c, pericardium=replace(SAC, **changes))


def _active(*course: float) -> Callable[[Circuit], Circuit]:
    return lambda c: c.with_part("LV", activation=Activation(*course))


# A change of a sound circuit, the code of its refusal, and the place that this names.
WRONG: dict[str, tuple[Callable[[Circuit], Circuit], str, str]] = {
    "septum of a part that is not there": (_septum(left="LX"), "no_such_part", "LX"),
    "septum between one part": (_septum(left="RV"), "septum_of_one", "septum"),
    "septum without viscosity": (_septum(viscosity_mmhg_s_ml=0.0), "not_positive", "septum"),
    "septum of NaN": (_septum(elastance_mmhg_ml=NAN), "not_finite", "septum"),
    "sac around a part that is not there": (_sac(around=("LV", "XX")), "no_such_part", "XX"),
    "sac around one part twice": (_sac(around=("LV", "LV")), "sac_twice", "pericardium"),
    "sac around nothing": (_sac(around=()), "sac_twice", "pericardium"),
    "sac around a squeezed vessel": (_sac(around=("LV", "wall")), "squeezed_in_sac", "wall"),
    "sac without volume": (_sac(volume_ml=0.0), "not_positive", "pericardium, volume_ml"),
    "squeezed by nobody": (lambda c: c.with_part("wall", by="XX"), "no_such_part", "XX"),
    "squeezed by itself": (
        lambda c: c.with_part("wall", by="wall"),
        "squeezed_by_squeezed",
        "wall",
    ),
    "squeezed by less than nothing": (
        lambda c: c.with_part("wall", share=-0.1),
        "not_positive",
        "wall, share",
    ),
    "squeezed by more than all": (
        lambda c: c.with_part("wall", share=np.array([0.5, 1.5])),
        "more_than_all",
        "wall, share",
    ),
    "squeezed vessel without compliance": (
        lambda c: c.with_part("wall", compliance_ml_mmhg=0.0),
        "not_positive",
        "wall",
    ),
    "law without a file": (
        lambda c: c.with_edge("support", own_law=OwnLaw(name="turbine", numbers={})),
        "no_such_law",
        "support",
    ),
    "law without its numbers": (
        lambda c: c.with_edge("support", own_law=OwnLaw(name="pump", numbers={"R": 1.0})),
        "no_such_law",
        "support",
    ),
    "law with one number too many": (_pump(speed=3000.0), "no_such_law", "support"),
    "law with a loss below zero": (_pump(B=-0.5), "not_positive", "support, B"),
    "law with NaN": (_pump(P_h=NAN), "not_finite", "support, P_h"),
    "edge without a resistance": (
        lambda c: replace(c, edges=(*c.edges, Edge(name="new", start="LA", end="RV"))),
        "not_finite",
        "new, resistance_mmhg_s_ml",
    ),
    "leak below zero": (
        lambda c: c.with_edge("aortic", leak_area_cm2=-0.1),
        "not_positive",
        "aortic, leak_area_cm2",
    ),
    "heart rate below zero": (
        lambda c: replace(c, rate_per_min=-120.0),
        "not_positive",
        "rate_per_min",
    ),
    "heart rate NaN": (lambda c: replace(c, rate_per_min=NAN), "not_finite", "rate_per_min"),
    "heart rate of one of many that no heart has": (
        lambda c: replace(c, rate_per_min=np.array([150.0, 1500.0])),
        "impossible_rate",
        "rate_per_min",
    ),
    "activation without a rise": (_active(0.0, 0.0, 0.2), "no_such_course", "LV"),
    "activation longer than the beat": (_active(0.0, 0.8, 0.8), "no_such_course", "LV"),
    "activation of NaN": (_active(NAN, 0.3, 0.2), "no_such_course", "LV"),
}


@pytest.mark.parametrize("name", WRONG)
def test_what_cannot_be_is_refused_by_name(name: str) -> None:
    """Walls, sacs, squeezed vessels and laws that cannot be are refused, and the place is named."""
    change, code, where = WRONG[name]
    with pytest.raises(CircuitError) as refused:
        find_orbit(change(every_law()))
    assert refused.value.code == code
    assert where in refused.value.where


def test_only_what_is_new_in_a_neighbour_is_looked_at(monkeypatch: pytest.MonkeyPatch) -> None:
    """Parts and edges once found fit are not looked at again; a changed one is, however small."""
    looked: list[str] = []

    def watched(circuit: Circuit, parts: Sequence[Part], edges: Sequence[Edge]) -> None:
        looked.extend(record.name for record in (*parts, *edges))
        refuse_unfit(circuit, parts, edges)

    monkeypatch.setattr(flat, "refuse_unfit", watched)
    sound = mapped(every_law(), lambda _, value: value)
    first = flat.flatten(sound)
    assert sorted(looked) == sorted(item.name for item in (*sound.parts, *sound.edges))
    looked.clear()
    assert np.array_equal(flat.flatten(sound).theta, first.theta)
    assert looked == []
    stiffer = sound.with_part("RV", passive_stress_mmhg=sound.part("RV").passive_stress_mmhg * 1.01)
    assert np.count_nonzero(flat.flatten(stiffer).theta != first.theta) == 1
    assert looked == ["RV"]


def test_a_memory_knows_the_very_record_and_lets_it_go() -> None:
    """An equal record is another one, and what was made of a record goes with it."""
    memory: Remembered[Vessel, str] = Remembered()
    one, alike = (Vessel(name="A", compliance_ml_mmhg=1.0) for _ in range(2))
    memory[one] = "made"
    assert one == alike
    assert (one in memory, alike in memory, memory[one]) == (True, False, "made")
    del one
    assert len(memory) == 0


def test_what_was_refused_is_refused_again() -> None:
    """A circuit that was refused is not taken for known the next time."""
    wrong = every_law().with_edge("arch", resistance_mmhg_s_ml=NAN)
    for _ in range(2):
        with pytest.raises(CircuitError) as refused:
            flat.flatten(wrong)
        assert refused.value.code == "not_finite"


def test_a_sound_circuit_is_not_refused() -> None:
    """The circuit from which all refusals start has an orbit."""
    assert find_orbit(every_law()).settled.all()


def test_a_search_that_does_not_end_says_after_what_and_where() -> None:
    """Out of beats, the refusal tells the beats, the part that changes most, and by how much."""
    with pytest.raises(NotPeriodic) as refused:
        find_orbit(every_law(), settings=Settings(most_beats=3))
    told = refused.value
    names = [part.name for part in every_law().parts[:-1]] + ["arch", "septum"]
    assert told.code == "not_periodic"
    assert "after 3 beats" in told.where
    assert told.where.split(", ")[-1] in names
    assert told.value > 0.0
    assert told.unit == "mL"


def test_a_column_by_its_law_is_named_when_it_changes_most() -> None:
    """A flow that is a state by its own law has its place among the names of what changes."""
    law = OwnLaw(name="column", numbers={"R": 0.2, "B": 0.01, "L": 0.02})
    quick = replace(every_law(), rate_per_min=260.0)
    quick = quick.with_edge("arch", inertance_mmhg_s2_ml=0.0, own_law=law)
    with pytest.raises(NotPeriodic) as refused:
        find_orbit(quick, settings=Settings(most_beats=1))
    assert refused.value.where.endswith(", arch")


def test_what_runs_away_stops_at_once() -> None:
    """Steps too long for the septum blow up: said within a few beats, neither hung nor NaN."""
    orbit = find_orbit(every_law(), settings=Settings(steps=12), check=False)
    assert orbit.status[0] == Status.NOT_FINITE
    assert orbit.beats[0] <= 20
    with pytest.raises(NotPeriodic, match="ran away"):
        find_orbit(every_law(), settings=Settings(steps=12))


def test_a_member_that_fails_leaves_the_others_alone() -> None:
    """Among eight abreast one that runs away has its status; the rest have their orbits."""
    elastance = np.full(9, 50.0)
    elastance[4] = 1e5
    wall = replace(SEPTUM, elastance_mmhg_ml=elastance)
    orbit = find_orbit(replace(every_law(), septum=wall), check=False)
    assert list(np.flatnonzero(~orbit.settled)) == [4]
    sound = find_orbit(every_law())
    for member in (0, 3, 5, 8):
        assert np.array_equal(orbit.part_readouts[member], sound.part_readouts[0])


def test_beats_are_bounded() -> None:
    """An orbit that can never be reached ends with its allowed beats, and in bounded time."""
    never = Settings(tolerance_ml=0.0, most_beats=40)
    find_orbit(every_law())
    start = time.perf_counter()
    orbit = find_orbit(every_law(), settings=never, check=False)
    assert time.perf_counter() - start < 5.0
    assert orbit.status[0] == Status.NOT_PERIODIC
    assert orbit.beats[0] == 40
