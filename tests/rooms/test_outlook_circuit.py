"""The outlook in the whole circuit: right ventricle behind a narrow site, coronary reserve."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from inseries.outlook import (
    Frame,
    Reserve,
    SiteCourse,
    Ventricle,
    frame_of,
    ostium_course,
    reserve_curve,
    site_courses,
    start_of,
    tensions,
    ventricle_at,
)
from inseries.prior.traits import drawn

MEMBERS = 4  # chosen: draws of the circuit, few enough for a test
YEARS = (1.0, 18.0)


@cache
def _frame() -> Frame:
    return frame_of("male", z=0.0, operation_days=8.0, draws=24, seed=1, digest="invented")


def _courses(patch_share: float) -> tuple[SiteCourse, ...]:
    start = start_of(_frame(), relation_deg=30.0, patch_share=patch_share, gap_mm=0.0)
    return site_courses(_frame(), start, tensions(_frame(), start))


@cache
def _both() -> tuple[tuple[Ventricle, ...], ...]:
    """A direct join without tension, and a whole ring that cannot grow."""
    courses = _courses(1.0)
    traits = drawn(MEMBERS, 1, "invented", "outlook circuit")
    return ventricle_at(_frame(), (courses[0], courses[-1]), YEARS, traits)


def test_a_narrow_ring_loads_the_right_ventricle() -> None:
    """Behind a ring that cannot grow pressure, ratio, drop and wall are higher in every draw."""
    direct, ring = (repair[1] for repair in _both())
    for name in ("rv_systolic_mmhg", "outflow_mmhg", "rv_mass_g_m2"):
        assert np.all(getattr(ring, name) > getattr(direct, name))
    assert np.all(ring.ratio > direct.ratio)


def test_a_slack_direct_join_leaves_a_usual_right_ventricle() -> None:
    """Right ventricular systolic pressure stays below 0.6 of the left's, the wall below 40 g/m2."""
    for at in _both()[0]:
        assert np.all(at.settled == 1.0)
        assert np.median(at.ratio) < 0.6
        assert np.median(at.rv_mass_g_m2) < 40.0


def test_the_lungs_share_as_usual_without_unequal_branches() -> None:
    """The right lung gets a little more than half."""
    for at in _both()[0]:
        assert at.right_share == pytest.approx(0.525, abs=0.02)


def test_the_wall_is_at_rest(monkeypatch: pytest.MonkeyPatch) -> None:
    """Searched four times as long, mass moves by less than a tenth in half of the draws."""
    from inseries.outlook import repaired

    courses = (_courses(1.0)[0],)
    traits = drawn(MEMBERS, 1, "invented", "outlook circuit")
    (near,) = ventricle_at(_frame(), courses, (5.0,), traits)
    monkeypatch.setattr(repaired, "STEPS_FIRST", 24)
    (far,) = ventricle_at(_frame(), courses, (5.0,), traits)
    assert np.median(np.abs(np.log(far[0].rv_mass_g_m2 / near[0].rv_mass_g_m2))) < 0.1
    assert np.abs(far[0].rv_systolic_mmhg - near[0].rv_systolic_mmhg).max() < 5.0


def test_no_draw_runs_wild() -> None:
    """In every draw the right ventricle drives its lung artery, soft lungs included."""
    courses = (_courses(0.4)[0],)
    traits = drawn(24, 1, "invented", "outlook circuit")
    (told,) = ventricle_at(_frame(), courses, (1.0,), traits)
    assert np.all(told[0].settled == 1.0)
    assert np.all(told[0].rv_systolic_mmhg > 15.0)


@cache
def _curve() -> Reserve:
    return reserve_curve(_frame(), 5.0)


def test_reserve_falls_with_every_narrowing() -> None:
    """Flow reserve and pressure beyond the opening fall with each narrowing."""
    curve = _curve()
    assert np.all(np.diff(curve.reserve, axis=1) < 0.0)
    assert np.all(np.diff(curve.pressure_ratio, axis=1) <= 0.0)


def test_more_hyperaemia_shows_a_narrowing_more() -> None:
    """Wider small vessels raise the flow and lower the pressure beyond the opening."""
    curve = _curve()
    assert np.all(np.diff(curve.reserve[:, 0]) > 0.0)
    assert np.all(np.diff(curve.pressure_ratio[:, 3]) < 0.0)


def test_an_open_ostium_costs_next_to_nothing() -> None:
    """Pressure beyond a usual opening is above 0.9 of the aorta's, reserve between 2 and 5."""
    curve = _curve()
    assert np.all(curve.pressure_ratio[:, 0] > 0.9)
    assert np.all((curve.reserve[:, 0] > 2.0) & (curve.reserve[:, 0] < 5.0))


def test_the_table_is_read_between_its_points() -> None:
    """At a point of the table it gives the table; between two it lies between."""
    curve = _curve()
    at = curve.at(curve.reserve, np.array([45.0]), np.array([4.0]))
    assert at == pytest.approx([curve.reserve[2, 2]])
    between = curve.at(curve.reserve, np.array([37.0]), np.array([4.0]))[0]
    assert curve.reserve[2, 2] < between < curve.reserve[2, 1]


def test_the_opening_falls_behind_with_the_years() -> None:
    """The middle narrowing grows with age, as the opening's Z was seen to fall (fontos_ostium)."""
    middle = [float(np.median(each.narrowing_pct)) for each in ostium_course(_frame())]
    assert middle == sorted(middle)
