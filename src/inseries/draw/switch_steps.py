"""The steps of a switch as pictures in one scale, each with the way there from the one before."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.draw.svg import INK, QUIET, Sheet, path
from inseries.draw.switch_frame import AMBER, CLOTH, COOL, WARM, arteries, draw_pieces, hatch, wall
from inseries.draw.switch_labels import draw_labels, draw_tags
from inseries.draw.switch_plan import draw_plan
from inseries.draw.switch_pose import button_mm, course_mm, pose
from inseries.draw.switch_shapes import Camera, root_tube
from inseries.draw.switch_view import STEPS

if TYPE_CHECKING:
    from collections.abc import Callable

    from inseries.draw.switch_shapes import Page
    from inseries.draw.switch_view import Point, SwitchView

# chosen: size of a step, drawing units
WIDE, HIGH = 960.0, 500.0
# chosen: from where it is seen, above the front of the chest
ABOVE_DEG, STRAIGHT_DEG = 50.0, 90.0
# chosen: room at the edges; where the left words end, the right ones begin
EDGES, LEFT_WORDS, RIGHT_WORDS = 14.0, 148.0, 548.0
# chosen: room for the viewpoints above, drawing units
HEAD = 30.0
# chosen: sides of the plan and its lower end
PLAN, PLAN_ENDS = (690.0, 946.0), 424.0
# chosen: greatest scale, drawing units per mm
MOST = 16.0
# chosen: letters, length of the bar in mm
LETTER, BAR_MM = 15.0, 5.0
SEEN = "Seen from the front and above; the patient's left is on the reader's right."
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
    """One scale for every step and both views: from the front and above, and from above."""
    sides = (LEFT_WORDS + EDGES, RIGHT_WORDS - EDGES), PLAN
    ends = (HEAD, HIGH - EDGES), (HEAD, PLAN_ENDS)
    views = (ABOVE_DEG, _reach), (STRAIGHT_DEG, _level_reach)
    scale = min(
        _scale(_ends(view, above, reach), side, end)
        for (above, reach), side, end in zip(views, sides, ends, strict=True)
    )
    one, other = (
        _placed(_ends(view, above, reach), above, scale, side, end)
        for (above, reach), side, end in zip(views, sides, ends, strict=True)
    )
    return one, other


def fitted(view: SwitchView, above_deg: float, sides: Page, ends: Page) -> Camera:
    """A camera by which every step lies between two sides, and between an upper and a lower end."""
    taken = _ends(view, above_deg, _reach)
    return _placed(taken, above_deg, _scale(taken, sides, ends), sides, ends)


Ends = tuple[float, float, float, float]


def _ends(
    view: SwitchView, above_deg: float, reach: Callable[[SwitchView, Camera], list[Point]]
) -> Ends:
    """Left, right, upper and lower end of what has to be held, mm on the page."""
    rough = Camera(above_deg, 1.0, 0.0, 0.0)
    xs, ys = zip(*(rough.at(point) for point in reach(view, rough)), strict=True)
    return min(xs), max(xs), min(ys), max(ys)


def _scale(taken: Ends, sides: Page, ends: Page) -> float:
    left, right, upper, lower = taken
    return min(MOST, (sides[1] - sides[0]) / (right - left), (ends[1] - ends[0]) / (lower - upper))


def _placed(taken: Ends, above_deg: float, scale: float, sides: Page, ends: Page) -> Camera:
    """In the middle between the sides and between the ends."""
    left, right, upper, lower = taken
    x = (sides[0] + sides[1]) / 2.0 - scale * (left + right) / 2.0
    free = ends[1] - ends[0] - scale * (lower - upper)
    y = ends[1] - scale * lower - free / 2.0
    return Camera(above_deg, scale, x, y)


def _level_reach(view: SwitchView, _: Camera) -> list[Point]:
    """Places that the plan has to hold: roots, and where vessels are tethered."""
    found = [each.before[-1] for each in view.buttons]
    for root in (view.old_aorta, view.old_lung):
        far = root.sinus_mm / 2.0
        corners = ((far, 0.0), (-far, 0.0), (0.0, far), (0.0, -far))
        found += [(root.x_mm + x, root.y_mm + y, 0.0) for x, y in corners]
    thick = max((each.vessel_mm for each in view.buttons), default=0.0) / 2.0
    return [(x + side, y, z) for x, y, z in found for side in (-thick, thick)]


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
    left, low = RIGHT_WORDS + 118.0, HIGH - EDGES
    sheet.text(EDGES, 18.0, SEEN, size=LETTER, fill=QUIET)
    sheet.text(WIDE - EDGES, 18.0, SEEN_PLAN, size=LETTER, fill=QUIET, anchor="end")
    bar(sheet, scale, (left - 150.0, low))
    legend: tuple[tuple[str, str], ...] = (
        (WARM, "aortic wall"),
        (COOL, "lung artery wall"),
        (AMBER, "button, vessel"),
        (CLOTH, "patch"),
    )
    for i, (tint, words) in enumerate(legend):
        x, y = left + 138.0 * (i % 2), low - 46.0 + 28.0 * (i // 2)
        fill = f"url(#{sheet.id('cloth')})" if tint == CLOTH else tint
        sheet.add("rect", x=x, y=y, width=26.0, height=18.0, **(wall(tint) | {"fill": fill}))
        if tint in (WARM, COOL):
            lines = "".join(path("M", x, y + h, "H", x + 26.0) for h in (5.0, 9.0, 13.0))
            sheet.add("path", d=lines, **hatch(tint))
        sheet.text(x + 32.0, y + 14.0, words, size=LETTER)


def bar(sheet: Sheet, scale: float, at: Page) -> None:
    """A bar of so many millimetres."""
    (left, low), long = at, BAR_MM * scale
    line = path("M", left, low - 5.0, "V", low, "H", left + long, "V", low - 5.0)
    sheet.add("path", id=sheet.id("bar"), d=line, fill="none", stroke=INK, stroke_width=2.0)
    sheet.text(left + long + 8.0, low, f"{BAR_MM:.0f} mm", size=LETTER)
