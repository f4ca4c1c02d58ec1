"""Pictures of the story: to scale, one element from step to step, words that do not overlap."""

from __future__ import annotations

import re
from itertools import pairwise
from math import atan2, degrees, dist
from typing import TYPE_CHECKING

import pytest
from rooms.routes_samples import routes_view
from rooms.svg_reading import named, root_of, text_boxes

from inseries.desk import repair as asked_for
from inseries.desk.demonstration import demo_case
from inseries.desk.repair_records import RepairFindings
from inseries.desk.urgency import Urgency
from inseries.draw.routes_room import published_room_svg, routes_room_svg
from inseries.draw.switch_later import LaterRing, LaterRow, LaterView, later_scale, later_svg
from inseries.draw.switch_steps import switch_step_svg
from inseries.draw.switch_view import CLOSED, JOINED, LIFTED, SEWN, STEPS

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

FEW = 32  # chosen: enough draws for a plan, few enough for a test
CALM = Urgency(level="planned", hours=48.0, headline="Not asked in these tests", why=("None.",))
NAMES = ["harbour-07", "meadow-11", "brook-05"]


def _calm(_record: object, _seed: object) -> Urgency:
    return CALM


@pytest.fixture(scope="module", params=NAMES)
def planned(request: pytest.FixtureRequest) -> RepairFindings:
    """A repair of an invented baby."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(asked_for, "urgency_now", _calm)
        result = asked_for.plan_repair(demo_case(request.param), draws=FEW, seed=1).result
    assert isinstance(result, RepairFindings)
    return result


@pytest.fixture(scope="module")
def steps(planned: RepairFindings) -> list[Element]:
    """Every step of its switch."""
    view = planned.picture_steps
    return [root_of(switch_step_svg(view, place)) for place in range(len(view.titles))]


def _by_id(root: Element) -> dict[str, Element]:
    return {each.attrib["id"]: each for each in root.iter() if "id" in each.attrib}


def _numbers(words: str) -> list[float]:
    return [float(word) for word in re.findall(r"-?[\d.]+", words)]


def test_every_step_has_a_title(planned: RepairFindings) -> None:
    """As many titles as steps."""
    assert len(planned.picture_steps.titles) == STEPS


def test_one_scale(planned: RepairFindings, steps: list[Element]) -> None:
    """Roots from above are as wide by the bar as their measured or expected sizes say."""
    sizes = {each.name: each.mm.value for each in planned.sizes}
    for root in steps:
        found = _by_id(root)
        unit = _bar(found["switch-bar"]) / 5.0
        for name, size in (("lung", "pulmonary_root_mm"), ("aortic", "aortic_root_mm")):
            wide = 2.0 * float(found[f"switch-plan-{name}"].attrib["r"])
            # a tenth of a millimetre: what the path data are rounded to
            assert wide / unit == pytest.approx(sizes[size], abs=0.1)


def _bar(drawn: Element) -> float:
    """Length of a bar, drawn as M x y V y H x V y."""
    left, _, _, right, _ = _numbers(drawn.attrib["d"])
    return right - left


def test_a_piece_goes_on_from_where_it_was(steps: list[Element]) -> None:
    """Each outline on the way begins as the same element was drawn in the step before."""
    moved = 0
    for before, after in pairwise(steps):
        was = _by_id(before)
        for name, each in _by_id(after).items():
            way = each.attrib.get("data-way")
            if way is None or each.tag.endswith("text"):
                continue
            moved += 1
            assert (way.split("|")[0] or "M0 0") == was[name].attrib["d"]
    assert moved > 0


def test_buttons_land_at_the_hour_that_is_told(
    planned: RepairFindings, steps: list[Element]
) -> None:
    """From above, front at the bottom, a button's letters stand at its hour on the new aorta.

    Half an hour of tolerance: the letters stand inside the wall, centred on the piece.
    """
    found = _by_id(steps[SEWN])
    circle = found["switch-plan-lung"].attrib
    for button in planned.buttons:
        if button.best is None:
            continue
        tag = found[f"switch-plan-tag-{button.artery}"].attrib
        aside = float(circle["cx"]) - float(tag["x"])
        ahead = float(tag["y"]) - 5.0 - float(circle["cy"])
        # the clock is read from the feet: its hours fall as one goes to the patient's right
        hour = (12.0 - degrees(atan2(aside, ahead)) / 30.0) % 12.0
        off = abs((hour - button.best.clock_hour + 6.0) % 12.0 - 6.0)
        assert off < 0.5


def test_patches_come_when_the_holes_are_closed(steps: list[Element]) -> None:
    """Holes are seen from when buttons are lifted; patches not before the holes are closed."""
    for place, root in enumerate(steps):
        found = _by_id(root)
        for name, each in found.items():
            shown = float(each.attrib.get("opacity", "1"))
            if name.startswith("switch-hole-"):
                assert shown == (place >= LIFTED)
            if name.startswith("switch-patch-") and name != "switch-patch-waist":
                assert shown == (place >= CLOSED)


def test_words_of_a_step_do_not_overlap(steps: list[Element]) -> None:
    """No word of a picture lies on another, but for letters that go with their pieces."""
    for root in steps:
        names = [b for b in text_boxes(root) if len(b.words) > 3]
        pairs = [(a.words, b.words) for i, a in enumerate(names) for b in names[:i] if a.meets(b)]
        assert not pairs


def test_the_lung_artery_ends_at_its_new_root(steps: list[Element]) -> None:
    """Once joined, the trunk's lower end lies at the rim of the root that was the aorta's."""
    found = _by_id(steps[JOINED])
    seam = _numbers(found["switch-seam-trunk"].attrib["d"])
    rim = _numbers(found["switch-aortic-root-rim"].attrib["d"])
    assert dist(_middle(seam), _middle(rim)) < 0.5 * (max(rim[0::2]) - min(rim[0::2]))


def _middle(numbers: list[float]) -> tuple[float, float]:
    xs, ys = numbers[0::2], numbers[1::2]
    return (max(xs) + min(xs)) / 2.0, (max(ys) + min(ys)) / 2.0


# --- what may come later ------------------------------------------------------------------------


def _later() -> LaterView:
    """Invented rings."""
    rings = tuple(
        LaterRing(wide=wide, usual=usual, inert_share=0.4, words=(f"{wide:.1f} mm", "12 mmHg"))
        for wide, usual in ((9.0, 9.0), (11.0, 13.0), (17.0, 21.0))
    )
    rows = tuple(
        LaterRow(name=name, note="a note", rings=rings, example=name != "own")
        for name in ("own", "another")
    )
    return LaterView(
        title="Later",
        usual_words="usual",
        columns=("at operation", "5 y", "18 y"),
        rows=rows,
        bar_mm=10.0,
        figure_id="later",
    )


def test_rings_are_to_scale() -> None:
    """The usual ring of each age is as wide by the bar as it is said to be."""
    view = _later()
    root = root_of(later_svg(view))
    unit = _bar(_by_id(root)["later-bar"]) / 10.0
    assert unit == pytest.approx(later_scale(view), rel=0.01)
    seen = [2.0 * float(c.attrib["r"]) / unit for c in named(root, "circle")]
    asked = [ring.usual for row in view.rows for ring in row.rings]
    assert seen == pytest.approx(asked, rel=0.01)


def test_words_of_rings_do_not_overlap() -> None:
    """Nor do those beneath it."""
    boxes = text_boxes(root_of(later_svg(_later())))
    assert not [(a.words, b.words) for i, a in enumerate(boxes) for b in boxes[:i] if a.meets(b)]


# --- ways ---------------------------------------------------------------------------------------


def _words(svg: str) -> str:
    return " ".join(each.text or "" for each in named(root_of(svg), "text"))


def test_ways_stand_apart_from_what_was_published() -> None:
    """The simulated picture has no published number; the published one says whom it counts."""
    view = routes_view()
    ours, theirs = _words(routes_room_svg(view)), _words(published_room_svg(view))
    assert all(lane.standing in ours for lane in view.lanes)
    assert "no route is recommended" in ours
    assert "Published" not in ours
    assert "Published, other babies" in theirs
    assert "early deaths are not counted" in theirs


def test_words_of_ways_do_not_overlap() -> None:
    """Names, labels and chances have room of their own."""
    boxes = text_boxes(root_of(routes_room_svg(routes_view())))
    assert not [(a.words, b.words) for i, a in enumerate(boxes) for b in boxes[:i] if a.meets(b)]
