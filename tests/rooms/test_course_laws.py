"""Slow time by emptied stretch, members that follow different laws, and what all laws share."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from inseries.course.laws import (
    DEFAULT,
    LAWS,
    ByMember,
    EmptiedStretch,
    Individual,
    Load,
    MeanStress,
    every_law,
    law_named,
)
from inseries.course.walk import Body, Pace, walk
from inseries.course.walls import Wall, Walls, wall
from inseries.desk.experiments.babies import baby_of, course, left_index_g_m2, one
from inseries.desk.experiments.babies import plain_after_septostomy as plain
from inseries.desk.experiments.band import with_band_and_shunt

if TYPE_CHECKING:
    from inseries.circuit.network import Floats

LAW = EmptiedStretch()
C = LAW.constants
ONE = np.ones(1)
USUAL = Individual(set_point=ONE, gain_rate=ONE, loss_rate=ONE)
SURFACE = 0.2244


def _load(off: float = 0.0, *, stretch: float | None = None, side: str = "left") -> Load:
    return Load(
        mean_stress_mmhg=ONE * 100.0,
        filled_stretch=np.array([C["set_stretch"] if stretch is None else stretch]),
        emptied_stretch=np.array([C[f"set_emptied_{side}"] * (1.0 + off)]),
        surface_m2=ONE * SURFACE,
        usual_volume_ml=ONE * 4.8,
    )


def _wall(mass: float = 6.0, *, strength: float = 1.0, synthesis: float = 0.0) -> Wall:
    born = wall(np.array([mass]), np.array([4.8]))
    return replace(born, strength=strength * ONE, synthesis_per_day=synthesis * ONE)


def _synthesis(off: float, who: Individual = USUAL) -> float:
    return float(LAW.rates(_wall(), _load(off), who, "left").synthesis_per_day[0])


# ---- emptied stretch ----------------------------------------------------------------------------


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_wall_at_its_set_point_rests(side: str) -> None:
    """At set stretches, usual cavity and full strength nothing changes, on either side."""
    rates = LAW.rates(_wall(), _load(side=side), USUAL, side)
    for field in fields(Wall):
        assert getattr(rates, field.name) == pytest.approx([0.0], abs=1e-12)


def test_long_fibres_ask_for_wall_and_strength_and_short_ones_for_less() -> None:
    """Synthesis and strength rise with fibres left long, and fall, slowly, with short ones."""
    long_, short = (LAW.rates(_wall(), _load(off), USUAL, "left") for off in (0.05, -0.05))
    assert long_.synthesis_per_day[0] > 0.0 > short.synthesis_per_day[0]
    assert long_.synthesis_per_day[0] > 10.0 * -short.synthesis_per_day[0]
    assert long_.strength[0] > 0.0 > short.strength[0]


def test_growth_takes_its_time() -> None:
    """Mass follows the synthesis that is under way, not the stretch of the moment."""
    assert LAW.rates(_wall(), _load(0.1), USUAL, "left").mass_g == pytest.approx([0.0])
    assert LAW.rates(_wall(synthesis=0.2), _load(0.0), USUAL, "left").mass_g[0] > 0.0


def test_growth_has_a_fastest_pace_and_a_ceiling() -> None:
    """Stretch without bound asks for no more than its bound; at the ceiling nothing grows."""
    assert _synthesis(0.5) == pytest.approx(_synthesis(C["largest_excess"]))
    assert _synthesis(-0.9) == pytest.approx(_synthesis(-C["largest_lack"]))
    ceiling = C["largest_mass_left"] * SURFACE
    full = LAW.rates(_wall(ceiling, synthesis=0.4), _load(0.1), USUAL, "left")
    assert full.mass_g == pytest.approx([0.0], abs=1e-12)
    over = LAW.rates(_wall(1.5 * ceiling, synthesis=-0.01), _load(-0.1), USUAL, "left")
    assert over.mass_g[0] < 0.0


@pytest.mark.parametrize("name", LAWS)
@pytest.mark.parametrize("off", [-0.5, -0.02, 0.0, 0.02, 0.5])
def test_strength_seeks_a_value_within_its_bounds(off: float, name: str) -> None:
    """Held at a stretch for months, strength rests at one value between floor and ceiling."""
    law, strength = law_named(name), 1.0
    for _ in range(400):
        rate = law.rates(_wall(strength=strength), _load(off), USUAL, "left").strength[0]
        strength += 0.5 * float(rate)
    wished = 1.0 + C["strength_gain"] * off
    assert strength == pytest.approx(np.clip(wished, C["weakest"], C["strongest"]), abs=1e-6)


def test_babies_differ_by_their_factors() -> None:
    """A factor on a rate scales it; a higher set point makes the same stretch too short."""
    quick = replace(USUAL, gain_rate=2.0 * ONE, loss_rate=3.0 * ONE)
    assert _synthesis(0.05, quick) == pytest.approx(2.0 * _synthesis(0.05))
    assert _synthesis(-0.05, quick) == pytest.approx(3.0 * _synthesis(-0.05))
    assert _synthesis(0.01, replace(USUAL, set_point=1.2 * ONE)) < 0.0


@pytest.mark.parametrize("name", LAWS)
def test_a_higher_set_point_or_a_quicker_loss_leaves_less_wall(name: str) -> None:
    """In the middle baby either factor costs wall by a month, and neither a tenth of it."""
    baby = baby_of(plain(), None, name)
    usual = left_index_g_m2(course(baby, [30.0])[0]) * baby.story.surface_m2(30.0)
    for who in (
        replace(baby.individual(), set_point=1.1 * ONE),
        replace(baby.individual(), loss_rate=1.5 * ONE),
    ):
        (stop,) = walk(
            baby.beat,
            baby.walls_at_birth(),
            law=baby.law,
            who=who,
            body=baby.body(),
            start_days=0.0,
            stops_days=[30.0],
            breaks_days=baby.story.breaks_days,
        )
        assert 0.9 * usual < one(stop.walls.left.mass_g) < 0.998 * usual


# ---- members that follow different laws ---------------------------------------------------------


def _pair(value: float) -> Floats:
    return np.full(2, value)


def _both(which: tuple[int, int]) -> tuple[ByMember, Wall, Load, Individual]:
    law = ByMember(laws=(MeanStress(), LAW), which=np.array(which))
    walls = replace(wall(_pair(6.0), _pair(5.5)), synthesis_per_day=_pair(0.1))
    load = Load(
        mean_stress_mmhg=_pair(120.0),
        filled_stretch=_pair(1.2),
        emptied_stretch=_pair(0.95),
        surface_m2=_pair(SURFACE),
        usual_volume_ml=_pair(4.8),
    )
    return law, walls, load, Individual(set_point=ONE, gain_rate=ONE, loss_rate=ONE)


@pytest.mark.parametrize("which", [(0, 1), (1, 0), (0, 0), (1, 1)])
def test_each_member_follows_its_own_law(which: tuple[int, int]) -> None:
    """Rates of a member are those of its law alone, whatever its neighbours follow."""
    law, walls, load, who = _both(which)
    together = law.rates(walls, load, who, "left")
    for member, number in enumerate(which):
        alone = law.laws[number].rates(walls, load, who, "left")
        for field in fields(Wall):
            assert getattr(together, field.name)[member] == getattr(alone, field.name)[member]


@dataclass(frozen=True)
class Unasked:
    """A law that must not be asked."""

    name: str = "unasked"

    def rates(self, wall: Wall, load: Load, who: Individual, side: str) -> Wall:
        """Never reached."""
        pytest.fail("a law that nobody follows was asked")


def test_a_law_that_nobody_follows_costs_nothing() -> None:
    """Where all members are alike only their law is evaluated, and only it is named."""
    _, walls, load, who = _both((0, 0))
    law = ByMember(laws=(MeanStress(), Unasked()), which=np.zeros(2, dtype=np.int64))
    law.rates(walls, load, who, "left")
    assert law.name == MeanStress().name
    assert ByMember(laws=(MeanStress(), LAW), which=np.array([0, 1])).name == (
        f"{MeanStress().name} or {LAW.name}"
    )


def test_some_members_keep_their_law() -> None:
    """Taking some of the members takes their laws along."""
    law, *_ = _both((0, 1))
    assert law.at(np.array([1, 1, 0])).which.tolist() == [1, 1, 0]


def test_laws_are_found_by_the_name_of_their_file() -> None:
    """Every law is made by its name, with the packaged constants or those under trial."""
    assert DEFAULT in LAWS
    assert set(every_law()) == set(LAWS)
    for name, constants in every_law().items():
        assert dict(law_named(name).constants) == dict(constants)
        assert law_named(name, {"a": 1.0}).constants == {"a": 1.0}
    shared = ("set_stretch", "cavity_gain", "cavity_return", "cavity_size_power")
    shared += ("set_emptied_left", "strength_gain", "strength_days", "weakest", "strongest")
    mean, emptied = every_law().values()
    assert all(mean[row] == emptied[row] for row in shared)


# ---- both laws over a heart ---------------------------------------------------------------------


@pytest.mark.parametrize("name", LAWS)
def test_an_unloaded_ventricle_loses_mass_and_a_band_gives_it_back(name: str) -> None:
    """The index falls over a month; a band then adds more than half within nine days."""
    baby = baby_of(plain(), None, name)
    birth, week, month = course(baby, [0.0, 7.0, 30.0])
    assert left_index_g_m2(birth) > left_index_g_m2(week) > left_index_g_m2(month)
    banded = with_band_and_shunt(baby, 6.0)
    after = course(banded, [39.0], walls=month.walls, start_days=30.0)[0]
    assert left_index_g_m2(after) > 1.5 * left_index_g_m2(month)


@pytest.mark.parametrize("name", LAWS)
def test_months_behind_a_band_and_a_shunt_end_below_the_ceiling(name: str) -> None:
    """However much loads it, a wall stays below its largest mass, and its strength in bounds."""
    baby = baby_of(plain(), None, name)
    month = course(baby, [30.0])[0]
    tight = with_band_and_shunt(baby, 5.0, 4.0)
    for day in course(tight, [33.0, 40.0, 90.0], walls=month.walls, start_days=30.0):
        assert left_index_g_m2(day) <= C["largest_mass_left"] * (1.0 + 1e-9)
        assert C["weakest"] <= one(day.walls.left.strength) <= C["strongest"]


@pytest.mark.parametrize("name", LAWS)
def test_a_trained_wall_does_not_sink_to_the_floor(name: str) -> None:
    """Two months after a band strength is above what it was before, far from its floor."""
    baby = baby_of(plain(), None, name)
    month = course(baby, [30.0])[0]
    weak = one(month.walls.left.strength)
    assert C["weakest"] < weak < 0.95
    banded = with_band_and_shunt(baby, 6.0)
    later = course(banded, [90.0], walls=month.walls, start_days=30.0)[0]
    assert weak < one(later.walls.left.strength) < 1.03


@pytest.mark.parametrize("name", LAWS)
def test_half_the_step_changes_little(name: str) -> None:
    """Halving all bounds of the slow step moves the left mass at 60 d by below half a per cent."""
    masses: list[float] = []
    for part in (1.0, 0.5):
        baby = baby_of(plain(), None, name)
        usual = Pace()
        pace = Pace(
            shortest_days=part * usual.shortest_days,
            longest_days=part * usual.longest_days,
            largest_change=part * usual.largest_change,
        )
        (stop,) = walk(
            baby.beat,
            baby.walls_at_birth(),
            law=baby.law,
            who=baby.individual(),
            body=baby.body(),
            start_days=0.0,
            stops_days=[60.0],
            breaks_days=baby.story.breaks_days,
            pace=pace,
        )
        masses.append(one(stop.walls.left.mass_g))
    assert masses[0] == pytest.approx(masses[1], rel=5e-3)


def test_steady_synthesis_grows_as_an_exponential() -> None:
    """Held at one stretch, mass grows at the asked pace, the lag taken off at the start."""
    off, days = -0.05, 40.0

    @dataclass
    class Told:
        """The same stretches on both sides."""

        def load(self, side: str) -> tuple[Floats, Floats, Floats]:
            """Any stress, set stretch, and fibres emptied too far."""
            return ONE * 100.0, ONE * C["set_stretch"], ONE * C[f"set_emptied_{side}"] * (1 + off)

    body = Body(surface_m2=lambda _: ONE * SURFACE, usual_volume_ml=lambda _a, _s: ONE * 4.8)
    start = Walls(left=_wall(), right=_wall(4.0))
    (stop,) = walk(
        lambda _age, _walls: Told(),
        start,
        law=LAW,
        who=USUAL,
        body=body,
        start_days=0.0,
        stops_days=[days],
    )
    pace, lag = C["loss_rate"] * off, C["synthesis_days"]
    expected = 6.0 * np.exp(pace * (days - lag * (1.0 - np.exp(-days / lag))))
    # The midpoint rule errs by (step/lag)^3 / 6 of the lag's own part, within 0.5 % of the mass.
    assert stop.walls.left.mass_g[0] == pytest.approx(expected, rel=5e-3)
