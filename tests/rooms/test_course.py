"""Slow time: the law's directions and bounds, the walk's steps, stops and breaks."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
import pytest
from rooms.circuit_samples import HELD

from inseries.circuit.newborn import parallel_newborn
from inseries.circuit.orbit import find_orbit
from inseries.circuit.readouts import STRESS_MEAN, STRETCH_MAX, STRETCH_MIN, Readings, read
from inseries.course.laws import Individual, Load, MeanStress
from inseries.course.walk import Body, Pace, walk
from inseries.course.walls import Wall, Walls, wall
from inseries.routes import with_atrial_defect, with_left_outflow

if TYPE_CHECKING:
    from inseries.circuit.network import Circuit, Floats

LAW = MeanStress()
C = LAW.constants
ONE = np.ones(1)
USUAL = Individual(set_point=ONE, gain_rate=ONE, loss_rate=ONE)
SURFACE = 0.2244


def _load(stress: float = 1.0, stretch: float | None = None) -> Load:
    return Load(
        mean_stress_mmhg=np.array([stress * C["set_stress"]]),
        filled_stretch=np.array([C["set_stretch"] if stretch is None else stretch]),
        emptied_stretch=ONE * 0.9,
        surface_m2=ONE * SURFACE,
        usual_volume_ml=ONE * 4.8,
    )


def _wall(mass: float = 6.0, volume: float = 4.8) -> Wall:
    return wall(np.array([mass]), np.array([volume]))


def _mass_rate(stress: float, mass: float = 6.0, who: Individual = USUAL) -> float:
    return float(LAW.rates(_wall(mass), _load(stress), who, "left").mass_g[0])


# ---- the law ------------------------------------------------------------------------------------


def test_a_wall_at_its_set_point_rests() -> None:
    """At set stress, set stretch and usual cavity nothing changes."""
    rates = LAW.rates(_wall(), _load(), USUAL, "left")
    assert rates.mass_g == pytest.approx([0.0], abs=1e-12)
    assert rates.unloaded_volume_ml == pytest.approx([0.0], abs=1e-12)


def test_growth_is_quick_and_loss_slow() -> None:
    """More stress than the set point adds mass, less takes it away, and much more slowly."""
    gain, loss = _mass_rate(1.2), _mass_rate(0.8)
    assert gain > 0.0 > loss
    assert gain > 10.0 * -loss


def test_growth_has_a_fastest_pace_and_a_ceiling() -> None:
    """Stress without bound grows a wall no faster than its bound, and none at its largest mass."""
    assert _mass_rate(50.0) == pytest.approx(_mass_rate(5.0))
    assert _mass_rate(50.0) <= C["fastest_gain"] * 6.0
    assert _mass_rate(2.0, mass=C["largest_mass_left"] * SURFACE) == pytest.approx(0.0, abs=1e-12)
    assert _mass_rate(2.0, mass=1.5 * C["largest_mass_left"] * SURFACE) == 0.0


def test_babies_differ_by_their_factors() -> None:
    """A factor on a rate scales it; a higher set point makes the same stress too little."""
    quick = replace(USUAL, gain_rate=2.0 * ONE, loss_rate=3.0 * ONE)
    assert _mass_rate(1.1, who=quick) == pytest.approx(2.0 * _mass_rate(1.1))
    assert _mass_rate(0.9, who=quick) == pytest.approx(3.0 * _mass_rate(0.9))
    assert _mass_rate(1.1, who=replace(USUAL, set_point=1.2 * ONE)) < 0.0


def test_cavity_follows_filling_and_returns() -> None:
    """Too much stretch widens the cavity; a cavity wider than usual tends back."""
    wide = LAW.rates(_wall(), _load(stretch=C["set_stretch"] + 0.05), USUAL, "left")
    back = LAW.rates(_wall(volume=6.0), _load(), USUAL, "left")
    assert wide.unloaded_volume_ml[0] > 0.0 > back.unloaded_volume_ml[0]


def test_a_wall_at_birth_is_whole() -> None:
    """At birth strength is one and no growth is under way, one number for each member."""
    born = wall(np.array([5.0, 6.0]), np.array([4.8]))
    assert np.array_equal(born.strength, [1.0, 1.0])
    assert np.array_equal(born.synthesis_per_day, [0.0, 0.0])
    assert np.array_equal(born.unloaded_volume_ml, [4.8, 4.8])
    second = born.at(np.array([1]))
    assert np.array_equal(second.mass_g, [6.0])


# ---- the walk over a body that is given ---------------------------------------------------------


@dataclass
class Told:
    """Stress in units of the set point, the same on both sides."""

    stress: Floats

    def load(self, side: str) -> tuple[Floats, Floats, Floats]:
        """Mean stress, set stretch, and any emptied stretch."""
        assert side in {"left", "right"}
        return self.stress * C["set_stress"], ONE * C["set_stretch"], ONE * 0.9


BODY = Body(surface_m2=lambda _: ONE * SURFACE, usual_volume_ml=lambda _age, _side: ONE * 4.8)
START = Walls(left=_wall(), right=_wall(4.0))


def _unloaded(_age: float, _walls: Walls) -> Told:
    return Told(ONE * 0.5)


def test_steady_loss_is_exponential() -> None:
    """At half the set stress mass falls as e to the minus t over twice the time of loss."""
    (stop,) = walk(
        _unloaded, START, law=LAW, who=USUAL, body=BODY, start_days=0.0, stops_days=[30.0]
    )
    expected = 6.0 * np.exp(-0.5 * 30.0 / C["loss_time"])
    # The midpoint rule errs by (rate x step)² / 6 of the change: below 1e-4 with steps of 2 days.
    assert stop.walls.left.mass_g[0] == pytest.approx(expected, rel=2e-4)
    assert stop.walls.right.mass_g[0] == pytest.approx(expected * 4.0 / 6.0, rel=2e-4)


def test_stops_are_where_they_were_asked_for() -> None:
    """Every asked day is given once, in order, with the walls and the beat of that day."""
    days = [1.0, 1.05, 8.0, 21.0]
    stops = list(
        walk(_unloaded, START, law=LAW, who=USUAL, body=BODY, start_days=1.0, stops_days=days)
    )
    assert [stop.age_days for stop in stops] == days
    assert stops[0].walls is START
    masses = [stop.walls.left.mass_g[0] for stop in stops]
    assert all(later < earlier for earlier, later in pairwise(masses))


def test_no_step_crosses_a_break() -> None:
    """An event is met exactly: no beat is asked on both sides of it within one step."""
    asked: list[float] = []

    def beat(age: float, _walls: Walls) -> Told:
        asked.append(age)
        return Told(ONE * (0.5 if age < 3.3 else 1.5))

    stops = walk(
        beat,
        START,
        law=LAW,
        who=USUAL,
        body=BODY,
        start_days=0.0,
        stops_days=[3.3, 5.0],
        breaks_days=[3.3],
    )
    at_break, later = list(stops)
    expected = 6.0 * np.exp(-0.5 * 3.3 / C["loss_time"])
    assert at_break.walls.left.mass_g[0] == pytest.approx(expected, rel=1e-3)
    assert later.walls.left.mass_g[0] > at_break.walls.left.mass_g[0]
    assert 3.3 in asked


def test_fast_growth_is_walked_in_small_steps() -> None:
    """Where walls change quickly steps are short, down to the shortest, and long otherwise."""
    asked: list[float] = []

    def beat(age: float, _walls: Walls) -> Told:
        asked.append(age)
        return Told(ONE * (2.0 if age < 1.0 else 0.95))

    list(
        walk(
            beat,
            START,
            law=LAW,
            who=USUAL,
            body=BODY,
            start_days=0.0,
            stops_days=[21.0],
            breaks_days=[1.0],
            pace=Pace(shortest_days=0.1, longest_days=2.0, largest_change=0.03),
        )
    )
    early = sum(age < 1.0 for age in asked)
    assert 16 <= early <= 30
    assert len(asked) - early <= 30


class Returning:
    """A law by which a wall comes back to 6 g, each member at its own pace (a day)."""

    name = "returning"

    def __init__(self, pace_a_day: Floats) -> None:
        self.pace_a_day = pace_a_day

    def rates(self, wall: Wall, _load: Load, _who: Individual, _side: str) -> Wall:
        """Rates of one ventricle."""
        still = np.zeros_like(wall.mass_g)
        return Wall(
            mass_g=self.pace_a_day * (6.0 - wall.mass_g),
            unloaded_volume_ml=still,
            strength=still,
            synthesis_per_day=still,
        )


def test_a_member_quicker_than_the_steps_does_not_run_away() -> None:
    """One of forty walls that answers within hours rests where it would; the others are as ever.

    At steps of 2 d and 6 a day the midpoint rule alone would multiply what is off by 61 a step.
    """
    pace = np.full(40, 0.02)
    pace[7] = 6.0
    start = wall(np.full(40, 7.0), np.full(40, 4.8))
    (stop,) = walk(
        lambda _age, walls: Told(np.ones_like(walls.left.mass_g)),
        Walls(left=start, right=start),
        law=Returning(pace),  # type: ignore[arg-type]
        who=USUAL,
        body=BODY,
        start_days=0.0,
        stops_days=[40.0],
    )
    mass = stop.walls.left.mass_g
    assert mass[7] == pytest.approx(6.0, rel=0.2)
    others = np.delete(mass, 7)
    assert others == pytest.approx(6.0 + np.exp(-0.02 * 40.0), rel=1e-3)


def test_walls_that_answer_within_a_day_do_not_hold_up_the_others() -> None:
    """Eight of forty walls come back at 1.5 a day: once at rest they ask for no short steps.

    A rule that throws them about their rest sees them change all the time and never lengthens.
    """
    pace = np.full(40, 0.02)
    pace[::5] = 1.5
    asked: list[float] = []

    def beat(age: float, walls: Walls) -> Told:
        asked.append(age)
        return Told(np.ones_like(walls.left.mass_g))

    start = wall(np.full(40, 6.2), np.full(40, 4.8))
    (stop,) = walk(
        beat,
        Walls(left=start, right=start),
        law=Returning(pace),  # type: ignore[arg-type]
        who=USUAL,
        body=BODY,
        start_days=0.0,
        stops_days=[60.0],
        pace=Pace(shortest_days=0.1, longest_days=2.0, largest_change=0.03),
    )
    assert stop.walls.left.mass_g[::5] == pytest.approx(6.0, rel=1e-3)
    # Thirty steps of 2 d in all, two beats each; a dozen more while the quick ones come to rest.
    assert len(asked) <= 2 * (30 + 12)


# ---- the walk over a heart ----------------------------------------------------------------------


class Heart:
    """Two loops with a wide atrial defect, whose lungs open over the first weeks."""

    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit

    def __call__(self, age: float, walls: Walls) -> Felt:
        """The regulated beat at an age with given walls."""
        lungs = self.circuit.edge("lungs").resistance_mmhg_s_ml
        circuit = self.circuit.with_edge(
            "lungs", resistance_mmhg_s_ml=lungs * (0.6 + 1.2 * np.exp(-age / 5.0))
        )
        for name, side in (("LV", walls.left), ("RV", walls.right)):
            circuit = circuit.with_part(
                name, mass_g=side.mass_g, unloaded_volume_ml=side.unloaded_volume_ml
            )
        return Felt(read(find_orbit(circuit, HELD)))

    @property
    def born(self) -> Walls:
        """Its walls on day 0."""
        parts = {name: self.circuit.part(name) for name in ("LV", "RV")}
        sides = [
            wall(np.array([part.mass_g]), np.array([part.unloaded_volume_ml]))
            for part in parts.values()
        ]
        return Walls(left=sides[0], right=sides[1])

    def after(self, days: list[float], pace: Pace | None = None) -> list[float]:
        """Left ventricular mass on each day."""
        birth = self.born
        body = Body(
            surface_m2=lambda _: ONE * SURFACE,
            usual_volume_ml=lambda _, side: getattr(birth, side).unloaded_volume_ml,
        )
        stops = walk(
            self,
            birth,
            law=LAW,
            who=USUAL,
            body=body,
            start_days=0.0,
            stops_days=days,
            pace=pace,
        )
        return [float(stop.walls.left.mass_g[0]) for stop in stops]


@dataclass
class Felt:
    """What the walls feel of one beat."""

    readings: Readings

    def load(self, side: str) -> tuple[Floats, Floats, Floats]:
        """Mean stress, filled and emptied stretch of one ventricle."""
        name = "LV" if side == "left" else "RV"
        part = self.readings.part
        return part(name, STRESS_MEAN), part(name, STRETCH_MAX), part(name, STRETCH_MIN)


PLAIN = Heart(with_atrial_defect(parallel_newborn(), 7.0))
NARROWED = Heart(with_left_outflow(PLAIN.circuit, 0.15))


def test_an_unloaded_ventricle_loses_mass() -> None:
    """With two loops and open lungs the left ventricle grows thinner from week to week."""
    masses = PLAIN.after([0.0, 14.0, 28.0])
    assert masses[0] > masses[1] > masses[2]


def test_a_narrowed_outflow_protects_and_settles() -> None:
    """Behind a narrowing mass rises and then rests: mean stress falls as the wall grows."""
    masses = NARROWED.after([0.0, 14.0, 28.0])
    assert masses[1] > masses[0]
    assert abs(masses[2] - masses[1]) < 0.5 * abs(masses[1] - masses[0])


@pytest.mark.parametrize("heart", [PLAIN, NARROWED], ids=["plain", "narrowed"])
def test_half_the_step_changes_little(heart: Heart) -> None:
    """Halving all bounds of the slow step moves mass at 60 days by less than half a per cent."""
    usual = Pace()
    half = Pace(
        shortest_days=usual.shortest_days / 2.0,
        longest_days=usual.longest_days / 2.0,
        largest_change=usual.largest_change / 2.0,
    )
    assert heart.after([60.0]) == pytest.approx(heart.after([60.0], half), rel=5e-3)
