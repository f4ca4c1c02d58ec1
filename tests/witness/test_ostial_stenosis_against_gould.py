"""A narrow coronary ostium, against dogs with a constrictor on the left circumflex artery.

Who: Gould 1974, abstract, 12 dogs: contrast raised flow to four times rest; with a constrictor the
raised flow began to fall at 30 to 45 % of the diameter, was gone at 88 to 93 %, and flow at rest
held up to 85 %. Diameters are taken as shares of an open ostium of 1.5 mm, in which blood moves as
fast as in the dog's artery. A newborn has half a dog's pressure to spend on a narrow place.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

import numpy as np
import pytest

from inseries.circuit.newborn import normal_newborn
from inseries.desk.experiments.coronary_bed import STENOSIS_PCT, flows_behind_ostium

if TYPE_CHECKING:
    from inseries.circuit.network import Floats


@cache
def _flows() -> tuple[Floats, Floats]:
    """Flow at rest and flow of a bed that asks for all it can get, over those of an open ostium."""
    return flows_behind_ostium(normal_newborn())


def _at(pct: float) -> int:
    return STENOSIS_PCT.index(pct)


def test_reserve_goes_first() -> None:
    """At 30 % the raised flow has lost less than a twentieth, at 45 % more; rest holds at 75 %."""
    resting, raised = _flows()
    assert raised[_at(30.0)] > 0.95 * raised[0]
    assert raised[_at(45.0)] < 0.95 * raised[0]
    assert resting[_at(75.0)] == pytest.approx(1.0, abs=0.01)


def test_flow_at_rest_falls_last() -> None:
    """Beyond 88 % nothing is left of the reserve, and flow at rest falls with it."""
    resting, raised = _flows()
    assert raised[_at(90.0)] == pytest.approx(resting[_at(90.0)], abs=0.01)
    assert resting[_at(93.0)] < resting[_at(90.0)] < 0.9


def test_every_narrowing_costs_reserve() -> None:
    """The raised flow falls with every step."""
    assert np.all(np.diff(_flows()[1]) < 0.0)


@pytest.mark.xfail(
    strict=True,
    reason="ours falls from 78 % on: 55 mmHg drive a newborn's flow through it, 100 a dog's",
)
def test_flow_at_rest_holds_to_the_published_narrowing() -> None:
    """At 85 % of the diameter flow at rest is within a twentieth of that of an open ostium."""
    assert _flows()[0][_at(85.0)] > 0.95


@pytest.mark.xfail(
    strict=True,
    reason="2.6 times: the coronary sinus does not widen, and lambs were seen to reach 2.4 only",
)
def test_the_reserve_is_that_of_a_dog() -> None:
    """With an open ostium the raised flow is between 3.5 and 4.5 times that of rest."""
    assert 3.5 < _flows()[1][0] < 4.5


def test_the_reserve_is_at_least_that_of_a_lamb() -> None:
    """Sidi 1981, abstract: lambs short of oxygen raise it from 183 to 438 mL/min/100 g."""
    assert _flows()[1][0] > 438.0 / 183.0
