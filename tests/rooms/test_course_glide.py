"""Long steps near rest: they end where short ones end, and stiff walls do not swing."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest

from inseries.course.glide import Stride, glide
from inseries.course.laws import EmptiedStretch, Individual, MeanStress
from inseries.course.walk import Body, Pace, walk
from inseries.course.walls import Walls, wall

ONES = np.ones(2)
USUAL = Individual(set_point=ONES, gain_rate=ONES, loss_rate=ONES)
BODY = Body(
    surface_m2=lambda age: ONES * (0.22 + 0.0006 * age),
    usual_volume_ml=lambda age, _side: ONES * (4.8 + 0.01 * age),
)


@dataclass(slots=True)
class Felt:
    """An invented heart: stress falls as mass over cavity rises, at a pressure that goes up."""

    age: float
    walls: Walls

    def load(self, side: str) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """Mean stress, filled and emptied stretch."""
        one = getattr(self.walls, side)
        size = 1.0 + 0.002 * self.age
        stress = 104.0 * size * one.unloaded_volume_ml / one.mass_g * 1.3
        filled = 1.176 * (size * 5.0 / one.unloaded_volume_ml) ** 0.2
        emptied = 0.92 * (stress / 104.0) ** 0.3 * one.strength**-0.2
        return stress, filled, emptied


BEATS: list[float] = []


def _beat(age: float, walls: Walls) -> Felt:
    BEATS.append(age)
    return Felt(age, walls)


def _start(mass: float) -> Walls:
    return Walls(left=wall(mass * ONES, 4.8 * ONES), right=wall(6.0 * ONES, 4.8 * ONES))


LAWS = pytest.mark.parametrize("law", [MeanStress(), EmptiedStretch()], ids=lambda law: law.name)
STOPS = (30.0, 60.0, 150.0, 365.0)


@LAWS
@pytest.mark.parametrize("mass", [5.0, 8.5])
def test_long_steps_end_where_short_ones_do(law: MeanStress, mass: float) -> None:
    """From too thin and too thick a wall, mass on later days agrees with short explicit steps."""
    known = {"law": law, "who": USUAL, "body": BODY, "start_days": 20.0, "stops_days": STOPS}
    pace = Pace(shortest_days=0.05, longest_days=0.5, largest_change=0.02)
    BEATS.clear()
    short = list(walk(_beat, _start(mass), pace=pace, **known))  # type: ignore[arg-type]
    many = len(BEATS)
    BEATS.clear()
    long = list(glide(_beat, _start(mass), **known))  # type: ignore[arg-type]
    assert len(BEATS) < many / 5
    for one, other in zip(short, long, strict=True):
        # the first stop lies within the days of fast growth, where long steps are coarse
        near = 0.06 if one.age_days < 60.0 else 0.03
        assert other.walls.left.mass_g == pytest.approx(one.walls.left.mass_g, rel=near)
    assert long[-1].walls.left.mass_g == pytest.approx(short[-1].walls.left.mass_g, rel=0.01)


@LAWS
def test_every_stop_is_met_and_strength_stays_in_bounds(law: MeanStress) -> None:
    """Stops come at the asked ages in order; no mass falls to nothing."""
    stops = list(
        glide(
            _beat,
            _start(6.0),
            law=law,
            who=USUAL,
            body=BODY,
            start_days=20.0,
            stops_days=(20.0, 20.5, 90.0),
            stride=Stride(first_days=5.0, growth=2.0, longest_days=40.0),
        )
    )
    assert [stop.age_days for stop in stops] == [20.0, 20.5, 90.0]
    assert all(float(stop.walls.left.mass_g.min()) > 3.0 for stop in stops)
    assert all(0.5 < float(stop.walls.left.strength.min()) < 1.3 for stop in stops)
