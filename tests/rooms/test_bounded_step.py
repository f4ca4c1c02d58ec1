"""A step of the search: bounds and reach of what is regulated, what is given, what it spares."""

from __future__ import annotations

from math import inf, nan
from typing import TYPE_CHECKING

import numpy as np
import pytest
from rooms.circuit_samples import pump

from inseries.circuit.flat import flatten
from inseries.circuit.kernels import layout
from inseries.circuit.kernels.regulate import pressed
from inseries.circuit.kernels.root import (
    LARGEST_SHARE,
    LARGEST_TONE,
    bounded_step,
    distance,
    give,
    hold,
    newton_step,
)
from inseries.circuit.kernels.search import FARTHEST_TONE, LARGEST_LOSS, share_of_step

if TYPE_CHECKING:
    from inseries.circuit.network import Floats

# Unknowns of the trials below: a volume, then what is regulated: the total volume and the tone.
FIRST, TOTAL, TONE = 1, 1, 2
FREE = np.zeros(layout.REGULATION)
# More of anything lessens what drives it, as in a body at rest.
CALM = np.array([[-0.8, 0.02, 1.0], [0.5, -0.1, 2.0], [0.04, 0.01, -0.5]])


def _held(*, low_v: float = 50.0, high_v: float = 300.0, tone: float = 2.0) -> Floats:
    """Regulation within bounds: of the total volume, mL, and of the tone on either side."""
    reg = np.zeros(layout.REGULATION)
    reg[layout.REGULATED], reg[layout.FILLING] = 1.0, 10.0
    reg[layout.LOW_V], reg[layout.HIGH_V] = low_v, high_v
    reg[layout.LOW_TONE], reg[layout.HIGH_TONE] = -tone, tone
    return reg


def _step(
    slope: Floats, y: list[float], root: list[float], reg: Floats, share: float = 1.0
) -> tuple[Floats, Floats, Floats]:
    """A bounded step of the linear residual slope (y - root); where it leads, and g there."""
    at, step = np.array(y), np.empty(3)
    g = at + slope @ (at - root)
    bounded_step(np.linalg.inv(slope), at, g, FIRST, reg, share, step)
    after = at + step
    return step, after, after + slope @ (after - root)


@pytest.mark.parametrize("reg", [FREE, _held()], ids=["free", "held"])
def test_distance_is_not_small_when_a_number_is_lost(reg: Floats) -> None:
    """A NaN among the changes counts as infinitely far, wherever it stands."""
    for place in range(4):
        g = np.zeros(4)
        g[place] = nan
        assert distance(np.zeros(4), g, 2, reg) == (inf, place)


def test_a_drive_beyond_a_bound_is_no_distance() -> None:
    """At its bound a tone driven outwards has no way to go; driven inwards, or free, it has."""
    y = np.array([5.0, 100.0, 2.0])
    out, back = np.array([5.0, 100.0, 2.1]), np.array([5.0, 100.0, 1.9])
    assert distance(y, out, FIRST, _held()) == (0.0, 0)
    assert distance(y, back, FIRST, _held()) == (pytest.approx(0.5), TONE)
    assert distance(y, out, FIRST, FREE) == (pytest.approx(0.5), TONE)


@pytest.mark.parametrize(
    ("value", "drive", "expected"),
    [
        (-2.0, -0.1, True),
        (-2.0, 0.1, False),
        (2.0, 0.1, True),
        (2.0, -0.1, False),
        (0.0, 9.0, False),
    ],
)
def test_pressed_at_a_bound_only_and_only_beyond_it(
    value: float, drive: float, expected: bool
) -> None:
    """Pressed is what stands at a bound and is driven beyond it; nothing is where none is held."""
    assert bool(pressed(_held(), 1, value, drive)) is expected
    assert not pressed(FREE, 1, value, drive)


def test_hold_brings_within_bounds_what_has_some() -> None:
    """Total volume and tone come to the nearest bound, volumes of parts and free ones stay."""
    far = np.array([500.0, 400.0, -3.0])
    y = far.copy()
    hold(y, FIRST, _held())
    assert y.tolist() == [500.0, 300.0, -2.0]
    given = _held()
    given[layout.FILLING] = 0.0  # the total volume is given, not sought
    for reg, tone in ((FREE, -3.0), (given, -2.0)):
        y = far.copy()
        hold(y, FIRST, reg)
        assert y.tolist() == [500.0, 400.0, tone]


def test_a_step_given_leaves_the_rest_its_own_equations() -> None:
    """With one unknown's step given the others solve their rows; their inverse is left for them."""
    rest, wish = [0, 2], 0.25
    residual, left, step = np.array([1.0, -2.0, 0.3]), np.linalg.inv(CALM), np.empty(3)
    newton_step(left, np.zeros(3), residual, step)
    give(left, TOTAL, wish, step)
    assert step[TOTAL] == wish
    assert np.allclose((CALM @ step + residual)[rest], 0.0, atol=1e-12)
    assert np.allclose(left[np.ix_(rest, rest)], np.linalg.inv(CALM[np.ix_(rest, rest)]))
    assert not left[TOTAL].any()
    assert not left[:, TOTAL].any()
    before = step.copy()
    give(left, TOTAL, 9.0, step)  # what is given once stays
    assert np.array_equal(step, before)


def test_a_root_beyond_a_bound_is_met_at_the_bound_in_one_step() -> None:
    """A tone whose root lies beyond its bound goes there at once, and the rest is solved."""
    reg = _held(tone=0.4)
    _, after, g = _step(CALM, [6.0, 100.0, 0.0], [8.0, 110.0, 1.5], reg)
    assert after[TONE] == pytest.approx(0.4)
    assert pressed(reg, 1, 0.4, g[TONE] - after[TONE])
    assert np.allclose(g[:TONE], after[:TONE])
    after[TONE] = 0.4
    assert distance(after, g, FIRST, reg)[0] < 1e-9


