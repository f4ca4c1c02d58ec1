"""The two roots straight from above, in the scale of the picture beside it."""

from __future__ import annotations

from math import hypot
from typing import TYPE_CHECKING

from inseries.draw.svg import INK, Sheet
from inseries.draw.switch_frame import (
    AMBER,
    COOL,
    EDGE,
    WARM,
    Looks,
    Part,
    draw_part,
    draw_tag,
    opened,
    stops,
    wall,
)
from inseries.draw.switch_pose import arc_mm, course_mm, opening_mm, turned_deg
from inseries.draw.switch_shapes import Camera, Page, along, facing, moved, on_wall

if TYPE_CHECKING:
    from inseries.draw.switch_pose import Pose
    from inseries.draw.switch_view import SwitchButton, SwitchRoot, SwitchView

# chosen: length of a tick at a commissure, mm; letters, drawing units
TICK_MM, LETTER = 0.9, 15.0
# chosen: how far inside its wall a letter stands, mm
TAG_MM = 1.6
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
