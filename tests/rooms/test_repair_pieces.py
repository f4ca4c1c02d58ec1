"""Buttons, their landing, mismatch, lung artery and patches."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from inseries.base.errors import RouteNotPossible
from inseries.repair import (
    FirstCourse,
    Wall,
    Way,
    button,
    buttons_of,
    concern_weight,
    flattened,
    forward_reach_mm,
    join,
    legs,
    mismatch,
    missing_share,
    polygon_mm2,
    read_pattern,
    readings,
    search,
    spread_of,
    trousers,
    two_roots,
    usual_lung_artery,
)
from inseries.repair.buttons import kink_curvature_per_mm
from inseries.repair.landing import in_region_of_concern

ROOTS = two_roots(aortic_mm=9.6, pulmonary_mm=11.0, relation_deg=20.0)


def test_a_mirrored_button_moves_by_4_8_mm() -> None:
    """Two touching roots of 4.8 mm, opening at 60 degrees: straight across are 4.8 mm, by hand."""
    roots = two_roots(aortic_mm=9.6, pulmonary_mm=9.6, relation_deg=0.0, gap_mm=0.0)
    moved = roots.aortic.point_mm(120.0) - roots.pulmonary.point_mm(60.0)
    assert np.hypot(*moved) == pytest.approx(4.8)


def test_the_usual_code_turns_round_by_the_search_alone() -> None:
    """Best places of the usual pattern give 1R-2LCx, without a table of codes."""
    found = readings("1LCx-2R", "confirmed", ROOTS)
    assert [reading.code_after for reading in found] == ["1R-2LCx"]


def test_the_search_looks_at_a_hundred_thousand_places() -> None:
    """The best place is allowed, cheaper than the runner-up, and told with its flatness."""
    found = search(buttons_of(read_pattern("1LCx-2R"), ROOTS)[0], ROOTS)
    assert found.tried == 100_000
    assert found.runner_up is not None
    assert found.best.cost < found.runner_up.cost
    assert found.best.to_hinge_mm > 1.2
    assert found.best.to_lung_artery_mm > 0.0
    assert found.flat_deg > 0.0


def test_a_left_button_in_front_is_of_concern() -> None:
    """Between 12 and 1 o'clock the left button is of concern, the right one is not."""
    left, right = buttons_of(read_pattern("1LCx-2R"), ROOTS)
    at = np.array([-5.0, 15.0, 40.0])
    assert in_region_of_concern(left, at).tolist() == [False, True, False]
    assert not in_region_of_concern(right, at).any()


def test_pressure_raises_the_limit_of_kinking() -> None:
    """By hand: r 0.6 mm, wall 0.25, 45 of 3000 mmHg: p* 0.62, limit 0.378 times root 1.62."""
    bare = np.sqrt(2.0) / 3.0 * 0.25 / (0.36 * np.sqrt(0.75))
    assert bare == pytest.approx(0.378, abs=1e-3)
    limit = kink_curvature_per_mm(np.array(0.6))
    assert limit / bare == pytest.approx(np.sqrt(1.622), rel=1e-3)


def test_an_intramural_artery_has_no_simple_button() -> None:
    """A first course in the wall is refused, naming what is not computed."""
    left = buttons_of(read_pattern("1LCx-2R"), ROOTS, intramural=True)[0]
    assert left.course is FirstCourse.INTRAMURAL
    with pytest.raises(RouteNotPossible) as refusal:
        search(left, ROOTS)
    assert refusal.value.code == "intramural"


def test_an_opening_outside_a_sinus_is_refused() -> None:
    """An opening in the non-facing sinus is no opening that these codes know."""
    with pytest.raises(RouteNotPossible) as refusal:
        button(("R",), ROOTS, angle_deg=ROOTS.aortic.commissure_deg + 170.0)
    assert refusal.value.code == "outside_sinus"


def test_an_unusual_call_is_averaged_over_what_it_may_be() -> None:
    """A pattern called unusual by echo brings the usual one along, and weights of concern."""
    found = readings("1L-2RCx", "uncertain", ROOTS)
    assert found[0].pattern.code == "1L-2RCx"
    assert "1LCx-2R" in {reading.pattern.code for reading in found}
    assert 0.0 <= concern_weight(found, "L") <= 1.0


def test_measured_spread_widens_the_answer() -> None:
    """The interval holds the middle, and the same seed gives the same digits."""
    found = search(buttons_of(read_pattern("1LCx-2R"), ROOTS)[1], ROOTS)
    one, two = (spread_of(found, ROOTS, draws=64, seed=3) for _ in range(2))
    assert one == two
    assert one.path_mm.low < one.path_mm.value < one.path_mm.high


