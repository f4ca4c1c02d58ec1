"""The whole repaired circulation at an age, with its narrow places: right ventricular pressure.

Wall and load find each other: over years a wall is where the growth law of ``course`` leaves it at
rest, so that state is sought and the way to it is not walked.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from inseries.circuit.network import Vessel
from inseries.circuit.orbit import Settings
from inseries.course.laws import LAWS, ByMember, Load, law_named
from inseries.course.walls import Wall, Walls
from inseries.norms.blood import haemoglobin_g_dl
from inseries.norms.body import DAYS_PER_YEAR
from inseries.norms.pressure import heart_rate_per_min
from inseries.norms.vitals import pressures_for
from inseries.outlook.course import beyond_usual_area
from inseries.outlook.numbers import number
from inseries.prior.baby import Baby
from inseries.prior.plain import plain_story
from inseries.prior.story import Story, Track, constant
from inseries.prior.traits import Traits
from inseries.routes import (
    with_branch_stenosis,
    with_lung_branches,
    with_supravalvar_stenosis,
)

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from inseries.circuit.network import Circuit
    from inseries.circuit.readouts import Readings
    from inseries.course.laws import Law
    from inseries.outlook.baby import Frame
    from inseries.outlook.course import SiteCourse
    from inseries.outlook.numbers import Floats

# chosen: at the first age, and from there to each later one; mass is then within 5 % of its rest
STEPS_FIRST, STEPS_ON = 6, 4
# chosen: the branches of the lung artery empty within hundredths of a second, faster where lung
# resistance is low: at 320 steps of a beat three draws of 200 run wild, at 480 all are within
# 0.02 mmHg of 700
STEPS_OF_A_BEAT = 480
# chosen: pseudo-time of one step, days, by whether the wall gains, loses, or changes its cavity
GAIN_DAYS, LOSS_DAYS, CAVITY_DAYS = 0.8, 35.0, 1.5
# derived: area over the usual one at which 4 mmHg become about 120
LEAST_RATIO = 0.18
# chosen: largest change of one step, as ln
MOST_STEP = 0.25
# chosen: share of its way that the contractile state goes in one step
STRENGTH_STEP = 0.7
# published: flynn2017, 1 to 17 years, in days; fleming2011 ends at 18 years
PRESSURE_DAYS = (365.25, 6209.25)
# published: fleming2011, the last day of its last band
LAST_RATE_DAY = 6574.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Ventricle:
    """The right ventricle of one repair at one age; arrays, shape (draws in the circuit,).

    Parameters
    ----------
    year : float, age
    rv_systolic_mmhg, lv_systolic_mmhg : peak pressures
    outflow_mmhg : peak right ventricular over peak lung artery pressure, as a catheter draws back
    rv_mass_g_m2 : wall at rest under the growth law
    right_share : share of lung flow that goes right
    settled : whether the beat repeated itself
    """

    year: float
    rv_systolic_mmhg: Floats
    lv_systolic_mmhg: Floats
    outflow_mmhg: Floats
    rv_mass_g_m2: Floats
    right_share: Floats
    settled: Floats

    @property
    def ratio(self) -> Floats:
        """Right over left ventricular systolic pressure."""
        return self.rv_systolic_mmhg / self.lv_systolic_mmhg


class Grown(Baby):
    """n draws of one child long after its switch, with narrow places that each member has."""

    frame: Frame
    site_mm: Floats | None = None
    branch_mm: tuple[Floats, Floats] | None = None

    def circuit(self, age_days: float, walls: Walls) -> Circuit:
        """The repaired circuit at an age, lung artery divided, its narrow places in it."""
        usual = with_lung_branches(self.undivided(age_days, walls))
        if self.site_mm is None or self.branch_mm is None:
            return usual
        right, left = self.branch_mm
        return with_branch_stenosis(
            with_supravalvar_stenosis(usual, self.site_mm), right_mm=right, left_mm=left
        )

    def undivided(self, age_days: float, walls: Walls) -> Circuit:
        """The same with the lung artery in one and nothing narrow."""
        return _softer(super().circuit(age_days, walls), self._slower(age_days))

    def pressure_target(self, age_days: float) -> Floats:
        """Arterial mean pressure the body holds, mmHg: a child's usual one by cuff.

        A third of the pulse above the diastolic pressure, held before the first and after the last
        age of the newest reference. *Source* flynn2017
        """
        held = float(np.clip(age_days, *PRESSURE_DAYS))
        newest = pressures_for(self.frame.sex, held)[0]
        low, high = newest.diastolic.value, newest.systolic.value
        return (low + (high - low) / 3.0) * self.traits["pressure_target"]

    @cached_property
    def synthesis_days(self) -> float:
        """Lag of synthesis of the law that has one, days."""
        return self.constants.laws["emptied_stretch"]["synthesis_days"]

    @cached_property
    def strength_days(self) -> float:
        """Pace of the contractile state, days; most of it is taken in one step."""
        return STRENGTH_STEP * self.constants.laws[LAWS[0]]["strength_days"]

    def _slower(self, age_days: float) -> float:
        return number("newborn_rate") / self.story.heart_rate_per_min(age_days)


def _softer(circuit: Circuit, slower: float) -> Circuit:
    """The lung artery takes the larger strokes of a slower heart at the same pulse."""
    trunk = circuit.part("PA")
    assert isinstance(trunk, Vessel)
    return circuit.with_part("PA", compliance_ml_mmhg=trunk.compliance_ml_mmhg * slower)


def grown(frame: Frame, traits: Traits) -> Grown:
    """Draws of the frame's child as circuits of any age after the operation."""
    baby = Grown(traits, _story(frame), settings=Settings(steps=STEPS_OF_A_BEAT))
    baby.frame = frame
    return baby


