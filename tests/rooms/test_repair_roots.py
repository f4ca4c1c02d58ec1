"""Frames, roots and the coronary code of the room of the repair."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from inseries.base.errors import CaseError, RouteNotPossible
from inseries.repair import (
    SeenFrom,
    clock_hour,
    code_on,
    on_page,
    plausible_readings,
    read_pattern,
    two_roots,
)


def test_one_o_clock_from_the_feet_is_eleven_from_the_head() -> None:
    """The same place reads as one o'clock on a CT page and as eleven on a page from the head."""
    assert clock_hour(30.0, SeenFrom.FEET) == pytest.approx(1.0)
    assert clock_hour(30.0, SeenFrom.HEAD) == pytest.approx(11.0)


def test_the_viewpoints_are_mirrors() -> None:
    """Front stays at the top; the patient's left changes sides."""
    assert on_page([1.0, 2.0], SeenFrom.HEAD) == pytest.approx([-1.0, 2.0])
    assert "left on the reader's right" in SeenFrom.FEET.words
    assert "left on the reader's left" in SeenFrom.HEAD.words


def test_aorta_to_the_right_lies_to_the_right() -> None:
    """Side by side to the right puts the aorta on the patient's right, touching at no gap."""
    roots = two_roots(aortic_mm=9.6, pulmonary_mm=8.9, relation_deg=90.0, gap_mm=0.0)
    assert roots.aortic.x_mm == pytest.approx(-9.25)
    assert roots.relation_deg == pytest.approx(90.0)
    assert roots.gap_mm == pytest.approx(0.0, abs=1e-12)


def test_normals_of_an_ellipse_stand_on_its_wall() -> None:
    """The outward normal is at right angles to the chord of two neighbours on the wall."""
    root = two_roots(aortic_mm=9.0, pulmonary_mm=9.0, relation_deg=20.0).aortic
    oval = replace(root, long_mm=5.5, short_mm=4.0, tilt_deg=35.0)
    angles = np.linspace(-170.0, 170.0, 12)
    chords = oval.point_mm(angles + 1e-3) - oval.point_mm(angles - 1e-3)
    across = (chords * oval.normal(angles)).sum(axis=1) / np.linalg.norm(chords, axis=1)
    assert across == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("gap", [-0.5, float("nan")])
def test_roots_that_overlap_are_refused(gap: float) -> None:
    """A negative gap between the roots is no anatomy."""
    with pytest.raises(RouteNotPossible) as refusal:
        two_roots(aortic_mm=9.0, pulmonary_mm=9.0, relation_deg=0.0, gap_mm=gap)
    assert refusal.value.code == "roots_overlap"


@pytest.mark.parametrize(
    ("text", "code"),
    [("1LCx-2R", "1LCx-2R"), ("1L,Cx;2R", "1LCx-2R"), ("1LAD-2R,Cx", "1L-2RCx"),
     ("2RLCx", "2RLCx"), ("1RCx-2L", "1RCx-2L"), ("1L-2CxR", "1L-2RCx")],
)  # fmt: skip
def test_codes_are_read_in_their_spellings(text: str, code: str) -> None:
    """Older spellings and another order within a sinus give the same pattern."""
    assert read_pattern(text).code == code


def test_a_code_that_is_none_names_the_nearest() -> None:
    """A sinus without its number is refused with a code that could be meant."""
    with pytest.raises(CaseError) as refusal:
        read_pattern("1RL-Cx")
    assert refusal.value.code == "not_leiden"
    assert "1RL-2Cx" in refusal.value.remedy


def test_the_non_facing_sinus_has_no_number() -> None:
    """An artery moved to the sinus that faces away cannot be coded."""
    roots = two_roots(aortic_mm=9.0, pulmonary_mm=9.0, relation_deg=0.0)
    angles = {"L": 60.0, "Cx": 60.0, "R": 175.0}
    assert code_on(roots.pulmonary, roots.aortic.centre_mm, angles) is None


def test_readings_are_weighted_by_what_operation_found() -> None:
    """A call of unusual by echo holds in seven of seventeen; a confirmed one is taken."""
    called = plausible_readings("1L-2RCx", None)
    assert sum(weight for _, weight in called) == pytest.approx(1.0)
    assert called[0][1] == pytest.approx(7 / 17)
    assert max(called[1:], key=lambda pair: pair[1])[0].code == "1LCx-2R"
    assert len(plausible_readings("1L-2RCx", "confirmed")) == 1
