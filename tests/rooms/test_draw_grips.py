"""What a page may take hold of in a picture: places that fit what is drawn, and nothing seen."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import pytest
from rooms.draw_samples import ATRIAL, DUCTAL, loops, window
from rooms.svg_reading import faults, named, root_of

from inseries.draw.life_line import LifeView, life_svg, place
from inseries.draw.ribbons import ribbon_svg
from inseries.draw.window_curve import in_fives, window_svg

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element


def _carrying(svg: str, attribute: str) -> list[Element]:
    return [each for each in named(root_of(svg), "g") if each.get(attribute)]


def _between(places: list[tuple[float, float]], value: float) -> float:
    """Place of a value on a scale that is straight between its bends, as a page reads it."""
    for (x, low), (end, high) in pairwise(places):
        if low <= value <= high:
            return x + (end - x) * (value - low) / (high - low)
    raise AssertionError


def _places(axis: Element) -> list[tuple[float, float]]:
    pairs = (pair.split(",") for pair in axis.get("data-places", "").split())
    return [(float(x), float(value)) for x, value in pairs]


@pytest.mark.parametrize("compact", [False, True])
def test_the_window_tells_each_day_in_the_words_of_the_page(compact: bool) -> None:
    """For each tier as many words as days; each begins with the chance, at its curve's height."""
    view = window()
    svg = window_svg(view, compact=compact)
    told = _carrying(svg, "data-told")
    assert [each.get("data-name") for each in told] == [tier.name for tier in view.tiers]
    for tier, each in zip(view.tiers, told, strict=True):
        words = each.get("data-words", "").split("|")
        days = [float(day) for day in each.get("data-values", "").split()]
        heights = [float(y) for y in each.get("data-heights", "").split()]
        assert days == pytest.approx(list(view.days), abs=0.01)
        assert [w.split(" (")[0] for w in words] == [in_fives(c) for c in tier.chance]
        order = sorted(range(len(days)), key=lambda i: tier.chance[i])
        assert [heights[i] for i in order] == sorted(heights, reverse=True)
    assert faults(svg, "window") == []


def test_a_handle_runs_along_the_life_line() -> None:
    """Between its bends the scale is as good as straight: no day is off by a drawing unit."""
    (axis,) = _carrying(life_svg(LifeView(marks=(), spans=())), "data-axis")
    places = _places(axis)
    for day in (0.5, 1.0, 9.0, 33.0, 77.0, 199.0):
        assert _between(places, day) == pytest.approx(place(day), abs=1.0)


def test_a_closed_duct_can_still_be_pulled_open() -> None:
    """Septum and duct carry their size; a closed duct is there with nothing."""
    both = _carrying(ribbon_svg(loops(crossings=(ATRIAL, DUCTAL))), "data-pull")
    assert [each.get("data-pull") for each in both] == ["atrial", "ductal"]
    assert float(both[0].get("data-value", "")) == pytest.approx(ATRIAL.size_mm, abs=0.01)
    closed = _carrying(ribbon_svg(loops(crossings=(ATRIAL,))), "data-pull")
    assert [each.get("data-value") for each in closed] == [both[0].get("data-value"), "0"]
