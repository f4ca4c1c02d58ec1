"""The picture of an outlook: rings to scale, arcs told apart without colour, nothing overlaps."""

from __future__ import annotations

from dataclasses import replace

import pytest
from rooms.svg_reading import faults, named, root_of, smallest_points

from inseries.base.errors import OutputError
from inseries.draw.outlook_rings import INERT, MM, NATIVE
from inseries.draw.outlook_strip import outlook_svg, spoken
from inseries.draw.outlook_terminal import outlook_text
from inseries.draw.outlook_view import AgeLine, OutlookView, PointSeries, Ring, RingRow

YEARS = (0.02, 1.0, 5.0, 18.0, 40.0)


def _ring(diameter: float, inert: float, gradient: float, *, branch: bool = False) -> Ring:
    return Ring(
        diameter_mm=diameter,
        usual_mm=26.0,
        inert_share=inert,
        gradient_mmhg=gradient,
        in_branch=branch,
    )


def _row(name: str, inert: float, *, branch: bool = False) -> RingRow:
    return RingRow(
        name=name,
        note="39 % of the girth is patch; 36 mmHg or more from the start to 8 years",
        rings=(
            _ring(9.0, inert, 3.0),
            _ring(12.0, inert, 20.0),
            _ring(16.0, inert, 40.0, branch=branch),
            _ring(25.0, inert, 165.0),
        ),
        extreme=branch,
    )


def _line(name: str, *values: float) -> AgeLine:
    return AgeLine(
        name=name,
        value=values,
        low=tuple(0.8 * v for v in values),
        high=tuple(1.3 * v for v in values),
    )


def _view() -> OutlookView:
    return OutlookView(
        title="What will grow and what will not",
        sentence="Invented values, two lines of words at most for the head of the picture.",
        columns=("at operation", "1 y", "5 y", "18 y"),
        rows=tuple(_row(f"Repair {i}", share, branch=i > 3) for i, share in
                   enumerate((0.05, 0.4, 0.4, 0.4, 0.2, 1.0))),
        limit_mmhg=36.0,
        years=YEARS,
        gradients=tuple(_line(f"Repair {i}", 3, 5, 9, 14, 15) for i in range(4)),
        roots=(
            _line("Z nearly kept, plateau at 47 mm", 11, 16, 20, 32, 34),
            _line("Z rises, then 0.31 mm a year", 11, 16, 21, 34, 41),
            _line("Z rises, then 0.63 mm a year", 11, 16, 21, 34, 48),
        ),
        usual_root=(_line("usual, child's table", 10, 14, 18), _line("usual, adult's", 31, 33)),
        usual_years=((0.02, 1.0, 5.0), (18.0, 40.0)),
        published=tuple(
            PointSeries(name=f"free of something, town {i}", years=(1.0, 10.0), pct=(97.0, 83.0))
            for i in range(6)
        ),
        figure_id="outlook",
    )  # fmt: skip


def test_the_picture_has_no_faults() -> None:
    """Finite, self-contained, every text inside and no two over one another."""
    assert faults(outlook_svg(_view()), "outlook") == []


def test_letters_can_be_read_on_paper() -> None:
    """At the width of the printed page no letter is smaller than six points."""
    assert smallest_points(outlook_svg(_view()), 167.0) > 5.9


def test_rings_are_to_scale() -> None:
    """A wholly native ring is as wide as its diameter in mm times the scale of the bar."""
    view = _view()
    whole = replace(
        view.rows[0], rings=tuple(replace(r, inert_share=0.0) for r in view.rows[0].rings)
    )
    svg = outlook_svg(replace(view, rows=(whole,)))
    arcs = [e for e in named(root_of(svg), "path") if e.get("stroke") == NATIVE]
    for ring, arc in zip(whole.rings, arcs, strict=True):
        numbers = [float(w) for w in (arc.get("d") or "").split() if w not in {"M", "L"}]
        wide = max(numbers[::2]) - min(numbers[::2])
        assert wide == pytest.approx(MM * ring.diameter_mm, rel=0.01)


def test_what_cannot_grow_is_told_apart_by_shape() -> None:
    """Inert arc is a chain of boxes, more of them the larger the share, none on native wall."""
    view = _view()

    def boxes(share: float) -> int:
        ring = replace(view.rows[0].rings[3], inert_share=share)
        row = replace(view.rows[0], rings=(ring,) * 4)
        paths = named(root_of(outlook_svg(replace(view, rows=(row,)))), "path")
        return sum(e.get("stroke") == INERT for e in paths)

    assert boxes(0.0) == 0
    assert boxes(0.8) > boxes(0.4) > boxes(0.1) > 0


def test_a_high_gradient_is_marked_by_a_word_too() -> None:
    """Above the limit stand a triangle and the words."""
    words = [e.text for e in named(root_of(outlook_svg(_view())), "text")]
    assert words.count("36 or more") == sum(
        round(ring.gradient_mmhg) >= 36 for row in _view().rows for ring in row.rings
    )


def test_it_is_told_in_words() -> None:
    """Every repair, course and published series is in the spoken description."""
    told = spoken(_view())
    for name in ("Repair 0", "Z nearly kept", "town 5"):
        assert name in told


def test_the_terminal_has_a_line_for_each_repair() -> None:
    """At most 78 columns, one line a repair below its head."""
    lines = outlook_text(_view()).splitlines()
    assert len(lines) == 5
    assert max(map(len, lines)) <= 78


def test_lengths_must_agree() -> None:
    """A line with fewer values than ages is refused."""
    view = _view()
    with pytest.raises(OutputError):
        outlook_svg(replace(view, gradients=(_line("short", 1.0, 2.0),)))
