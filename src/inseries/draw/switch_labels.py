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
    turned_deg,
    waist_mm,
)
from inseries.draw.switch_shapes import Camera, Page, dot, facing, moved
from inseries.draw.switch_view import CLOSED, CROSSED, CUT, SEWN

if TYPE_CHECKING:
    from collections.abc import Iterator

    from inseries.draw.svg import Anchor
    from inseries.draw.switch_pose import Pose
    from inseries.draw.switch_view import SwitchButton, SwitchView

# chosen: letters beside the picture and on a button, distance of lines, drawing units
LETTER, TAG, LINE = 17.0, 14.0, 24.0
# chosen: from the baseline up to where a leader meets the words, drawing units
RISE = 5.0
# chosen: how high above its opening a button's letter stands, mm
TAG_UP_MM = 1.3


@dataclass(frozen=True, slots=True)
class Label:
    """Words, and the place on the sheet that they name."""

    words: str
    place: Page


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
        mine = [each for each in found if (each.place[0] < camera.left) == (side == "end")]
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
    yield Label("aorta", camera.at(aorta[len(aorta) * 3 // 4]))
    yield Label("lung artery", camera.at(branches[len(branches) * 6 // 7]))
    old, new = view.old_aorta, view.old_lung
    name = "new lung root" if step >= CROSSED else "aortic root"
    yield Label(name, camera.at((old.x_mm - 0.5 * old.sinus_mm, old.y_mm, 0.3 * old.height_mm)))
    name = "new aortic root" if step >= SEWN else "lung root"
    yield Label(name, camera.at((new.x_mm + 0.5 * new.sinus_mm, new.y_mm, 0.4 * new.height_mm)))
    for button in view.buttons:
        yield _of_button(view, camera, button, here, step)
    band = waist_mm(view, here)
    if step >= CLOSED:
        holes = [b for b in view.buttons if b.moves]
        yield Label("patch", camera.at(band[len(band) // 4] if band else _hole(view, holes[0])))


def _hole(view: SwitchView, button: SwitchButton) -> tuple[float, float, float]:
    root, out = view.old_aorta, facing(button.old_deg)
    return moved((root.x_mm, root.y_mm, button.old_height_mm), out, root.sinus_mm / 2.0)


def _of_button(
    view: SwitchView, camera: Camera, button: SwitchButton, here: Pose, step: int
) -> Label:
    """A button by its vessel's far end, which stays where it is."""
    course = button.before if here.lifted == 0.0 else button.after or button.before
    kind = "coronary" if step < CUT else "button"
    return Label(f"{kind} {button.name}", camera.at(course[-1]))


def draw_tags(
    sheet: Sheet, view: SwitchView, camera: Camera, step: int, *, moving: bool = True
) -> None:
    """Letters that go with the buttons, and a dashed outline of a button that is out of sight."""
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
    def hidden(at: Pose) -> float:
        return float(dot(facing(turned_deg(button, at)), camera.toward) < 0.0)

    looks: Looks = {"fill": "none", "stroke": INK, "stroke_width": 1.2, "stroke_dasharray": "3 3"}
    line = Part(
        f"through-{button.name}",
        lambda at: closed(camera, button_mm(view, button, at)),
        looks,
        hidden,
    )
    draw_part(sheet, line, *poses)
