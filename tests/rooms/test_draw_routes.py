"""The picture of the routes: published series beside, readable without colour, nothing overlaps."""

from __future__ import annotations

import pytest
import vl_convert
from rooms.routes_samples import LANES, empty, lane, routes_view
from rooms.svg_reading import named, root_of, smallest_points, text_boxes

from inseries.base.errors import OutputError
from inseries.draw.lettering import font_folder
from inseries.draw.routes_axis import FoldedAxis
from inseries.draw.routes_lanes import LEFT, RIGHT, routes_svg
from inseries.draw.routes_text import routes_text
from inseries.draw.routes_view import RouteEvent, spoken
from inseries.draw.terminal import COLUMNS

# the width of a brief's page between its margins
PAGE_MM = 182.0
PICTURES = pytest.mark.parametrize("picture", [routes_svg, routes_text])


def _words(svg: str) -> str:
    return " ".join(element.text or "" for element in named(root_of(svg), "text"))


@PICTURES
def test_no_routes_without_what_was_published(picture: object) -> None:
    """Without published series the picture is refused, on paper and in a terminal."""
    assert callable(picture)
    with pytest.raises(OutputError) as caught:
        picture(routes_view(strips=()))
    assert caught.value.code == "published_missing"


@PICTURES
@pytest.mark.parametrize(
    ("changes", "code"),
    [({"mass": (1.0,)}, "lengths_differ"), ({"chance_lines": ()}, "chance_missing")],
)
def test_a_lane_is_whole(picture: object, changes: dict[str, object], code: str) -> None:
    """A lane with too few values, or silent about its chance, is refused."""
    assert callable(picture)
    with pytest.raises(OutputError) as caught:
        picture(routes_view(lanes=(lane("wait", **changes),)))
    assert caught.value.code == code


def test_words_that_must_stand() -> None:
    """Each lane, its stamp, simulation and publication with denominators are written."""
    words = _words(routes_svg(routes_view()))
    for part in (
        "Simulated for this baby",
        "Published, other babies, other eras",
        "all operated are counted",
        "early deaths are not counted",
        "not shown",
        "no evidence to hold",
        *(one.name for one in LANES),
    ):
        assert part in words, part


def test_nothing_overlaps_and_nothing_is_cut() -> None:
    """No two texts share a place and none leaves the sheet."""
    boxes = text_boxes(root_of(routes_svg(routes_view())))
    assert not [(a, b) for i, a in enumerate(boxes) for b in boxes[i + 1 :] if a.meets(b)]
    assert min(box.left for box in boxes) >= 0
    assert max(box.right for box in boxes) <= 1024


def test_letters_are_readable_on_paper() -> None:
    """At the width of a page no letter is below 6.5 points."""
    assert smallest_points(routes_svg(routes_view()), PAGE_MM) >= 6.5


def test_stamps_and_signs_differ_without_colour() -> None:
    """Each standing has its own frame, each thing done its own shape."""
    standings = ("possible", "not possible", "not shown")
    lanes = tuple(lane(f"route {name}", standing=name) for name in standings)
    frames = named(root_of(routes_svg(routes_view(lanes=lanes))), "rect")
    assert len({each.get("stroke-dasharray") for each in frames if each.get("rx") == "3"}) == 3
    shapes = set()
    for kind in ("band", "switch", "atrial switch", "conditioning", "support"):
        event = RouteEvent(day=30.0, label="", sign=kind)  # type: ignore[arg-type]
        bare = routes_svg(routes_view(lanes=(lane("one", events=(event,)),)))
        paths = (each.get("d") or "" for each in named(root_of(bare), "path"))
        shapes.add("|".join(paths))
    assert len(shapes) == 5


def test_the_axis_is_folded_and_says_so() -> None:
    """Days rise along the axis, closer beyond the fold; labels change from days to months."""
    ages = FoldedAxis(first=13, fold=60, last=365, start=LEFT, end=RIGHT)
    assert ages.at(13) == LEFT
    assert ages.at(365) == RIGHT
    assert ages.at(60) < ages.at(61) < ages.at(200)
    before = ages.at(40) - ages.at(30)
    after = ages.at(210) - ages.at(200)
    assert before > 3 * after
    assert [label for _, label in ages.labels()][-4:] == ["3 mo", "6 mo", "9 mo", "12 mo"]


def test_an_axis_without_a_fold_reaches_its_end() -> None:
    """Where the last day lies before the fold the axis is one straight scale."""
    ages = FoldedAxis(first=10, fold=60, last=60, start=0, end=100)
    assert ages.at(60) == 100
    assert ages.at(35) == pytest.approx(50)


def test_the_picture_can_be_heard() -> None:
    """Lanes, chances and published points are told in words, conditioning without a chance."""
    words = spoken(routes_view())
    assert "no chance" in words
    assert "88 % at 20 years" in words
    assert "Left ventricular mass 33 g/m² on day 13" in words


def test_the_terminal_tells_the_same_in_78_columns() -> None:
    """Tracks, signs, chances and published series, no line too long."""
    text = routes_text(routes_view())
    assert max(len(line) for line in text.splitlines()) <= COLUMNS
    for one in LANES:
        assert one.name.upper() in text
    track = next(line for line in text.splitlines() if line.startswith("  B─"))
    assert track.index("B") < track.index("S") < track.index("═")
    assert "each with its own denominator" in text


def test_a_lane_without_a_course_is_told() -> None:
    """Nothing computed is said, not left white."""
    view = routes_view(lanes=(empty("atrial switch", note=""),))
    assert "Not computed." in _words(routes_svg(view))


def test_the_picture_renders() -> None:
    """A strict renderer with our font alone makes an image of it."""
    vl_convert.register_font_directory(str(font_folder()))
    assert vl_convert.svg_to_png(routes_svg(routes_view()))[:4] == b"\x89PNG"
