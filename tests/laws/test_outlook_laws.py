"""Laws of a repaired site that hold whatever its share of patch, growth fraction and pull."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from inseries.outlook import Frame, frame_of, gradient_mmhg, site_courses, start_of, tensions
from inseries.outlook.weighed import rows_by

shares = st.floats(0.05, 1.0)
gaps = st.floats(0.0, 12.0)


@cache
def _frame() -> Frame:
    return frame_of("female", z=0.0, operation_days=7.0, draws=6, seed=2, digest="law").middle()


def _inert(share: float, gap: float) -> np.ndarray:
    start = replace(start_of(_frame(), relation_deg=30.0), patch_share=share, gap_mm=gap)
    return site_courses(_frame(), start, tensions(_frame(), start))[-1].site_mm[:, 0]


@settings(max_examples=40, deadline=None)
@given(shares, shares, gaps)
def test_less_native_wall_never_grows_wider(one: float, other: float, gap: float) -> None:
    """Of two shares that cannot grow the larger leaves the narrower site at every age."""
    few, many = sorted((one, other))
    assert np.all(_inert(few, gap) >= _inert(many, gap) - 1e-9)


@settings(max_examples=40, deadline=None)
@given(shares, gaps, gaps)
def test_more_pull_never_helps(share: float, one: float, other: float) -> None:
    """Of two gaps the wider leaves the narrower site and the higher gradient in the branches."""
    start = start_of(_frame(), relation_deg=30.0, patch_share=share)
    slack, pulled = (
        site_courses(_frame(), s, tensions(_frame(), s))
        for s in (replace(start, gap_mm=gap) for gap in sorted((one, other)))
    )
    for less, more in zip(slack, pulled, strict=True):
        assert np.all(less.site_mm >= more.site_mm - 1e-9)
        assert np.all(less.branch <= more.branch + 1e-9)


@given(st.floats(0.6, 1.6), st.floats(0.2, 2.0), st.floats(0.2, 2.0))
def test_a_gradient_falls_with_the_diameter(velocity: float, one: float, other: float) -> None:
    """The wider vessel has the lower gradient, by the fourth power of the diameter."""
    small, large = (
        float(gradient_mmhg(np.array(velocity), np.array(d))) for d in sorted((one, other))
    )
    assert small >= large
    assert np.isclose(small / large, (max(one, other) / min(one, other)) ** 4)


@given(st.lists(st.floats(-5.0, 5.0), min_size=3, max_size=40), st.floats(-6.0, 6.0))
def test_weighing_takes_only_draws_that_are_there(values: list[float], seen: float) -> None:
    """Rows lie within the draws; between one and all of them count."""
    rows, count = rows_by(np.array([values]), np.array([seen]), np.array([1.0]))
    assert rows.size == len(values)
    assert rows.min() >= 0
    assert rows.max() < len(values)
    assert 1.0 - 1e-9 <= count <= len(values) + 1e-9
