"""What must hold for every repair: mirrors, turns and scale."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inseries.repair import (
    Wall,
    code_on,
    polygon_mm2,
    solve_rods,
    trousers,
    two_roots,
)

ANGLES = st.floats(-100.0, 100.0)


def _solved(span, first, last, free, radius):
    return solve_rods(
        span_mm=np.array([span]),
        first=np.array([first]),
        last=np.array([last]),
        free_mm=np.array([free]),
        radius_mm=np.array([radius]),
    )


def _turned(vector, degrees):
    c, s = np.cos(np.deg2rad(degrees)), np.sin(np.deg2rad(degrees))
    return np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]]) @ np.asarray(vector)


ROD = ([3.0, 2.5, 0.8], [1.0, 0.0, 0.0], [0.3, 0.95, 0.0])


@settings(max_examples=12, deadline=None)
@given(st.floats(-170.0, 170.0))
def test_a_turned_rod_bends_alike(degrees: float) -> None:
    """Turning ends and directions about the upright changes neither length nor curvature."""
    here = _solved(*ROD, 5.0, 0.6)
    there = _solved(*(_turned(vector, degrees) for vector in ROD), 5.0, 0.6)
    assert there.length_mm == pytest.approx(here.length_mm, rel=1e-5)
    assert there.curvature_per_mm == pytest.approx(here.curvature_per_mm, rel=1e-4)


def test_a_mirrored_rod_bends_alike_and_turns_the_other_way() -> None:
    """The mirror image has the same course and the opposite rotation."""
    flip = np.array([-1.0, 1.0, 1.0])
    here, there = _solved(*ROD, 5.0, 0.6), _solved(*(flip * v for v in ROD), 5.0, 0.6)
    assert there.curvature_per_mm == pytest.approx(here.curvature_per_mm, rel=1e-4)
    assert there.turn_deg == pytest.approx(-here.turn_deg, rel=1e-3, abs=1e-3)


@settings(max_examples=12, deadline=None)
@given(st.floats(0.5, 3.0))
def test_a_larger_rod_bends_less_in_proportion(scale: float) -> None:
    """Scaling all lengths scales the path and divides the curvature."""
    span, first, last = ROD
    here = _solved(span, first, last, 5.0, 0.6)
    there = _solved(scale * np.array(span), first, last, scale * 5.0, scale * 0.6)
    assert there.length_mm == pytest.approx(scale * here.length_mm, rel=1e-5)
    assert there.curvature_per_mm * scale == pytest.approx(here.curvature_per_mm, rel=1e-4)


@settings(max_examples=30, deadline=None)
@given(ANGLES, st.floats(0.7, 1.5), st.floats(5.0, 115.0), st.floats(5.0, 115.0))
def test_codes_turn_with_the_roots_and_swap_in_the_mirror(
    relation: float, ratio: float, left: float, right: float
) -> None:
    """A code depends on no turn of the whole; a mirror exchanges sinus 1 and 2."""
    codes = []
    for sign in (1.0, -1.0):
        roots = two_roots(aortic_mm=9.0, pulmonary_mm=9.0 * ratio, relation_deg=sign * relation)
        facing = roots.aortic.commissure_deg
        at = {"L": facing - sign * left, "Cx": facing - sign * left, "R": facing + sign * right}
        codes.append(code_on(roots.aortic, roots.pulmonary.centre_mm, at))
    assert codes == ["1LCx-2R", "1R-2LCx"]


@settings(max_examples=20, deadline=None)
@given(st.floats(0.6, 2.0), st.floats(0.7, 1.4))
def test_patches_scale_as_areas_do(scale: float, taper: float) -> None:
    """All lengths of the sewn piece times a scale give its area times the square."""
    areas = [
        polygon_mm2(
            trousers(
                Wall(lower_mm=10.0 * k, upper_mm=10.0 * taper * k, height_mm=5.0 * k),
                (6.0 * k, 6.0 * k),
                7.0 * k,
                9.0 * k,
            ).stitch_mm
        )
        for k in (1.0, scale)
    ]
    assert areas[1] == pytest.approx(scale**2 * areas[0], rel=1e-6)
