"""The section of the roots as a picture."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import replace

import numpy as np

from inseries.draw.repair_plan import ButtonMove, RepairPlan, repair_plan_svg, ring_of
from inseries.repair import SeenFrom, buttons_of, on_page, read_pattern, search, two_roots


def _points(array: np.ndarray, seen: SeenFrom) -> tuple[tuple[float, float], ...]:
    return tuple((float(x), float(y)) for x, y in on_page(np.atleast_2d(array), seen))


def plan(seen: SeenFrom) -> RepairPlan:
    """A plan of invented sizes, seen from one side."""
    roots = two_roots(aortic_mm=9.6, pulmonary_mm=11.0, relation_deg=20.0)
    sign = 1.0 if seen is SeenFrom.FEET else -1.0
    moves = []
    for button in buttons_of(read_pattern("1LCx-2R"), roots):
        best = search(button, roots).best
        path = _points(best.path_mm[:, :2], seen)
        moves.append(
            ButtonMove(
                name=button.name,
                note=f"path {best.length_mm:.1f} mm, {best.opening}",
                old=_points(roots.aortic.point_mm(button.angle_deg), seen)[0],
                new=path[0],
                path=path,
                concern=bool(best.concerns),
            )
        )
    rings = [
        ring_of(
            name,
            _points(root.centre_mm, seen)[0],
            root.long_mm,
            tuple(sign * angle for angle in root.commissures_deg),
        )
        for name, root in (("new aorta", roots.pulmonary), ("new lung artery", roots.aortic))
    ]
    return RepairPlan(
        title="Where the coronary buttons go",
        seen_from=seen.words,
        left_side="patient's right" if seen is SeenFrom.FEET else "patient's left",
        right_side="patient's left" if seen is SeenFrom.FEET else "patient's right",
        roots=tuple(rings),
        moves=tuple(moves),
        concern=_points(roots.pulmonary.point_mm(np.linspace(0.0, 30.0, 16)), seen),
        concern_text="Dotted wall: 12 to 1 o'clock as CT shows it, of concern for the left button.",
        figure_id="plan",
    )


def test_the_picture_says_from_where_it_is_seen() -> None:
    """Viewpoint and sides stand on the picture, and the two views say different ones."""
    feet, head = (repair_plan_svg(plan(seen)) for seen in (SeenFrom.FEET, SeenFrom.HEAD))
    assert "Seen from the feet, as a CT section is shown" in feet
    assert "Seen from the head" in head
    assert ET.fromstring(feet).tag.endswith("svg")


def test_concern_is_a_square_and_not_only_a_colour() -> None:
    """A place of concern has another shape than one without."""
    view = plan(SeenFrom.FEET)
    calm = replace(view, moves=tuple(replace(m, concern=False) for m in view.moves))
    worried = replace(view, moves=tuple(replace(m, concern=True) for m in view.moves))
    assert "<rect" not in repair_plan_svg(calm)
    assert repair_plan_svg(worried).count("<rect") == len(view.moves)
