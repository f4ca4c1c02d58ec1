"""Legs redder than arms, by its first mechanism, against a published newborn.

Outside source: AJP Rep 2019;9:e235 (abstract): transposition with intact ventricular septum, a
tight foramen and high pressure in the lungs; 40 % in the arms, 90 % in the legs, corrected by
septostomy. One baby: the direction is asked, and the size within 15 points.
"""

from __future__ import annotations

from functools import cache

import pytest
from rooms.circuit_samples import HELD

from inseries.circuit.newborn import parallel_newborn
from inseries.circuit.orbit import FINE, find_orbit
from inseries.circuit.readouts import Readings, read
from inseries.routes import with_atrial_defect, with_duct

ARMS, LEGS, ONE_BABY = 40.0, 90.0, 15.0


@cache
def _seen(lung_factor: float, foramen_mm: float) -> Readings:
    circuit = with_duct(with_atrial_defect(parallel_newborn(), foramen_mm), 5.0)
    lungs = circuit.edge("lungs").resistance_mmhg_s_ml
    circuit = circuit.with_edge("lungs", resistance_mmhg_s_ml=lung_factor * lungs)
    return read(find_orbit(circuit, HELD, settings=FINE))


def _difference(seen: Readings) -> float:
    return float(seen.saturation_pct("AoD")[0] - seen.saturation_pct("AoU")[0])


def test_legs_are_redder_than_arms() -> None:
    """With tight lungs, a tight foramen and an open duct the legs are clearly redder."""
    seen = _seen(4.0, 2.0)
    assert seen.flow_ml_s("duct")[0] < 0.0
    assert _difference(seen) > 10.0


def test_septostomy_corrects_it() -> None:
    """A wide atrial opening brings arms and legs closer together and makes both redder."""
    before, after = _seen(4.0, 2.0), _seen(4.0, 7.0)
    assert _difference(after) < 0.5 * _difference(before)
    assert after.saturation_pct("AoU")[0] > before.saturation_pct("AoU")[0] + 20.0


def test_it_comes_from_the_lungs() -> None:
    """As lung resistance falls the duct turns round and the difference shrinks."""
    tight, open_ = _seen(4.0, 2.0), _seen(1.0, 2.0)
    assert tight.flow_ml_s("duct")[0] < 0.0 < open_.flow_ml_s("duct")[0]
    assert _difference(open_) < _difference(tight)


@pytest.mark.xfail(
    strict=True,
    reason="by lung resistance alone the legs gain 10 to 25 points, not 50: the arch still sends "
    "blue blood down; an obstructed arch is the other mechanism",
)
def test_size_against_the_published_baby() -> None:
    """Arms at 40 % and legs at 90 %, each within 15 points, for some tightness of the lungs."""
    found = [
        abs(seen.saturation_pct("AoU")[0] - ARMS) <= ONE_BABY
        and abs(seen.saturation_pct("AoD")[0] - LEGS) <= ONE_BABY
        for seen in (_seen(factor, foramen) for factor in (2.0, 4.0, 8.0) for foramen in (2.0, 3.0))
    ]
    assert any(found)
