"""Things done to a baby on its time line, and the baby walked on under them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from inseries.base.errors import RouteNotPossible
from inseries.prior.actions import Action, Kind, with_actions
from inseries.prior.baby import Baby
from inseries.prior.forecast import forecast, some
from inseries.prior.narrow import Narrowed
from inseries.prior.plain import plain_story
from inseries.prior.traits import drawn

STORY = replace(plain_story(), septostomy_day=0.5, breaks_days=(0.5, 4.0))
TODAY = 6.0


@pytest.fixture(scope="module")
def today() -> Narrowed:
    """Six draws of a plain baby, walked from birth to day 6."""
    baby = Baby(drawn(6, 1, "plain", "actions"), STORY)
    born = Narrowed(
        baby=baby,
        walls=baby.walls_at_birth(),
        age_days=0.0,
        effective_draws=6.0,
        narrowing_failed=0.0,
        readings_used=0,
    )
    return forecast(born, ages_days=[TODAY]).after(born, 0)


def test_a_band_loads_the_left_ventricle_and_it_grows(today: Narrowed) -> None:
    """In every draw pressure rises at once under a band, and mass within days."""
    ages = [TODAY, 7.0, 14.0]
    plain = forecast(today, ages_days=ages).days
    banded = forecast(today, [Action(kind=Kind.BAND, age_days=7.0, size=4.6)], ages_days=ages).days
    pressure = [days[1].readings.systolic_mmhg("LV") for days in (plain, banded)]
    mass = [days[2].walls.left.mass_g for days in (plain, banded)]
    assert (pressure[1] > pressure[0] + 5.0).all()
    assert (mass[1] > 1.05 * mass[0]).all()


def test_a_switch_on_the_time_line_is_the_operation(today: Narrowed) -> None:
    """From its day on the upper body gets the lungs' blood; weakness passes within days."""
    ages = [6.9, 7.0, 9.0, 17.0]
    days = forecast(today, [Action(kind=Kind.SWITCH, age_days=7.0)], ages_days=ages).days
    saturation = [np.median(day.readings.saturation_pct("AoU")) for day in days]
    ejection = [np.median(day.readings.ejection_pct("LV")) for day in days]
    assert saturation[0] < 90.0
    assert saturation[1] > 95.0
    assert ejection[1] < ejection[2] < ejection[3]


def test_an_atrial_switch_leaves_the_right_ventricle_the_body(today: Narrowed) -> None:
    """Saturation is mended and the right ventricle still bears the higher pressure."""
    day = forecast(today, [Action(kind=Kind.ATRIAL_SWITCH, age_days=7.0)], ages_days=[7.0]).days[0]
    assert (day.readings.saturation_pct("AoU") > 93.0).all()
    assert (day.readings.systolic_mmhg("RV") > day.readings.systolic_mmhg("LV") + 10.0).all()


def test_a_shunt_feeds_the_lungs(today: Narrowed) -> None:
    """Upper saturation rises with a shunt, and the body gives flow away for it."""
    action = Action(kind=Kind.SHUNT, age_days=7.0, size=3.5)
    before, after = (forecast(today, a, ages_days=[7.0]).days[0].readings for a in ((), [action]))
    assert (after.saturation_pct("AoU") > before.saturation_pct("AoU")).all()
    assert (after.flow_ml_s("shunt") > 0.0).all()


def test_the_future_does_not_touch_the_past(today: Narrowed) -> None:
    """Days before an action are those without it."""
    ages = [TODAY, 6.5, 7.5]
    plain = forecast(today, ages_days=ages).days
    opened = forecast(
        today, [Action(kind=Kind.PROSTAGLANDIN, age_days=7.0, until_days=9.0)], ages_days=ages
    ).days
    for place in (0, 1):
        one, other = (days[place].walls.left.mass_g for days in (plain, opened))
        assert one == pytest.approx(other, rel=1e-9)
    assert (
        opened[2].readings.saturation_pct("AoU") > plain[2].readings.saturation_pct("AoU")
    ).all()


def test_prostaglandin_that_stops_lets_the_duct_close() -> None:
    """Open while given, closing over two days after, shut for good then."""
    given = Action(kind=Kind.PROSTAGLANDIN, age_days=7.0, until_days=9.0)
    duct = with_actions(STORY, [given]).duct_mm
    assert [duct(age) for age in (6.9, 7.0, 8.9, 10.0, 11.1, 300.0)] == [0, 3, 3, 1.5, 0, 0]


def test_some_draws_are_spread_over_all(today: Narrowed) -> None:
    """A coarse look keeps the first and the last draw, and never more than there are."""
    few = some(today, 3)
    assert few.baby.traits.members == 3
    assert (few.baby.traits.z[[0, -1]] == today.baby.traits.z[[0, -1]]).all()
    assert some(today, 60).baby.traits.members == 6


REFUSED = {
    "before_birth": [Action(kind=Kind.SWITCH, age_days=-1.0)],
    "beyond_norms": [Action(kind=Kind.SWITCH, age_days=900.0)],
    "no_size": [Action(kind=Kind.BAND, age_days=9.0)],
    "not_positive": [Action(kind=Kind.BAND, age_days=9.0, size=0.0)],
    "ends_early": [Action(kind=Kind.OXYGEN, age_days=9.0, until_days=8.0)],
    "one_hour": [
        Action(kind=Kind.SWITCH, age_days=9.0),
        Action(kind=Kind.BAND, age_days=9.01, size=5.0),
    ],
    "after_repair": [
        Action(kind=Kind.SWITCH, age_days=9.0),
        Action(kind=Kind.BAND, age_days=12.0, size=5.0),
    ],
}


@pytest.mark.parametrize("code", REFUSED)
def test_what_cannot_be_done_is_refused(code: str) -> None:
    """With its reason, the age at which it was asked for, and what could be done."""
    with pytest.raises(RouteNotPossible) as refused:
        with_actions(STORY, REFUSED[code])
    assert refused.value.code == code
    assert refused.value.remedy


def test_a_narrow_outflow_is_not_narrowed_twice() -> None:
    """A left outflow that is recorded as narrow takes no second narrowing."""
    narrow = replace(STORY, outflow="dynamic")
    with pytest.raises(RouteNotPossible):
        with_actions(narrow, [Action(kind=Kind.OUTFLOW, age_days=9.0, size=5.0)])