def test_mismatch_is_taken_up_or_left() -> None:
    """A third of mismatch leaves no dart with two buttons let in; equal ends need nothing."""
    assert mismatch(8.0, 10.5).surplus_mm == pytest.approx(np.pi * 2.5)
    assert mismatch(8.0, 10.5, buttons=2).left_mm == 0.0
    assert mismatch(6.0, 12.0).left_mm > 0.0
    assert mismatch(9.0, 9.0).oblique_deg == pytest.approx(0.0, abs=1e-3)


def test_forward_reach_is_pythagoras() -> None:
    """Branches of 13 over half a chest of 12 reach 5 mm forward."""
    lung = replace(
        usual_lung_artery(4.8), branch_mm=13.0, hilar_mm=24.0, mobilisation=0.0
    )  # fmt: skip
    assert forward_reach_mm(lung) == pytest.approx(5.0)
    with pytest.raises(RouteNotPossible):
        forward_reach_mm(replace(lung, hilar_mm=30.0))


def test_a_direct_join_under_pull_flattens_the_branch() -> None:
    """The more wall is lost the more a direct join pulls, and the flatter the branch lies."""
    lung = usual_lung_artery(4.8)
    joins = [join(replace(lung, resected_mm=mm), ROOTS, Way.LECOMPTE) for mm in (0.0, 3.0, 5.0)]
    assert [each.tension for each in joins] == sorted(each.tension for each in joins)
    assert joins[0].width_share >= joins[1].width_share > joins[2].width_share
    assert join(lung, ROOTS, Way.SPIRAL).width_share == 1.0


def test_a_pressed_tube_keeps_its_girth() -> None:
    """A stadium of the told height has the told area and the girth of the round tube."""
    height, area = flattened(5.0, 20.0)
    high = 5.0 * height
    flat = (np.pi * 5.0 - np.pi * high) / 2.0
    assert flat * high + np.pi * high**2 / 4.0 == pytest.approx(area * np.pi * 25.0 / 4.0)


def test_two_buttons_take_two_fifths_of_a_newborns_root() -> None:
    """Two buttons of 6 mm from 9.6 mm leave 40 % of the girth missing, by hand."""
    assert missing_share(9.6, (6.0, 6.0)) == pytest.approx(0.40, abs=0.003)


@pytest.mark.parametrize("upper", [9.6, 8.0, 12.0])
def test_the_trousers_have_the_area_of_their_cone(upper: float) -> None:
    """The drawn outline of the flat piece encloses the closed-form area on cylinder and cone."""
    piece = trousers(Wall(lower_mm=9.6, upper_mm=upper, height_mm=5.0), (6.0, 5.0), 7.0, 8.0)
    assert polygon_mm2(piece.stitch_mm) == pytest.approx(piece.area_mm2, rel=3e-4)
    assert piece.cut_mm2 > piece.area_mm2
    assert piece.girth_mm == pytest.approx(19.0)


def test_two_pieces_have_the_area_of_a_u() -> None:
    """Each separate piece is a rectangle with a round end, its seam 2 mm wide all round."""
    for piece in legs(Wall(lower_mm=9.6, upper_mm=9.6, height_mm=5.0), (6.0, 5.0), 7.0):
        assert polygon_mm2(piece.stitch_mm) == pytest.approx(piece.area_mm2, rel=5e-4)
        assert polygon_mm2(piece.outline_mm) == pytest.approx(piece.cut_mm2, rel=5e-4)
        assert np.ptp(piece.outline_mm[:, 0]) == pytest.approx(piece.girth_mm + 4.0)


@pytest.mark.parametrize(
    ("widths", "depth", "bridge", "code"),
    [((20.0, 12.0), 16.0, 8.0, "buttons_too_wide"), ((6.0, 6.0), 2.0, 8.0, "hole_shallow"),
     ((6.0, 6.0), 7.0, 1.5, "bridge_narrow")],
)  # fmt: skip
def test_patches_that_cannot_be_are_refused(
    widths: tuple[float, float], depth: float, bridge: float, code: str
) -> None:
    """Buttons wider than the root, holes too shallow and legs that overlap are refused."""
    with pytest.raises(RouteNotPossible) as refusal:
        trousers(Wall(lower_mm=9.6, upper_mm=9.6, height_mm=5.0), widths, depth, bridge)
    assert refusal.value.code == code
