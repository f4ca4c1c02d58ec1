"""A band as tight as you like, with muscle that is short of blood: lumens side by side.

No series prints lumens or pressures in the first hours, so that nothing here is fitted; it is tried
beside the growth laws, each as fitted without it.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from inseries.circuit.network import Ventricle
from inseries.circuit.readouts import STRESS_MEAN, Readings
from inseries.course.laws import DEFAULT, law_named
from inseries.course.laws.failing_limb import Burden, share_supplied
from inseries.course.walk import walk
from inseries.desk.experiments.babies import baby_of, course, plain_after_septostomy, scenario
from inseries.desk.experiments.normal_newborn import newborn_readings
from inseries.prior.baby import Baby, Sensed
from inseries.prior.constants import Constants
from inseries.prior.traits import middle
from inseries.routes import with_band

if TYPE_CHECKING:
    from inseries.circuit.network import Circuit, Floats
    from inseries.course.walls import Walls

# chosen: lumens tried, mm, from hardly a band to one that lets half the flow through
LUMENS_MM = (7.0, 6.0, 5.0, 4.0)
# published: boutin1994, hours and days at which the ventricle was looked at
AFTER_DAYS = (0.0, 0.5, 3.5, 7.0, 9.0)
# chosen: strength is sought until it moves by less, in so many beats, this far each time
SETTLED, MOST_ROUNDS, STRIDE = 0.005, 8, 0.6


class Strained(Baby):
    """A banded baby whose left ventricle is as strong as its coronaries let it be.

    ``lumens_mm`` leaves a band of each lumen, one a draw; ``supplied`` is what the last beat left.
    """

    lumens_mm: Floats
    healthy: Burden
    supplied: Floats

    def circuit(self, age_days: float, walls: Walls) -> Circuit:
        """The circuit at an age, with the band and the strength that is left."""
        banded = with_band(super().circuit(age_days, walls), self.lumens_mm)
        left = banded.part("LV")
        assert isinstance(left, Ventricle)
        return banded.with_part("LV", active_stress_mmhg=left.active_stress_mmhg * self.supplied)

    def beat(self, age_days: float, walls: Walls) -> Sensed:
        """The beat at which strength and supply agree."""
        sensed = super().beat(age_days, walls)
        for _ in range(MOST_ROUNDS):
            wanted = share_supplied(burden_of(sensed.readings), self.healthy)
            moved = STRIDE * (wanted - self.supplied)
            if float(np.abs(moved).max()) < SETTLED:
                break
            self.supplied = self.supplied + moved
            sensed = super().beat(age_days, walls)
        return sensed


def burden_of(readings: Readings) -> Burden:
    """What a left ventricle bears and what its coronaries draw from."""
    place = [part.name for part in readings.circuit.parts].index("AoU")
    stress = readings.part("LV", STRESS_MEAN)
    return Burden(
        mean_stress_mmhg=stress,
        rate_per_min=np.broadcast_to(readings.circuit.rate_per_min, stress.shape),
        drive_mmhg=readings.diastolic_mmhg("AoU") - readings.mean_mmhg("RA"),
        content_ml_ml=readings.oxygen.content[:, place],
    )


def failing_limb(
    constants: Constants | None = None, law: str = DEFAULT, lumens_mm: tuple[float, ...] = LUMENS_MM
) -> dict[str, Floats]:
    """Supply, pressure, ratio, ejection and gain by hours (rows) and lumens (columns).

    Parameters
    ----------
    constants : numbers under trial; the packaged ones when not given
    law : growth law that the walls follow
    lumens_mm : of the bands

    Returns
    -------
    dict of str to array, shape (``AFTER_DAYS``, lumens); ``before`` values have one row
    """
    numbers, age = constants or Constants(), scenario()["band_age"]
    baby = baby_of(plain_after_septostomy(), numbers, law)
    before = course(baby, [age])[0]
    count = np.zeros(len(lumens_mm), dtype=np.int64)
    strained = Strained(
        middle().at(count),
        replace(baby.story, breaks_days=()),
        constants=numbers,
        law=law_named(law, numbers.laws[law]),
    )
    strained.lumens_mm = np.array(lumens_mm)
    strained.healthy = burden_of(newborn_readings(numbers.newborn))
    strained.supplied = np.ones(len(lumens_mm))
    walls = before.walls.at(count)
    rows = [
        _row(strained, stop.sensed, stop.walls, walls)
        for stop in walk(
            strained.beat,
            walls,
            law=strained.law,
            who=strained.individual(),
            body=strained.body(),
            start_days=age,
            stops_days=[age + days for days in AFTER_DAYS],
        )
    ]
    told = {name: np.stack([row[name] for row in rows]) for name in rows[0]}
    return told | {"ef_before_pct": before.readings.ejection_pct("LV")}


def _row(baby: Strained, sensed: object, walls: Walls, start: Walls) -> dict[str, Floats]:
    assert isinstance(sensed, Sensed)
    readings = sensed.readings
    return {
        "supplied": share_supplied(burden_of(readings), baby.healthy),
        "lv_systolic_mmhg": readings.systolic_mmhg("LV"),
        "ratio": readings.pressure_ratio,
        "ef_pct": readings.ejection_pct("LV"),
        "lung_flow_ml_s": readings.lung_flow_ml_s,
        "mass_gain_pct": 100.0 * (walls.left.mass_g / start.left.mass_g - 1.0),
    }
