"""Which readings narrow, what the model says for each, and how far apart the two may lie."""

from __future__ import annotations

import numpy as np
import pytest
from rooms.prior_samples import baby_case, reading

from inseries.circuit.newborn import parallel_newborn
from inseries.circuit.orbit import find_orbit
from inseries.circuit.readouts import Readings, read
from inseries.course.walls import Walls, wall
from inseries.prior.observe import PREDICTED, Observed, observed, reading_errors
from inseries.prior.traits import middle

NUMBERS = dict.fromkeys(PREDICTED, 40.0) | {"sao2_pct": 70.0, "spo2_right_hand_pct": 70.0}
# readings that must lie in a narrower range than 40
NUMBERS |= {"spo2_foot_pct": 72.0, "la_mean_mmhg": 8.0, "ra_mean_mmhg": 5.0, "lv_edv_ml": 8.0}
NUMBERS |= {"atrial_gradient_mmhg": 3.0, "lv_mass_g": 8.0, "lv_ef_pct": 65.0}
WALL = wall(np.array([6.0]), np.array([4.8]))
WALLS = Walls(left=WALL, right=WALL)


@pytest.fixture(scope="module")
def beat() -> Readings:
    """One beat of the reference baby with transposition."""
    return read(find_orbit(parallel_newborn()))


def _seen(**values: float | str) -> dict[str, Observed]:
    return {item.key: item for item in observed(baby_case(reading(20, **values)))}


def test_every_kind_of_reading_with_an_error_narrows(beat: Readings) -> None:
    """Each key with a stated error is used, at its age, with a finite model side."""
    told = _seen(**NUMBERS, septum_position="flat")
    used = {key for key in reading_errors() if not key.startswith("septum_")}
    assert set(told) == used | {"septum_position"}
    for item in told.values():
        assert item.age_days == pytest.approx(20 / 24)
        assert np.isfinite(item.predict(beat, WALLS, middle())).all(), item.key


def test_sizes_of_the_body_narrow_nothing() -> None:
    """Weight and blood are inputs, not readings of the circulation."""
    assert not _seen(weight_kg=3.3, haemoglobin_g_dl=15, lactate_mmol_l=3)


def test_the_error_is_that_of_the_reading_and_of_the_model() -> None:
    """Both add in squares; a stated deviation takes the place of the first."""
    own, model = reading_errors()["lv_mass_g"]
    assert _seen(lv_mass_g=8)["lv_mass_g"].sd == pytest.approx(np.hypot(own, model))
    stated = _seen(lv_mass_g=8, lv_mass_sd=0.3)["lv_mass_g"]
    assert stated.sd == pytest.approx(np.hypot(0.3, model))


def test_mass_is_compared_on_the_scale_of_its_method(beat: Readings) -> None:
    """Echo sees the drawn factor more than CMR does of the same wall."""
    echo, cmr = (
        _seen(lv_mass_g=8, lv_mass_method=method)["lv_mass_g"].predict(beat, WALLS, middle())
        for method in ("echo-2d", "cmr")
    )
    assert cmr == pytest.approx([6.0])
    assert echo / cmr == pytest.approx(middle()["echo_over_cmr"])


def test_a_bowed_septum_is_a_pressure_ratio(beat: Readings) -> None:
    """The further the septum bows toward the left, the lower the ratio it stands for."""
    words = ("toward_left", "flat", "toward_right")
    told = [_seen(septum_position=word)["septum_position"] for word in words]
    assert told[0].value < told[1].value < told[2].value
    assert told[0].predict(beat, WALLS, middle()) == pytest.approx(beat.pressure_ratio)


def test_saturations_are_taken_above_and_below_the_duct(beat: Readings) -> None:
    """The right hand speaks for the arch, the foot for the descending aorta."""
    told = _seen(spo2_right_hand_pct=70, spo2_foot_pct=72)
    hand, foot = (
        told[key].predict(beat, WALLS, middle()) for key in ("spo2_right_hand_pct", "spo2_foot_pct")
    )
    assert hand == pytest.approx(beat.saturation_pct("AoU"))
    assert foot == pytest.approx(beat.saturation_pct("AoD"))
