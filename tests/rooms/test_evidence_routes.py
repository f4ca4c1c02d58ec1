"""What was published of each route: rows and long-term curves, with who is counted."""

from __future__ import annotations

import pytest

from inseries.base.sources import bibliography
from inseries.evidence.curves import curves, curves_after
from inseries.evidence.rows import Topic, rows_on

ROUTES = (Topic.TWO_STAGE, Topic.LATE_PRIMARY, Topic.SUPPORT, Topic.ATRIAL_SWITCH)


@pytest.mark.parametrize("topic", ROUTES)
def test_each_route_has_published_rows(topic: Topic) -> None:
    """A route that was tried has rows whose sources are listed."""
    found = rows_on(topic)
    assert found
    assert {row.source for row in found} <= set(bibliography())


def test_conditioning_says_that_nothing_was_found() -> None:
    """Hours of conditioning have no number to lean on, and the row says so."""
    (row,) = rows_on(Topic.CONDITIONING)
    assert row.value is None
    assert "No series" in row.text


def test_two_stages_tell_the_losses_of_both() -> None:
    """Deaths after the band stand beside deaths after the switch that followed."""
    (row,) = [row for row in rows_on(Topic.TWO_STAGE) if row.source == "yacoub1980"]
    assert "3 of 20" in row.text
    assert "4 of the 14" in row.text


@pytest.mark.parametrize("curve", curves(), ids=lambda curve: curve.id)
def test_a_curve_says_who_is_counted(curve: object) -> None:
    """Points rise in years and fall in per cent; denominator, population and source stand there."""
    from inseries.evidence.curves import Curve

    assert isinstance(curve, Curve)
    assert len(curve.ages_y) == len(curve.pct) > 0
    assert list(curve.ages_y) == sorted(curve.ages_y)
    assert list(curve.pct) == sorted(curve.pct, reverse=True)
    assert all(0.0 < value <= 100.0 for value in curve.pct)
    assert curve.denominator
    assert curve.population
    assert curve.source in bibliography()


def test_survivors_and_all_operated_are_told_apart() -> None:
    """Both kinds of denominator are there after either operation, each named."""
    for route in ("arterial_switch", "atrial_switch"):
        alive = [curve for curve in curves_after(route) if curve.of == "alive"]
        assert any("all operated" in curve.denominator for curve in alive)
        assert any("survivors only" in curve.denominator for curve in alive)


def test_no_curve_of_an_unknown_route() -> None:
    """Nothing is made up for a route without curves."""
    assert curves_after("band") == ()