def _story(frame: Frame) -> Story:
    ages = tuple(float(year * DAYS_PER_YEAR) for year in frame.years)

    def track(values: Floats) -> Track:
        return Track(ages_days=ages, values=tuple(float(value) for value in values))

    weight = np.array([body.weight_kg for body in frame.bodies])
    rate = np.array([heart_rate_per_min(min(age, LAST_RATE_DAY)).value for age in ages])
    need = number("child_oxygen_need") * frame.surface_m2 / weight
    return replace(
        plain_story(frame.sex, frame.z),
        weight_kg=track(weight),
        surface_m2=track(frame.surface_m2),
        heart_rate_per_min=track(rate),
        haemoglobin_g_dl=track(np.array([haemoglobin_g_dl(age, frame.sex).value for age in ages])),
        consumption_ml_min_kg=track(need),
        duct_mm=constant(0.0),
        switch_day=ages[0],
    )


def ventricle_at(
    frame: Frame, courses: tuple[SiteCourse, ...], years: tuple[float, ...], traits: Traits
) -> tuple[tuple[Ventricle, ...], ...]:
    """The right ventricle of each repair at some ages, by the whole circuit.

    Parameters
    ----------
    frame : Frame
    courses : repairs
    years : ages that the frame looks at, rising
    traits : draws of the circuit; the first so many draws of the courses are taken with them

    Returns
    -------
    tuple over repairs of a tuple over ages
    """
    members = traits.members
    baby = grown(frame, _repeated(traits, len(courses)))
    load = _expected_mmhg(frame, courses, members, years[0])
    walls = _with_right(usual_walls(baby, years[0]), load / UNLOADED_MMHG)
    found: list[tuple[Ventricle, ...]] = []
    before = years[0]
    for place, year in enumerate(years):
        if place:
            more = _expected_mmhg(frame, courses, members, year)
            walls = _with_right(_carried(baby, walls, before, year), more / load)
            load = more
        _narrow(baby, frame, courses, members, year)
        walls, readings = _at_rest(baby, walls, year, STEPS_ON if place else STEPS_FIRST)
        found.append(_read(baby, readings, walls, year, len(courses)))
        before = year
    return tuple(zip(*found, strict=True))


def _repeated(traits: Traits, times: int) -> Traits:
    return Traits(z=np.tile(traits.z, (times, 1)))


