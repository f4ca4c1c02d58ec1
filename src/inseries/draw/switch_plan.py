"""The two roots straight from above, in the scale of the picture beside it."""

from __future__ import annotations

from math import dist, hypot
from typing import TYPE_CHECKING

from inseries.draw.svg import INK, QUIET, Sheet
from inseries.draw.switch_frame import (
    AMBER,
    CLOTH,
    COOL,
    EDGE,
    PAPER,
    WARM,
    Looks,
    Part,
    draw_part,
    draw_tag,
    opened,
    stops,
    wall,
)
from inseries.draw.switch_pose import arc_mm, course_mm, opening_mm, pose, turned_deg
from inseries.draw.switch_shapes import Camera, Page, along, facing, moved, on_wall
from inseries.draw.switch_view import CROSSED, SEWN

if TYPE_CHECKING:
    from collections.abc import Callable

    from inseries.draw.switch_pose import Pose
    from inseries.draw.switch_view import SwitchButton, SwitchRoot, SwitchView

# chosen: length of a tick at a commissure, mm; letters, drawing units
TICK_MM, LETTER = 0.9, 15.0
# chosen: how far inside its wall a letter stands, mm
TAG_MM = 1.6
# chosen: a root's name stands so far off its middle, share of its width
AWAY = 0.14
# chosen: how thick a button's wall is drawn, drawing units
THICK = 9.0


def draw_plan(sheet: Sheet, view: SwitchView, camera: Camera, step: int) -> None:
    """Draws roots, commissures, buttons and first courses from above.

    Parameters
    ----------
    sheet : Sheet
    view : SwitchView
    camera : Camera, straight from above
    step : int
    """
    sheet.open_group("plan")
    _circle(sheet, camera, view.old_lung, "lung", COOL)
    _circle(sheet, camera, view.old_aorta, "aortic", WARM)
    poses = stops(step)
    _names(sheet, view, camera, step)
    for button in view.buttons:
        _old_place(sheet, view, camera, button, poses)
    for button in view.buttons:
        _vessel(sheet, view, camera, button, poses)
    for button in view.buttons:
        _wall_of(sheet, view, camera, button, poses)
        _tag(sheet, view, camera, button, poses)
    sheet.close_group()


def _tag(
    sheet: Sheet,
    view: SwitchView,
    camera: Camera,
    button: SwitchButton,
    poses: tuple[Pose, list[Pose]],
) -> None:
    """Its letters, on the inner side of the wall that it is in."""

    def place(at: Pose) -> Page:
        out = facing(turned_deg(button, at))
        x, y = camera.at(moved(opening_mm(view, button, at), out, -TAG_MM))
        return x, y + 0.35 * LETTER

    here, way = poses
    draw_tag(sheet, f"plan-tag-{button.name}", button.name, place, (here, way), LETTER)


def _circle(sheet: Sheet, camera: Camera, root: SwitchRoot, name: str, tint: str) -> None:
    x, y = camera.at((root.x_mm, root.y_mm, 0.0))
    radius = camera.scale * root.sinus_mm / 2.0
    sheet.add("circle", id=sheet.id(f"plan-{name}"), cx=x, cy=y, r=radius, **wall(tint))
    middle = (root.x_mm, root.y_mm, 0.0)
    ticks = ""
    for deg in root.commissures_deg:
        edge = on_wall(root, deg, root.height_mm / 2.0)
        edge = (edge[0], edge[1], 0.0)
        inner = along(edge, middle, TICK_MM / hypot(edge[0] - middle[0], edge[1] - middle[1]))
        ticks += opened(camera, [edge, inner])
    sheet.add("path", d=ticks, fill="none", stroke=INK, stroke_width=EDGE)


def _names(sheet: Sheet, view: SwitchView, camera: Camera, step: int) -> None:
    """What each root is, in it and away from the other one."""
    old, new = view.old_aorta, view.old_lung
    for root, other, words in (
        (old, new, "new lung root" if step >= CROSSED else "aortic root"),
        (new, old, "new aortic root" if step >= SEWN else "lung root"),
    ):
        away = AWAY * root.sinus_mm / dist((root.x_mm, root.y_mm), (other.x_mm, other.y_mm))
        place = root.x_mm - other.x_mm, root.y_mm - other.y_mm, 0.0
        x, y = camera.at(moved((root.x_mm, root.y_mm, 0.0), place, away))
        for i, part in enumerate(words.rsplit(" ", 1)):
            sheet.text(x, y + 17.0 * i, part, size=LETTER, anchor="middle", fill=QUIET)


def _old_place(
    sheet: Sheet,
    view: SwitchView,
    camera: Camera,
    button: SwitchButton,
    poses: tuple[Pose, list[Pose]],
) -> None:
    """Where a button was: a gap in the wall, then a patch."""
    if not button.moves:
        return
    level = [(x, y, 0.0) for x, y, _ in arc_mm(view, button, pose(0.0))]
    line = opened(camera, level)
    bare: Looks = {"fill": "none", "stroke": PAPER, "stroke_width": THICK / 2.0}
    edge: Looks = {"fill": "none", "stroke": INK, "stroke_width": THICK}
    cloth: Looks = {"fill": "none", "stroke": CLOTH, "stroke_width": THICK - 2.0 * EDGE}

    def part(name: str, looks: Looks, seen: Callable[[Pose], float]) -> None:
        draw_part(sheet, Part(f"plan-{name}-{button.name}", lambda _: line, looks, seen), *poses)

    part("hole", bare, lambda at: at.lifted)
    part("patch", edge, lambda at: at.closed)
    part("patch-in", cloth, lambda at: at.closed)


def _vessel(
    sheet: Sheet,
    view: SwitchView,
    camera: Camera,
    button: SwitchButton,
    poses: tuple[Pose, list[Pose]],
) -> None:
    wide = camera.scale * button.vessel_mm
    looks: Looks = {"fill": "none", "stroke_linecap": "round", "stroke_linejoin": "round"}
    strokes = ((INK, wide, ""), (AMBER, wide - 2.0 * EDGE, "-in"))
    for ink, width, end in strokes:
        part = Part(
            f"plan-vessel-{button.name}{end}",
            lambda at: opened(camera, course_mm(view, button, at)),
            looks | {"stroke": ink, "stroke_width": width},
        )
        draw_part(sheet, part, *poses)


def _wall_of(
    sheet: Sheet,
    view: SwitchView,
    camera: Camera,
    button: SwitchButton,
    poses: tuple[Pose, list[Pose]],
) -> None:
    """The button's wall at its opening's height: a thick arc of its true width."""

    def line(at: Pose) -> str:
        return opened(camera, [(x, y, 0.0) for x, y, _ in arc_mm(view, button, at)])

    looks: Looks = {"fill": "none", "stroke_linecap": "butt"}
    for ink, width, end in ((INK, THICK, ""), (AMBER, THICK - 2.0 * EDGE, "-in")):
        part = Part(
            f"plan-button-{button.name}{end}", line, looks | {"stroke": ink, "stroke_width": width}
        )
        draw_part(sheet, part, *poses)
