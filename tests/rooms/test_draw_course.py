"""The ventricle over age: every reading stands where it was measured, nothing overlaps."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rooms.svg_reading import faults, named, root_of

from inseries.base.errors import OutputError
from inseries.draw.axes import age_ticks, apart, lanes, value_ticks
from inseries.draw.ventricle_course import ventricle_svg
from inseries.draw.views import CourseLine, Measured, VentricleView


def _view(*lines: CourseLine, days: tuple[float, ...] = (0.0, 10.0, 30.0)) -> VentricleView:
    return VentricleView(
        title="The left ventricle",
        days=days,
        lines=lines,
        today_day=9,
        sentence="Invented course.",
        figure_id="course",
    )


def _line(**changes: object) -> CourseLine:
    fields: dict[str, object] = {
        "name": "LV mass",
        "unit": "g",
        "value": (9.0, 9.1, 8.8),
        "low": (8.0, 8.1, 7.5),
        "high": (10.0, 10.2, 10.6),
        "measured": (Measured(day=9, value=9.1, method="echo-2d"),),
    }
    return CourseLine(**(fields | changes))  # type: ignore[arg-type]


def test_reading_stands_on_the_axis() -> None:
    """A reading's dot lies at its age and value, measured against the labels."""
    root = root_of(ventricle_svg(_view(_line())))
    places = {e.text: (float(e.get("x", "0")), float(e.get("y", "0"))) for e in named(root, "text")}
    dot = named(root, "circle")[0]
    x0, x1 = places["0"][0], places["14"][0]
    y0, y1 = places["8"][1] - 5, places["11"][1] - 5
    assert float(dot.get("cx", "0")) == pytest.approx(x0 + (x1 - x0) * 9 / 14, abs=0.05)
    assert float(dot.get("cy", "0")) == pytest.approx(y0 + (y1 - y0) * (9.1 - 8) / 3, abs=0.05)


def test_lengths_must_agree() -> None:
    """A course with fewer values than days is refused."""
    with pytest.raises(OutputError):
        ventricle_svg(_view(_line(value=(1.0, 2.0))))


values = st.floats(-5, 500)


@settings(max_examples=60)
@given(st.lists(st.tuples(values, values, values), min_size=1, max_size=5), st.floats(2, 300))
def test_any_course_can_be_drawn(rows: list[tuple[float, ...]], last: float) -> None:
    """Whatever the numbers, the picture is well formed and no text overlaps or is cut."""
    lines = tuple(_line(name="LV:RV ratio", value=row, low=row, high=row) for row in rows)
    assert not faults(ventricle_svg(_view(*lines, days=(0.0, 1.0, last))), "course")


@given(values, values)
def test_ticks_enclose(low: float, high: float) -> None:
    """Axis labels reach from below the lowest to above the highest value, and are few."""
    low, high = min(low, high), max(low, high)
    ticks = value_ticks(low, high)
    assert ticks[0] <= low + 1e-6
    assert ticks[-1] >= high - 1e-6
    assert 2 <= len(ticks) <= 8


@given(st.floats(1, 400))
def test_ages_are_few_and_from_birth(last: float) -> None:
    """Ages are labelled from birth on, at most eleven of them."""
    ticks = age_ticks(last)
    assert ticks[0] == 0
    assert len(ticks) <= 11


@given(st.lists(st.tuples(st.floats(0, 900), st.floats(1, 200)), max_size=12))
def test_lanes_never_collide(spans: list[tuple[float, float]]) -> None:
    """No two spans in one lane touch."""
    placed = sorted((left, left + width) for left, width in spans)
    rows = lanes(placed, 5)
    for i, (left, _) in enumerate(placed):
        assert all(placed[j][1] + 5 <= left for j in range(i) if rows[j] == rows[i])


@given(st.lists(st.floats(0, 300), min_size=2, max_size=2))
def test_labels_keep_apart(wanted: list[float]) -> None:
    """Two labels end up at least their height apart and within bounds."""
    first, second = apart(sorted(wanted), 50, 0, 300)
    assert second - first >= 50 - 1e-9
    assert second <= 300