def _narrow(
    baby: Grown, frame: Frame, courses: tuple[SiteCourse, ...], members: int, year: float
) -> None:
    """Sets every member's narrow places to those of its repair and draw at an age."""
    at = frame.at(year)

    def sizes(usual: str, ratios: list[Floats]) -> Floats:
        ratio = np.concatenate([each[at, :members] for each in ratios])
        area = beyond_usual_area(np.maximum(ratio, LEAST_RATIO))
        return float(frame.usual_mm(usual)[at]) * np.sqrt(area)

    baby.site_mm = sizes("pulmonary_trunk_mm", [each.area_ratio for each in courses])
    baby.branch_mm = (
        sizes("right_pulmonary_artery_mm", [each.branch_ratio for each in courses]),
        sizes("left_pulmonary_artery_mm", [each.branch_ratio for each in courses]),
    )


def usual_walls(baby: Grown, year: float) -> Walls:
    """Both ventricles of a body of that age before any load has shaped them."""
    birth, age = baby.walls_at_birth(), year * DAYS_PER_YEAR
    usual = baby.body().usual_volume_ml
    larger = baby.story.surface_m2(age) / baby.story.surface_m2(0.0)
    return Walls(
        left=replace(
            birth.left,
            mass_g=birth.left.mass_g * larger ** (1.0 + number("wall_power")),
            unloaded_volume_ml=usual(age, "left"),
        ),
        right=replace(
            birth.right,
            mass_g=birth.right.mass_g * AFTER_SWITCH * larger,
            unloaded_volume_ml=usual(age, "right"),
        ),
    )


# chosen: starts of a search only: share of a right ventricle's mass at birth that is left once it
# no longer carries the body, and its pressure without any narrow place, mmHg
AFTER_SWITCH, UNLOADED_MMHG = 0.9, 28.0
# chosen: no right ventricle bears more for years; narrower places run as this narrow, mmHg
MOST_MMHG = 120.0


def _expected_mmhg(
    frame: Frame, courses: tuple[SiteCourse, ...], members: int, year: float
) -> Floats:
    """Rough right ventricular pressure by the edge law, where a search for the wall starts."""
    at = frame.at(year)
    added = np.concatenate([each.greatest[at, :members] for each in courses])
    return UNLOADED_MMHG + np.minimum(added, MOST_MMHG)


def _with_right(walls: Walls, factor: Floats) -> Walls:
    return Walls(left=walls.left, right=replace(walls.right, mass_g=walls.right.mass_g * factor))


def _carried(baby: Grown, walls: Walls, before: float, year: float) -> Walls:
    """Walls of a younger body as the start for an older one."""
    old, new = (baby.story.surface_m2(each * DAYS_PER_YEAR) for each in (before, year))
    usual = baby.body().usual_volume_ml
    larger = new / old

    def moved(wall: Wall, side: str) -> Wall:
        grown_cavity = usual(year * DAYS_PER_YEAR, side) / usual(before * DAYS_PER_YEAR, side)
        return replace(
            wall,
            mass_g=wall.mass_g * larger,
            unloaded_volume_ml=wall.unloaded_volume_ml * grown_cavity,
        )

    return Walls(left=moved(walls.left, "left"), right=moved(walls.right, "right"))


def _at_rest(baby: Grown, walls: Walls, year: float, steps: int) -> tuple[Walls, Readings]:
    """Walls where the growth law rests, by damped steps, and the beat they have there."""
    age = year * DAYS_PER_YEAR
    law = _law_of(baby, age)
    sensed = baby.beat(age, walls)
    for _ in range(steps):
        settled = sound(sensed.readings)
        walls = Walls(
            left=_next(baby, law, walls.left, sensed.load("left"), "left", age, settled),
            right=_next(baby, law, walls.right, sensed.load("right"), "right", age, settled),
        )
        sensed = baby.beat(age, walls)
    return walls, sensed.readings


def sound(readings: Readings) -> NDArray[np.bool_]:
    """Draws whose beat repeats itself and whose right ventricle drives its lung artery."""
    right, lung = readings.systolic_mmhg("RV"), readings.mean_mmhg("PA")
    return readings.orbit.settled & (right >= lung)


