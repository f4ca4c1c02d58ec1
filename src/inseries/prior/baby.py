"""A baby as circuits: traits and story put together for any age, its walls and its regulation."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from inseries.circuit.network import Circuit, Ventricle
from inseries.circuit.newborn import normal_newborn, parallel_newborn
from inseries.circuit.orbit import QUICK, Orbit, Regulation, Settings, Warm, find_orbit
from inseries.circuit.readouts import STRESS_MEAN, STRETCH_MAX, STRETCH_MIN, Readings, read
from inseries.circuit.scaling import scaled
from inseries.course.laws import LAWS, ByMember, Individual, Law, law_named
from inseries.course.walk import Body
from inseries.course.walls import Wall, Walls, wall
from inseries.prior.bypass import recovered
from inseries.prior.constants import Constants
from inseries.prior.story import NONE
from inseries.prior.traits import Traits, law_of
from inseries.routes import (
    arterial_switch,
    atrial_switch,
    pump_head_mmhg,
    round_area_cm2,
    with_atrial_defect,
    with_band,
    with_duct,
    with_left_outflow,
    with_shunt,
    with_support,
    with_ventricular_defect,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from inseries.prior.story import Story
    from inseries.prior.traits import Floats

# derived: mmHg/(L/min) per Wood unit, in mmHg s/mL; mL/s in one L/min
WOOD_MMHG_S_ML, ML_S_PER_L_MIN = 0.06, 1000.0 / 60.0


@dataclass(slots=True)
class Sensed:
    """What the walls feel of one beat."""

    readings: Readings

    def load(self, side: str) -> tuple[Floats, Floats, Floats]:
        """Mean stress (mmHg), filled and emptied stretch of one ventricle."""
        name = "LV" if side == "left" else "RV"
        part = self.readings.part
        return part(name, STRESS_MEAN), part(name, STRETCH_MAX), part(name, STRETCH_MIN)


@dataclass(slots=True)
class Tally:
    """How much work a run took, how many orbits did not settle, and of which draws."""

    orbits: int = 0
    unsettled: int = 0
    beats: int = 0
    failed: set[int] = field(default_factory=set)

    def add(self, other: Tally, first: int = 0) -> None:
        """Counts another run's work with this one's; its draws stand here from ``first`` on."""
        self.orbits += other.orbits
        self.unsettled += other.unsettled
        self.beats += other.beats
        self.failed.update(first + draw for draw in other.failed)


class Baby:
    """n plausible versions of one baby.

    Parameters
    ----------
    traits : draws of what differs
    story : what is known over time
    constants : numbers of newborn, regulation and law; the packaged ones when not given
    law : growth law of all draws; each draw's own, by its trait, when not given
    settings : steps and tolerance of a beat
    """

    def __init__(
        self,
        traits: Traits,
        story: Story,
        *,
        constants: Constants | None = None,
        law: Law | None = None,
        settings: Settings = QUICK,
    ) -> None:
        self.constants = constants or Constants()
        self.traits = traits
        self.story = story
        self._given_law = law
        self.law = law or self._law_by_member()
        self.settings = settings
        self.tally = Tally()
        self._warm: Warm | None = None
        self._topology = story.topology

    @cached_property
    def reference(self) -> Circuit:
        """The reference newborn of this topology with this baby's muscle and mixing."""
        make = parallel_newborn if self.story.topology == "parallel" else normal_newborn
        circuit = make(self.constants.newborn)
        for name in ("LV", "RV"):
            part = circuit.part(name)
            assert isinstance(part, Ventricle)
            circuit = circuit.with_part(
                name, active_stress_mmhg=part.active_stress_mmhg * self.traits["muscle_strength"]
            )
        left = circuit.part("LV")
        assert isinstance(left, Ventricle)
        circuit = circuit.with_part(
            "LV", passive_stress_mmhg=left.passive_stress_mmhg * self.traits["stiffness"]
        )
        aside = circuit.edge("collaterals").resistance_mmhg_s_ml / self.traits["collaterals"]
        circuit = circuit.with_edge("collaterals", resistance_mmhg_s_ml=aside)
        eddy = self.constants.newborn["eddy_speed"] * self.traits["eddy_speed"]
        return circuit.with_edge("atrial_defect", eddy_speed_cm_s=eddy)

    def at(self, rows: NDArray[np.int64]) -> Baby:
        """Some of the draws, warm where these are."""
        return self._like(self.traits.at(rows), rows)

    @property
    def law_of(self) -> NDArray[np.int64]:
        """Place in ``LAWS`` of the law that each draw follows, shape (n,)."""
        return law_of(self.traits)

    def _law_by_member(self) -> Law:
        laws = tuple(law_named(name, self.constants.laws[name]) for name in LAWS)
        return ByMember(laws=laws, which=self.law_of)

    def with_traits(self, traits: Traits, rows: NDArray[np.int64]) -> Baby:
        """Other draws of the same story, each started where one of these is."""
        return self._like(traits, rows)

    def with_story(self, story: Story) -> Baby:
        """The same draws under another story, warm where these are."""
        rows = np.arange(self.traits.members)
        return self._like(self.traits, rows, story)

    def joined(self, others: Sequence[Baby]) -> Baby:
        """These draws and others of the same story, each warm where it was."""
        z = np.vstack([self.traits.z, *(other.traits.z for other in others)])
        whole = self._like(Traits(z=z), np.zeros(0, dtype=np.int64))
        warm = [baby._warm for baby in others if baby._warm is not None]
        whole._warm = self._warm.joined(warm) if self._warm is not None else None
        first = 0
        for baby in (self, *others):
            whole.tally.add(baby.tally, first)
            first += baby.traits.members
        return whole

    def _like(self, traits: Traits, rows: NDArray[np.int64], story: Story | None = None) -> Baby:
        chosen = Baby(
            traits,
            story or self.story,
            constants=self.constants,
            law=self._given_law,
            settings=self.settings,
        )
        chosen._warm = self._warm.at(rows) if self._warm is not None else None
        chosen._topology = self._topology
        return chosen

    def size(self, age_days: float) -> float:
        """Body surface against the reference newborn's."""
        return self.story.surface_m2(age_days) / self.constants.newborn["body_surface"]

    def walls_at_birth(self) -> Walls:
        """Both ventricles on day 0."""
        size = self.size(0.0)
        sides: dict[str, Wall] = {}
        for side, name in (("left", "LV"), ("right", "RV")):
            part = self.reference.part(name)
            assert isinstance(part, Ventricle)
            prefix = name.lower()
            sides[side] = wall(
                part.mass_g * size * self.traits[f"{prefix}_mass"],
                part.unloaded_volume_ml * size * self.traits[f"{prefix}_cavity"],
            )
        return Walls(left=sides["left"], right=sides["right"])

    def circuit(self, age_days: float, walls: Walls) -> Circuit:
        """The circuit at an age, for given walls, with what was done by then."""
        circuit = self.unrepaired(age_days, walls)
        route = self.story.route_at(age_days)
        shunt = self.story.shunt_mm(age_days)
        if route == "repaired":
            circuit = self._switched(circuit, age_days)
        elif route == "atrial_switched":
            circuit = atrial_switch(circuit)
        elif shunt > 0.0:
            circuit = with_shunt(circuit, shunt * self.traits["shunt"])
        flow = self.story.support_l_min_m2(age_days)
        return self._supported(circuit, flow, age_days) if flow > 0.0 else circuit

    def unrepaired(self, age_days: float, walls: Walls) -> Circuit:
        """The circuit at an age with its defects and band, before any repair, without shunt."""
        size = self.size(age_days)
        circuit = scaled(self.reference, size)
        circuit = self._with_walls(circuit, walls, self.story.strength_factor(age_days))
        circuit = self._with_openings(circuit, age_days)
        lungs = self.lung_index(age_days) * WOOD_MMHG_S_ML / self.story.surface_m2(age_days)
        lungs = lungs * self.story.lung_factor(age_days)
        circuit = circuit.with_edge("lungs", resistance_mmhg_s_ml=lungs)
        blood = self.story.haemoglobin_g_dl(age_days) * self._haemoglobin_factor()
        need = self.story.consumption_ml_min_kg(age_days) * self.story.weight_kg(age_days)
        circuit = circuit.with_blood(
            haemoglobin_g_dl=blood,
            consumption_ml_min=need * self.traits["oxygen_need"],
            fetal_share=self.story.fetal_share(age_days),
            inspired_fraction=self.story.inspired_fraction(age_days),
            carbon_dioxide_mmhg=self.story.carbon_dioxide_mmhg(age_days),
            ph=self.story.ph(age_days),
        )
        return circuit.with_numbers(rate_per_min=self.story.heart_rate_per_min(age_days))

    def _switched(self, circuit: Circuit, age_days: float) -> Circuit:
        assert self.story.switch_day is not None
        after = recovered(age_days - self.story.switch_day, self.story.heart_rate_per_min(age_days))
        return arterial_switch(circuit, after, relieve_outflow=self.story.outflow_yields)

    def _supported(self, circuit: Circuit, index: float, age_days: float) -> Circuit:
        """On mechanical support of that index, against the pressure the body holds."""
        size = self.size(age_days)
        flow = index * self.story.surface_m2(age_days) * ML_S_PER_L_MIN
        against = float(np.mean(self.pressure_target(age_days)))
        return with_support(
            circuit, pump_head_mmhg(flow, against, surface_ratio=size), surface_ratio=size
        )

    def lung_index(self, age_days: float) -> Floats:
        """Lung resistance index, Wood units m²."""
        r = self.constants.rules
        fall = r["lung_index_first"] * np.exp(-age_days / r["lung_first_days"])
        slow = r["lung_index_second"] * np.exp(-age_days / r["lung_second_days"])
        return (r["lung_index_late"] + fall + slow) * self.traits["lung_resistance"]

    def pressure_target(self, age_days: float) -> Floats:
        """Arterial mean pressure the body holds, mmHg."""
        r = self.constants.rules
        first, later = r["arterial_pressure_first_day"], r["arterial_pressure"]
        early = first + (later - first) * min(max((age_days - 1.0) / 3.0, 0.0), 1.0)
        rise = 1.0 + r["pressure_rise"] * (1.0 - np.exp(-age_days / r["pressure_rise_days"]))
        parallel = self.story.route_at(age_days) == "parallel"
        share = r["parallel_pressure_share"] if parallel else 1.0
        return early * rise * share * self.traits["pressure_target"]

    def regulation(self, age_days: float) -> Regulation:
        """What is held between beats at an age."""
        r = self.constants.rules
        flow = r["output_index"] * self.story.surface_m2(age_days) * ML_S_PER_L_MIN
        return Regulation(
            pressure_mmhg=self.pressure_target(age_days),
            flow_ml_s=flow * self.traits["output_target"],
            filling_mmhg=r["filling_limit"] * self.traits["filling_limit"],
            resistance_low=r["resistance_low"],
            resistance_high=r["resistance_high"],
            volume_low=r["volume_low"],
            volume_high=r["volume_high"],
        )

    def beat(self, age_days: float, walls: Walls) -> Sensed:
        """The regulated repeating beat at an age, read."""
        return Sensed(self.read(self.circuit(age_days, walls), self.regulation(age_days)))

    def read(self, circuit: Circuit, regulation: Regulation | None) -> Readings:
        """Read-outs of a circuit's orbit, warm from the last one; failures are tallied."""
        if self._warm is not None and circuit.topology != self._topology:
            self._warm.known[:] = 0
        orbit = find_orbit(
            circuit, regulation, settings=self.settings, warm=self._warm, check=False
        )
        self._warm, self._topology = orbit.warm, circuit.topology
        self.note(orbit)
        return read(orbit)

    def note(self, orbit: Orbit, times: int = 1) -> None:
        """Counts an orbit's work, and its failures by draw (``times`` members a draw)."""
        self.tally.orbits += orbit.members
        self.tally.beats += int(orbit.beats.sum())
        self.tally.unsettled += int((~orbit.settled).sum())
        self.tally.failed.update(int(i) // times for i in np.flatnonzero(~orbit.settled))

    def individual(self) -> Individual:
        """How this baby's walls differ from the law's constants."""
        return Individual(
            set_point=self.traits["set_point"],
            gain_rate=self.traits["gain_rate"],
            loss_rate=self.traits["loss_rate"],
        )

    def body(self) -> Body:
        """How the body around the heart grows; usual cavity ~ surface to a power."""
        power = self.constants.law["cavity_size_power"]
        birth = self.walls_at_birth()
        start = self.story.surface_m2(0.0)

        def usual(age_days: float, side: str) -> Floats:
            ratio = self.story.surface_m2(age_days) / start
            return getattr(birth, side).unloaded_volume_ml * ratio**power

        return Body(
            surface_m2=lambda age: np.full(self.traits.members, self.story.surface_m2(age)),
            usual_volume_ml=usual,
        )

    def _with_walls(self, circuit: Circuit, walls: Walls, helped: float) -> Circuit:
        for name, side in (("LV", walls.left), ("RV", walls.right)):
            part = circuit.part(name)
            assert isinstance(part, Ventricle)
            circuit = circuit.with_part(
                name,
                mass_g=side.mass_g,
                unloaded_volume_ml=side.unloaded_volume_ml,
                active_stress_mmhg=part.active_stress_mmhg * side.strength * helped,
            )
        return circuit

    def _with_openings(self, circuit: Circuit, age_days: float) -> Circuit:
        story, traits = self.story, self.traits
        circuit = with_duct(circuit, story.duct_mm(age_days) * traits["duct"])
        circuit = with_atrial_defect(circuit, self.atrial_mm(age_days))
        circuit = with_ventricular_defect(
            circuit, story.ventricular_mm * traits["ventricular_defect"]
        )
        band = story.band_mm(age_days)
        if band > 0.0:
            circuit = with_band(circuit, band * traits["band_lumen"])
        if story.outflow not in (None, "open"):
            grown = np.sqrt(story.surface_m2(age_days) / story.surface_m2(0.0))
            return with_left_outflow(circuit, round_area_cm2(traits["outflow"] * grown))
        narrowed = story.narrowing_mm(age_days)
        return with_left_outflow(circuit, round_area_cm2(narrowed)) if narrowed > 0.0 else circuit

    def idle(self) -> frozenset[str]:
        """Traits that play no part in this story; they keep their prior."""
        story = self.story
        idle = {"haemoglobin_unmeasured" if story.haemoglobin_measured else "haemoglobin"}
        if story.outflow in (None, "open"):
            idle.add("outflow")
        if story.ventricular_mm == 0.0:
            idle.add("ventricular_defect")
        if story.band_mm is NONE:
            idle.add("band_lumen")
        if story.shunt_mm is NONE:
            idle.add("shunt")
        if story.foramen_mm is not None:
            idle.add("foramen")
        if story.septostomy_day is None or story.tear_mm is not None:
            idle.add("septostomy")
        if story.foramen_mm is None and story.tear_mm is None:
            idle.add("atrial_defect_measured")
        return frozenset(idle)

    def atrial_mm(self, age_days: float) -> Floats:
        """Diameter of the atrial defect at an age, as blood uses it."""
        story, traits = self.story, self.traits
        if story.topology != "parallel":
            return np.zeros(traits.members)
        if story.torn_again is not None and age_days >= story.torn_again[0]:
            return story.torn_again[1] * traits["atrial_defect_measured"]
        torn = story.septostomy_day is not None and age_days >= story.septostomy_day
        measured, trait = (story.tear_mm, "septostomy") if torn else (story.foramen_mm, "foramen")
        if measured is not None:
            return measured * traits["atrial_defect_measured"]
        return traits[trait] * np.sqrt(self.size(age_days) / self.size(0.0))

    def _haemoglobin_factor(self) -> Floats:
        measured = self.story.haemoglobin_measured
        return self.traits["haemoglobin" if measured else "haemoglobin_unmeasured"]
