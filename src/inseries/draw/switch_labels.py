"""What the pieces of a switch are called, beside the picture, each with a line to its piece.

Words stand in two columns; within one they are pushed apart, so that none lies on another.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from inseries.draw.svg import INK, QUIET, Sheet, path
from inseries.draw.switch_frame import Looks, Part, closed, draw_part, draw_tag, stops
from inseries.draw.switch_pose import (
    aorta_spine,
    branches_spine,
    button_mm,
    opening_mm,
)
from inseries.draw.switch_shapes import Camera, Page, facing, moved, on_wall
from inseries.draw.switch_view import CLOSED, CROSSED, CUT, SEWN

if TYPE_CHECKING:
    from collections.abc import Iterator

    from inseries.draw.svg import Anchor
    from inseries.draw.switch_pose import Pose
    from inseries.draw.switch_view import SwitchButton, SwitchView

# chosen: letters beside the picture and on a button, distance of lines, drawing units
LETTER, TAG, LINE = 18.0, 15.0, 25.0
# chosen: from the baseline up to where a leader meets the words, drawing units
RISE = 5.0
# chosen: how high above its opening a button's letter stands, mm
TAG_UP_MM = 2.0


@dataclass(frozen=True, slots=True)
class Label:
    """Words, the place on the sheet that they name, and on which side they stand."""

    words: str
    place: Page
    side: Anchor


def draw_labels(
    sheet: Sheet, view: SwitchView, camera: Camera, step: int, columns: tuple[float, float]
) -> None:
    """Draws the words of a step left and right of the picture.

    Parameters
    ----------
    sheet : Sheet
    view : SwitchView
    camera : Camera
    step : int
    columns : (float, float), where the words of the left column end and those of the right begin
    """
    found = list(labels(view, camera, step))
    sheet.open_group("words", data_late="1")
    sides: tuple[Anchor, Anchor] = ("end", "start")
    for side, x in zip(sides, columns, strict=True):
        mine = [each for each in found if each.side == side]
        for each, y in apart(mine):
            _label(sheet, each, x, y, side)
    sheet.close_group()


def apart(found: list[Label]) -> list[tuple[Label, float]]:
    """Each label with the height of its words, no two closer than a line."""
    placed: list[tuple[Label, float]] = []
    for each in sorted(found, key=lambda label: label.place[1]):
        least = placed[-1][1] + LINE if placed else LINE
        placed.append((each, max(least, each.place[1])))
    return placed


def _label(sheet: Sheet, label: Label, x: float, y: float, side: Anchor) -> None:
    gap = 6.0 if side == "end" else -6.0
    leader = path("M", x + gap, y - RISE, "L", *label.place)
    sheet.add("path", d=leader, fill="none", stroke=QUIET, stroke_width=1.2)
    sheet.add("circle", cx=label.place[0], cy=label.place[1], r=2.5, fill=INK)
    sheet.text(x, y, label.words, size=LETTER, anchor=side)


def labels(view: SwitchView, camera: Camera, step: int) -> Iterator[Label]:
    """What is named in a step."""
    here, _ = stops(step)
    aorta, branches = aorta_spine(view, here), branches_spine(view, here)
    aside = moved(aorta[len(aorta) * 3 // 4], (-0.35 * view.arteries.aorta_mm, 0.0, 0.0))
    yield Label("aorta", camera.at(aside), "end")
    yield Label("lung artery", camera.at(branches[len(branches) * 6 // 7]), "start")
    old, new = view.old_aorta, view.old_lung
    name = "new lung root" if step >= CROSSED else "aortic root"
    yield Label(
        name, camera.at((old.x_mm - 0.5 * old.sinus_mm, old.y_mm, 0.3 * old.height_mm)), "end"
    )
    name = "new aortic root" if step >= SEWN else "lung root"
    yield Label(
        name, camera.at((new.x_mm + 0.5 * new.sinus_mm, new.y_mm, 0.4 * new.height_mm)), "start"
    )
    for button in view.buttons:
        yield _of_button(view, camera, button, here, step)
    if step >= CLOSED:
        yield _of_patch(view, camera)


def _ahead(button: SwitchButton) -> float:
    """How far a button's old place looks to the front."""
    return facing(button.old_deg)[1]


def _side(view: SwitchView, x_mm: float) -> Anchor:
    """Words of a small piece stand on its own side of the roots."""
    return "end" if x_mm < view.old_aorta.x_mm / 2.0 else "start"


def _of_patch(view: SwitchView, camera: Camera) -> Label:
    """The patch that is best seen, or the place of one that is not."""
    root = view.old_aorta
    best = max((b for b in view.buttons if b.moves), key=_ahead)
    turn = min(EDGE_DEG, max(-EDGE_DEG, (best.old_deg + 180.0) % 360.0 - 180.0))
    behind = _ahead(best) < BEHIND
    words = "patch, behind" if behind else "patch"
    place = on_wall(root, turn, best.old_height_mm - 1.0)
    return Label(words, camera.at(place), _side(view, place[0]))


# chosen: a patch that looks back so far is out of sight
BEHIND = -0.3
# chosen: a patch on the side of a root is pointed at so far from the front, degrees
EDGE_DEG = 84.0


def _of_button(
    view: SwitchView, camera: Camera, button: SwitchButton, here: Pose, step: int
) -> Label:
    """A button by its vessel's far end, which stays where it is."""
    course = button.before if here.lifted == 0.0 else button.after or button.before
    kind = "coronary" if step < CUT else "button"
    return Label(f"{kind} {button.name}", camera.at(course[-1]), _side(view, course[-1][0]))


def draw_tags(
    sheet: Sheet, view: SwitchView, camera: Camera, step: int, *, moving: bool = True
) -> None:
    """Letters that go with the buttons, and a dashed outline where one is out of sight."""
    poses = stops(step, moving=moving)
    for button in view.buttons:
        _through(sheet, view, camera, button, poses)

        def tag(at: Pose, button: SwitchButton = button) -> Page:
            x, y = camera.at(moved(opening_mm(view, button, at), (0.0, 0.0, TAG_UP_MM)))
            return x, y + RISE

        draw_tag(sheet, f"tag-{button.name}", button.name, tag, poses, TAG)


def _through(
    sheet: Sheet,
    view: SwitchView,
    camera: Camera,
    button: SwitchButton,
    poses: tuple[Pose, list[Pose]],
) -> None:
    looks: Looks = {"fill": "none", "stroke": INK, "stroke_width": 1.2, "stroke_dasharray": "3 3"}
    line = Part(
        f"through-{button.name}",
        lambda at: closed(camera, button_mm(view, button, at)),
        looks,
    )
    draw_part(sheet, line, *poses)