def test_what_is_driven_beyond_its_bound_stays_and_what_is_driven_back_moves() -> None:
    """At its bound a tone stays while its drive points beyond, and leaves it once it turns."""
    reg = _held(tone=0.4)
    step, after, g = _step(CALM, [6.0, 100.0, 0.4], [8.0, 110.0, 1.5], reg)
    assert step[TONE] == 0.0
    assert np.allclose(g[:TONE], after[:TONE])
    step, after, g = _step(CALM, [6.0, 100.0, 0.4], [6.1, 101.0, 0.1], reg)
    assert after[TONE] == pytest.approx(0.1)
    assert np.allclose(g, after)


@pytest.mark.parametrize("share", [1.0, 0.25])
def test_what_is_regulated_moves_no_farther_than_its_reach(share: float) -> None:
    """In one step the total volume moves by a quarter at most, a tone by 0.7, or a share of it."""
    step, after, g = _step(CALM, [6.0, 100.0, 0.0], [6.0, 250.0, -1.9], _held(), share)
    assert step[TOTAL] == pytest.approx(share * LARGEST_SHARE * 100.0)
    assert step[TONE] == pytest.approx(-share * LARGEST_TONE)
    assert g[0] == pytest.approx(after[0])


@pytest.mark.parametrize(("root", "way"), [(90.0, 1.0), (110.0, -1.0)])
def test_where_more_volume_does_not_lessen_its_drive_the_step_follows_the_drive(
    root: float, way: float
) -> None:
    """A total volume that drives itself on goes with its drive, not to the root behind it."""
    runaway = np.diag([-0.8, 0.1, -0.5])
    step, after, _ = _step(runaway, [6.0, 100.0, 0.0], [8.0, root, 0.3], _held())
    assert step[TOTAL] == pytest.approx(way * LARGEST_SHARE * 100.0)
    assert np.allclose([after[0], after[TONE]], [8.0, 0.3])
    step, after, _ = _step(
        runaway, [6.0, 100.0, 0.0], [8.0, root, 0.3], _held(low_v=95.0, high_v=105.0)
    )
    assert after[TOTAL] == pytest.approx(100.0 + 5.0 * way)


def test_bounds_are_not_known_where_nothing_is_held() -> None:
    """Without regulation the step is Newton's, however far it goes."""
    y, root = [6.0, 100.0, 0.0], [8.0, 900.0, 30.0]
    assert np.allclose(_step(CALM, y, root, FREE)[1], root)
    runaway = np.diag([-0.8, 0.1, -0.5])
    assert np.allclose(_step(runaway, y, root, FREE)[1], root)


@pytest.mark.parametrize("seed", range(40))
def test_a_bounded_step_keeps_bounds_reach_and_the_equations_of_the_rest(seed: int) -> None:
    """Whatever a linear residual, what is regulated ends within its bounds and the rest solved."""
    rng = np.random.default_rng(seed)
    sizes = np.array([5.0, 60.0, 1.0])
    slope = (rng.normal(size=(3, 3)) * 0.8 - np.eye(3)) * sizes[:, None] / sizes
    y = [5.0, float(rng.uniform(80.0, 150.0)), float(rng.uniform(-0.5, 0.5))]
    root = (np.array(y) + sizes * rng.normal(size=3)).tolist()
    reg = _held(low_v=80.0, high_v=150.0, tone=0.5)
    step, after, g = _step(slope, y, root, reg)
    near = 1e-9
    assert 80.0 - near <= after[TOTAL] <= 150.0 + near
    assert abs(after[TONE]) <= 0.5 + near
    assert abs(step[TOTAL]) <= LARGEST_SHARE * y[TOTAL] + near
    assert abs(step[TONE]) <= LARGEST_TONE + near
    assert g[0] == pytest.approx(after[0], abs=1e-8 * np.abs(step).max())


# A ventricle of fibres, an artery and a vein, then the total volume and the tone.
PUMPING = flatten(pump()).parts


@pytest.mark.parametrize("loss", [-50.0, 1.0, 6.9, 7.1, 9.0, 1e9])
def test_a_ventricle_loses_at_most_seven_tenths_in_a_step(loss: float) -> None:
    """However much a step would take from a ventricle of 10 mL, 3 mL are left in it."""
    y, step = np.array([10.0, 8.0, 90.0, 0.0]), np.array([-loss, 0.0, 0.0, 0.0])
    share = share_of_step(y, step, PUMPING, 3)
    assert share == pytest.approx(min(1.0, LARGEST_LOSS * 10.0 / loss) if loss > 0.0 else 1.0)
    assert y[0] + share * step[0] >= 3.0 * (1.0 - 1e-12)


def test_a_vessel_may_be_drawn_empty() -> None:
    """Only ventricles bound a step: an artery may go below the volume at which it is unloaded."""
    step = np.array([0.0, -30.0, 0.0, 0.0])
    assert share_of_step(np.array([10.0, 8.0, 90.0, 0.0]), step, PUMPING, 3) == 1.0


def test_a_step_takes_no_tone_out_of_reason_and_none_to_no_number() -> None:
    """A tone moves no farther than a body's; of a step with a number that is none no share."""
    y = np.array([10.0, 8.0, 90.0, 0.5])
    far = np.array([0.0, 0.0, 0.0, -70.0])
    assert share_of_step(y, far, PUMPING, 3) == pytest.approx((FARTHEST_TONE + 0.5) / 70.0)
    for place in range(4):
        for lost in (nan, inf, -inf):
            step = np.zeros(4)
            step[place] = lost
            assert share_of_step(y, step, PUMPING, 3) == 0.0
