"""What a case says of blood and breath, and what draws make of it."""

from __future__ import annotations

import numpy as np
import pytest
from rooms.prior_samples import baby_case, reading

from inseries.norms.blood import fetal_haemoglobin
from inseries.prior.baby import Baby
from inseries.prior.from_case import GAS_HELD_DAYS, story_of
from inseries.prior.plain import plain_story
from inseries.prior.traits import middle


def test_without_a_word_air_is_breathed() -> None:
    """Nothing recorded: air, normal carbon dioxide and pH, the usual fetal share."""
    story = story_of(baby_case())
    for age in (0.0, 3.0, 30.0):
        assert story.inspired_fraction(age) == pytest.approx(0.21)
        assert story.carbon_dioxide_mmhg(age) == 40.0
        assert story.ph(age) == 7.4
        assert story.fetal_share(age) == pytest.approx(fetal_haemoglobin(age).value, abs=0.01)


def test_inspired_oxygen_holds_for_a_day() -> None:
    """A recorded gas is breathed from its reading for a day, then air again."""
    story = story_of(baby_case(reading(24, inspired_oxygen_pct=60)))
    assert story.inspired_fraction(0.9) == pytest.approx(0.21)
    assert story.inspired_fraction(1.0) == pytest.approx(0.6)
    assert story.inspired_fraction(1.0 + 0.9 * GAS_HELD_DAYS) == pytest.approx(0.6)
    assert story.inspired_fraction(1.0 + 1.1 * GAS_HELD_DAYS) == pytest.approx(0.21)


def test_a_new_reading_ends_the_old_one() -> None:
    """Read again within the day, the new gas counts from there."""
    story = story_of(
        baby_case(reading(24, inspired_oxygen_pct=80), reading(30, inspired_oxygen_pct=30))
    )
    assert story.inspired_fraction(29 / 24) == pytest.approx(0.8)
    assert story.inspired_fraction(31 / 24) == pytest.approx(0.3)
    assert story.inspired_fraction(50 / 24) == pytest.approx(0.3)
    assert story.inspired_fraction(55 / 24) == pytest.approx(0.21)


def test_transfusions_lower_the_fetal_share_one_after_another() -> None:
    """Each takes its part of what the one before left, and none works backwards."""
    given = [reading(h, transfused_ml=50, haemoglobin_g_dl=15) for h in (48, 96)]
    story = story_of(baby_case(*given))
    usual = story_of(baby_case()).fetal_share
    kept = 1.0 - 50.0 / story.weight_kg(2.0) * 20.0 / (90.0 * 15.0)
    assert story.fetal_share(1.0) == pytest.approx(usual(1.0))
    assert story.fetal_share(3.0) == pytest.approx(kept * usual(3.0), rel=1e-3)
    assert story.fetal_share(20.0) == pytest.approx(kept**2 * usual(20.0), rel=0.02)


def test_breath_and_blood_reach_the_circuit() -> None:
    """The circuit of a day has that day's gas, pH and fetal share."""
    story = story_of(baby_case(reading(24, inspired_oxygen_pct=50, ph=7.2, pco2_mmhg=55)))
    baby = Baby(middle(), story)
    blood = baby.circuit(1.1, baby.walls_at_birth()).blood
    told = (blood.inspired_fraction, blood.ph, blood.carbon_dioxide_mmhg)
    assert told == pytest.approx((0.5, 7.2, 55.0))
    assert blood.fetal_share == pytest.approx(story.fetal_share(1.1))


def test_inspired_oxygen_raises_lung_vein_saturation() -> None:
    """A baby in 60 % oxygen has redder lung veins and arms than the same baby in air."""
    story = story_of(baby_case(reading(24, inspired_oxygen_pct=60, atrial_defect_mm=5)))
    air = story_of(baby_case(reading(24, atrial_defect_mm=5)))
    rich, plain = (
        Baby(middle(), each).beat(1.1, Baby(middle(), each).walls_at_birth()).readings
        for each in (story, air)
    )
    for part in ("PV", "LA", "AoU"):
        assert rich.saturation_pct(part) > plain.saturation_pct(part) + 1.0
    assert np.all(rich.po2_mmhg("PV") > plain.po2_mmhg("PV") + 50.0)


def test_plain_stories_grow_out_of_fetal_blood() -> None:
    """Through four months the fetal share only falls."""
    shares = [plain_story().fetal_share(day) for day in range(0, 200, 5)]
    assert shares == sorted(shares, reverse=True)
    assert shares[0] == pytest.approx(0.8)
    assert shares[-1] < 0.2