def _next(  # noqa: PLR0917 - wall, load and law of one side, all needed
    baby: Grown,
    law: Law,
    wall: Wall,
    felt: tuple[Floats, Floats, Floats],
    side: str,
    age: float,
    settled: NDArray[np.bool_],
) -> Wall:
    """One step of a wall; a draw whose beat did not settle keeps its own."""
    stress, filled, emptied = (np.where(settled, values, 1.0) for values in felt)
    moved = _stepped(baby, law, wall, (stress, filled, emptied), side, age)

    def kept(new: Floats, old: Floats) -> Floats:
        return np.where(settled, new, old)

    return Wall(
        mass_g=kept(moved.mass_g, wall.mass_g),
        unloaded_volume_ml=kept(moved.unloaded_volume_ml, wall.unloaded_volume_ml),
        strength=kept(moved.strength, wall.strength),
        synthesis_per_day=kept(moved.synthesis_per_day, wall.synthesis_per_day),
    )


def _law_of(baby: Grown, age_days: float) -> Law:
    """Each draw's law; its ceiling of mass rises with the body as usual mass does."""
    higher = (baby.story.surface_m2(age_days) / baby.story.surface_m2(0.0)) ** number("wall_power")

    def lifted(name: str) -> Law:
        constants = dict(baby.constants.laws[name])
        for side in ("left", "right"):
            constants[f"largest_mass_{side}"] *= higher
        return law_named(name, constants)

    return ByMember(laws=tuple(lifted(name) for name in LAWS), which=baby.law_of)


def _stepped(
    baby: Grown, law: Law, wall: Wall, felt: tuple[Floats, Floats, Floats], side: str, age: float
) -> Wall:
    """One damped step of a wall toward where its law lets it rest."""
    stress, filled, emptied = felt
    load = Load(
        mean_stress_mmhg=stress,
        filled_stretch=filled,
        emptied_stretch=emptied,
        surface_m2=np.full(stress.size, baby.story.surface_m2(age)),
        usual_volume_ml=baby.body().usual_volume_ml(age, side),
    )
    who = baby.individual()
    lagged = law.rates(wall, load, who, side).synthesis_per_day * baby.synthesis_days
    asked = replace(wall, synthesis_per_day=wall.synthesis_per_day + lagged)
    rates = law.rates(asked, load, who, side)
    relative = rates.mass_g / wall.mass_g
    mass = np.where(relative > 0.0, relative * GAIN_DAYS, relative * LOSS_DAYS)
    cavity = CAVITY_DAYS * rates.unloaded_volume_ml / wall.unloaded_volume_ml
    return Wall(
        mass_g=wall.mass_g * np.exp(np.clip(mass, -MOST_STEP, MOST_STEP)),
        unloaded_volume_ml=wall.unloaded_volume_ml * np.exp(np.clip(cavity, -MOST_STEP, MOST_STEP)),
        strength=wall.strength + baby.strength_days * rates.strength,
        synthesis_per_day=asked.synthesis_per_day,
    )


def _read(
    baby: Grown, readings: Readings, walls: Walls, year: float, repairs: int
) -> tuple[Ventricle, ...]:
    surface = baby.story.surface_m2(year * DAYS_PER_YEAR)
    right = readings.systolic_mmhg("RV")
    columns = {
        "rv_systolic_mmhg": right,
        "lv_systolic_mmhg": readings.systolic_mmhg("LV"),
        "outflow_mmhg": right - np.minimum(readings.systolic_mmhg("PA"), right),
        "rv_mass_g_m2": walls.right.mass_g / surface,
        "right_share": readings.flow_ml_s("right_lung") / readings.lung_flow_ml_s,
        "settled": sound(readings).astype(np.float64),
    }
    members = right.size // repairs
    return tuple(
        Ventricle(
            year=year,
            **{
                name: values[place * members : (place + 1) * members]
                for name, values in columns.items()
            },
        )
        for place in range(repairs)
    )
