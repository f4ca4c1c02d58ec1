"""The window picture: never without the cost of waiting, readable without colour."""

from __future__ import annotations

import re
from functools import partial

import pytest
import vl_convert
from hypothesis import given, settings
from rooms.draw_samples import any_window, loops, window
from rooms.svg_reading import BRIEF_PICTURE_MM, faults, named, root_of, smallest_points

from inseries.base.errors import OutputError
from inseries.draw.lettering import font_folder
from inseries.draw.terminal import COLUMNS, loops_text, window_text
from inseries.draw.window_curve import in_fives, window_svg


def _joined(svg: str) -> str:
    return " ".join(element.text or "" for element in named(root_of(svg), "text"))


def test_no_window_without_the_cost_of_waiting() -> None:
    """Without the published cost of waiting the picture is refused, on paper and in a terminal."""
    for picture in (window_svg, partial(window_svg, compact=True), window_text):
        with pytest.raises(OutputError) as caught:
            picture(window(cost_lines=()))
        assert caught.value.code == "cost_of_waiting_missing"


def test_lengths_must_agree() -> None:
    """A tier with fewer chances than days is refused."""
    with pytest.raises(OutputError) as caught:
        window_svg(window(days=(9.0, 60.0)))
    assert caught.value.code == "lengths_differ"


def test_words_that_must_stand() -> None:
    """Simulation, other babies, own denominators, the series and the cost are all written."""
    words = _joined(window_svg(window()))
    for part in (
        "Simulated chance, in steps of 5 %",
        "age at switch (days)",
        "published, other babies",
        "own denominator",
        "invented series, n = 19, day 22 to 125",
        "what waiting costs",
        "Invented odds rise with each day.",
        "septostomy",
    ):
        assert part in words


def test_tiers_differ_without_colour() -> None:
    """One line is dashed and one is not, and their bands have different hatches."""
    root = root_of(window_svg(window()))
    dashes = {e.get("id"): e.get("stroke-dasharray") for e in named(root, "path") if e.get("id")}
    assert dashes["window-line-survivable"] == "none"
    assert dashes["window-line-comfortable"] != "none"
    hatches = {e.get("id"): e[0].get("d") for e in named(root, "pattern")}
    assert hatches["window-hatch-survivable"] != hatches["window-hatch-comfortable"]


@pytest.mark.parametrize(
    ("chance", "words"),
    [(0.0, "below 5 %"), (0.61, "about 60 %"), (0.63, "about 65 %"), (0.99, "above 95 %")],
)
def test_chances_in_fives(chance: float, words: str) -> None:
    """No chance is written finer than five points, nor as certainty."""
    assert in_fives(chance) == words


@pytest.mark.parametrize("compact", [False, True])
def test_line_stands_where_the_chance_is(compact: bool) -> None:
    """The drawn line runs through the given chances, measured against the axis labels."""
    root = root_of(window_svg(window(), compact=compact))
    line = next(e for e in named(root, "path") if e.get("id") == "window-line-survivable")
    points = [float(n) for n in re.findall(r"-?[\d.]+", line.get("d", ""))]
    places = {e.text: float(e.get("y", "0")) - 5 for e in named(root, "text")}
    top, bottom = places["100 %"], places["0 %"]
    shares = [(bottom - y) / (bottom - top) for y in points[1::2]]
    assert shares == pytest.approx([0.97, 0.93, 0.6, 0.22], abs=1e-3)


@settings(max_examples=80)
@given(any_window())
def test_any_window_can_be_drawn(view: object) -> None:
    """Whatever the numbers, all pictures are well formed and no text overlaps or is cut."""
    for compact in (False, True):
        assert not faults(window_svg(view, compact=compact), "any")  # type: ignore[arg-type]
    lines = window_text(view).splitlines()  # type: ignore[arg-type]
    assert all(len(line) <= COLUMNS for line in lines)


def test_compact_letters_can_be_read_on_paper() -> None:
    """At the brief's width no letter of the compact picture prints smaller than 6.5 points."""
    assert smallest_points(window_svg(window(), compact=True), BRIEF_PICTURE_MM) >= 6.5


def test_compact_still_says_what_was_seen_and_published() -> None:
    """Marks with their ages, both tiers and the series stay; title, sentence and cost go."""
    words = _joined(window_svg(window(), compact=True))
    for part in (
        "Simulated chance",
        "in steps of 5 %, with 90 % interval",
        "age at switch (days); computed up to day 60",
        "day 0: septostomy; day 9: echo",
        "survivable",
        "comfortable",
        "own denominator",
        "invented series, n = 19, day 22 to 125",
    ):
        assert part in words
    for part in ("How late?", "A sentence.", "what waiting costs"):
        assert part not in words


def test_terminal_pictures_say_it_all() -> None:
    """The terminal shows both tiers, the series, the cost, all saturations and both limbs."""
    words = window_text(window())
    for part in ("survivable", "comfortable", "other babies", "n = 19", "Invented odds"):
        assert part in words
    view = loops()
    shown = loops_text(view)
    assert all(f"{s.name} {s.saturation_pct:.0f} %" in shown for s in view.stations)
    assert "right hand 71 %, foot 77 %" in shown
    assert all(len(line) <= COLUMNS for line in shown.splitlines())
    assert shown == loops_text(view)


def test_text_is_really_drawn() -> None:
    """The rendered picture changes when its text is taken out: no font is missing."""
    vl_convert.register_font_directory(str(font_folder()))
    svg = window_svg(window())
    bare = re.sub(r"<text.*?</text>", "", svg)
    assert vl_convert.svg_to_png(svg, scale=1) != vl_convert.svg_to_png(bare, scale=1)
