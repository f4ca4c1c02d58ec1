"""The steps of a switch as pictures in one scale, each with the way there from the one before."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.draw.svg import INK, QUIET, Sheet, path
from inseries.draw.switch_frame import COOL, WARM, arteries, draw_pieces, hatch, wall
from inseries.draw.switch_labels import draw_labels, draw_tags
from inseries.draw.switch_plan import draw_plan
from inseries.draw.switch_pose import button_mm, course_mm, pose
from inseries.draw.switch_shapes import Camera, root_tube
from inseries.draw.switch_view import STEPS

if TYPE_CHECKING:
    from inseries.draw.switch_shapes import Page
    from inseries.draw.switch_view import Point, SwitchView

# chosen: size of a step, drawing units
WIDE, HIGH = 960.0, 500.0
# chosen: from where it is seen, above the front of the chest
ABOVE_DEG, STRAIGHT_DEG = 50.0, 90.0
# chosen: room at the edges; where the left words end, the right ones begin
EDGES, LEFT_WORDS, RIGHT_WORDS = 14.0, 152.0, 478.0
# chosen: middle of the plan
PLAN, PLAN_MIDDLE = 800.0, 225.0
# chosen: greatest scale, drawing units per mm
MOST = 16.0
# chosen: letters, length of the bar in mm
LETTER, BAR_MM = 15.0, 5.0
SEEN = "From the front and above; the patient's left is on the reader's right."
SEEN_PLAN = "Straight from above, front at the bottom."


def switch_step_svg(view: SwitchView, step: int) -> str:
    """One step.

    Parameters
    ----------
    view : SwitchView
    step : int, place among the steps of ``switch_view``

    Returns
    -------
    str, SVG; ids, scale and places are those of every other step
    """
    sheet = Sheet(view.figure_id, WIDE)
    camera, plan = cameras(view)
    draw_pieces(sheet, view, camera, step)
    draw_tags(sheet, view, camera, step)
    draw_labels(sheet, view, camera, step, (LEFT_WORDS, RIGHT_WORDS))
    draw_plan(sheet, view, plan, step)
    _frame(sheet, camera.scale)
    return sheet.finish(HIGH, view.titles[step], spoken_step(view, step))


def spoken_step(view: SwitchView, step: int) -> str:
    """A step in words."""
    names = " and ".join(f"button {each.name}" for each in view.buttons)
    return f"{view.titles[step]}. Step {step + 1} of {STEPS}, to scale, with {names}. {SEEN}"


def cameras(view: SwitchView) -> tuple[Camera, Camera]:
    """The same scale and place for every step: from the front and above, and from above."""
    sides = LEFT_WORDS + EDGES, RIGHT_WORDS - EDGES
    camera = fitted(view, ABOVE_DEG, sides, (EDGES, HIGH - EDGES))
    old, scale = view.old_aorta, camera.scale
    left, top = PLAN - scale * old.x_mm / 2.0, PLAN_MIDDLE - scale * old.y_mm / 2.0
    return camera, Camera(STRAIGHT_DEG, scale, left, top)


def fitted(view: SwitchView, above_deg: float, sides: Page, ends: Page) -> Camera:
    """A camera by which every step lies between two sides, and between an upper and a lower end."""
    rough = Camera(above_deg, 1.0, 0.0, 0.0)
    xs, ys = zip(*(rough.at(point) for point in _reach(view, rough)), strict=True)
    scale = min(
        MOST, (sides[1] - sides[0]) / (max(xs) - min(xs)), (ends[1] - ends[0]) / (max(ys) - min(ys))
    )
    left = (sides[0] + sides[1]) / 2.0 - scale * (max(xs) + min(xs)) / 2.0
    return Camera(above_deg, scale, left, ends[1] - scale * max(ys))


def _reach(view: SwitchView, camera: Camera) -> list[Point]:
    """Places that the picture has to hold in every step."""
    found: list[Point] = []
    for step in range(STEPS):
        at = pose(float(step))
        for vessel in arteries(view, camera, at):
            found += [p for end in (0, -1) for p in vessel.rim(end)]
        for each in view.buttons:
            found += [*button_mm(view, each, at), course_mm(view, each, at)[-1]]
    for root in (view.old_aorta, view.old_lung):
        vessel = root_tube(camera, root)
        found += [p for i in range(len(vessel.rings)) for p in vessel.rim(i)]
    return found


def _frame(sheet: Sheet, scale: float) -> None:
    """Viewpoints, the bar, and what the hatches mean."""
    left = PLAN - 150.0
    sheet.text(left, 20.0, SEEN_PLAN, size=LETTER, fill=QUIET)
    low = HIGH - EDGES
    bar(sheet, scale, (left, low))
    for i, (tint, words) in enumerate(((WARM, "wall of the aorta"), (COOL, "of the lung artery"))):
        x, y = left + 165.0 * i, low - 52.0
        sheet.add("rect", x=x, y=y, width=26.0, height=18.0, **wall(tint))
        lines = "".join(path("M", x, y + h, "H", x + 26.0) for h in (5.0, 9.0, 13.0))
        sheet.add("path", d=lines, **hatch(tint))
        sheet.text(x + 32.0, y + 14.0, words, size=LETTER)


def bar(sheet: Sheet, scale: float, at: Page) -> None:
    """A bar of so many millimetres."""
    (left, low), long = at, BAR_MM * scale
    line = path("M", left, low - 5.0, "V", low, "H", left + long, "V", low - 5.0)
    sheet.add("path", id=sheet.id("bar"), d=line, fill="none", stroke=INK, stroke_width=2.0)
    sheet.text(left + long + 8.0, low, f"{BAR_MM:.0f} mm", size=LETTER)
