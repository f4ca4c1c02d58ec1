"""A repair as two pictures in one scale: the section of the roots, and a side view with the gap."""

from __future__ import annotations

from dataclasses import dataclass

from inseries.draw.repair_plan import (
    FOOT,
    HEAD,
    LETTER,
    MARGIN,
    THICK,
    THIN,
    Frame,
    Points,
    RepairPlan,
    draw_bar,
    draw_legend,
    draw_plan,
    legend,
    plan_scale,
    spoken_plan,
)
from inseries.draw.svg import INK, PALE, QUIET, RULE, Sheet, through

# chosen: widths of the two pictures and their height, drawing units
PLAN_WIDE, SIDE_WIDE, HIGH = 560.0, 440.0, 560.0
# chosen: length of the cross strokes that end the gap, drawing units
STROKE = 7.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Vessel:
    """One vessel in outline.

    Attributes
    ----------
    name : str, as printed in its middle; may be empty
    outline : tuple of (x, y), mm on the page, closed
    filled : bool, whether it lies in front of the others
    """

    name: str
    outline: Points
    filled: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SideView:
    """A section along the body's middle.

    Attributes
    ----------
    title, seen_from : str
    left_side, right_side : str, what lies toward the reader's left and right
    vessels : tuple of Vessel, the hindmost first
    gap : two points, mm on the page, between which tissue is lacking or overlaps
    gap_text : str
    """

    title: str
    seen_from: str
    left_side: str
    right_side: str
    vessels: tuple[Vessel, ...]
    gap: tuple[tuple[float, float], tuple[float, float]]
    gap_text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RepairView:
    """Both pictures."""

    plan: RepairPlan
    side: SideView


def repair_svg(view: RepairView) -> str:
    """The section with the buttons' ways, and beside it the side view with the gap.

    Parameters
    ----------
    view : RepairView

    Returns
    -------
    str, SVG; both pictures in one scale, told by a bar
    """
    sheet = Sheet(view.plan.figure_id, PLAN_WIDE + SIDE_WIDE)
    scale = min(plan_scale(view.plan, PLAN_WIDE, HIGH), _side_scale(view.side))
    draw_plan(sheet, view.plan, PLAN_WIDE, HIGH, scale)
    rule = through([(PLAN_WIDE, MARGIN), (PLAN_WIDE, HIGH - MARGIN)])
    sheet.add("path", d=rule, stroke=RULE)
    _side(sheet, view.side, scale)
    lines = [*legend(view.plan), view.side.gap_text]
    bottom = draw_legend(sheet, lines, HIGH - FOOT + MARGIN)
    return sheet.finish(bottom, view.plan.title, spoken(view))


def spoken(view: RepairView) -> str:
    """Both pictures in words."""
    return f"{spoken_plan(view.plan)} {view.side.seen_from} {view.side.gap_text}"


def _extent(view: SideView) -> tuple[float, float, float, float]:
    points = [p for vessel in view.vessels for p in vessel.outline] + list(view.gap)
    xs, ys = zip(*points, strict=True)
    return min(xs), max(xs), min(ys), max(ys)


def _side_scale(view: SideView) -> float:
    """Units per millimetre at which the side view fills its part."""
    left, right, low, high = _extent(view)
    return min(
        (SIDE_WIDE - 2.0 * MARGIN) / (right - left), (HIGH - HEAD - FOOT - MARGIN) / (high - low)
    )


def _side(sheet: Sheet, view: SideView, scale: float) -> None:
    left, right, low, high = _extent(view)
    middle, start = PLAN_WIDE + SIDE_WIDE / 2.0, PLAN_WIDE + MARGIN
    down = (HEAD + MARGIN + HIGH - FOOT + scale * (high + low)) / 2.0
    frame = Frame(scale, middle - scale * (left + right) / 2.0, down)
    sheet.open_group("side")
    sheet.text(start, 26.0, view.title, size=LETTER * 1.2, face="Bold")
    for i, words in enumerate(view.seen_from.replace(": ", ":\n").splitlines()):
        sheet.text(start, 48.0 + 19.0 * i, words, size=LETTER, fill=QUIET)
    for vessel in view.vessels:
        _vessel(sheet, frame, vessel)
    end = PLAN_WIDE + SIDE_WIDE - MARGIN
    sheet.text(start, HEAD + LETTER, view.left_side, size=LETTER, fill=QUIET)
    sheet.text(end, HEAD + LETTER, view.right_side, size=LETTER, anchor="end", fill=QUIET)
    _gap(sheet, frame, view)
    draw_bar(sheet, scale, end, HIGH - FOOT + MARGIN)
    sheet.close_group()


def _vessel(sheet: Sheet, frame: Frame, vessel: Vessel) -> None:
    line = frame.line(vessel.outline)
    fill = PALE if vessel.filled else "none"
    sheet.add("path", d=line, fill=fill, stroke=INK, stroke_width=THIN)
    xs, ys = zip(*vessel.outline, strict=True)
    x, y = frame.at(((max(xs) + min(xs)) / 2.0, (max(ys) + min(ys)) / 2.0))
    lines = vessel.name.split("\n")
    for i, words in enumerate(lines):
        down = (i - (len(lines) - 1) / 2.0) * LETTER * 1.2
        sheet.text(x, y + 5.0 + down, words, size=LETTER, anchor="middle")


def _gap(sheet: Sheet, frame: Frame, view: SideView) -> None:
    """A thick line with cross strokes at both ends."""
    (ax, ay), (bx, by) = (frame.at(point) for point in view.gap)
    sheet.add("path", d=through([(ax, ay), (bx, by)]), stroke=INK, stroke_width=2.0 * THICK)
    for x, y in ((ax, ay), (bx, by)):
        ends = [(x, y - STROKE), (x, y + STROKE)]
        sheet.add("path", d=through(ends), stroke=INK, stroke_width=THICK)
