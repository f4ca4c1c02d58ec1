"""Where every piece of a switch is at any place between its first and its last step.

What a plan says holds exactly: roots, buttons before and after, first courses, widths. How the
arteries beyond their cut ends run, and the way between two steps, is drawn and not computed.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, dist, hypot, radians, sin, sqrt
from typing import TYPE_CHECKING

from inseries.draw.switch_shapes import (
    Page,
    along,
    curve,
    eased,
    facing,
    moved,
    on_wall,
    root_radius_mm,
    u_shape,
)
from inseries.draw.switch_view import CLOSED, CROSSED, CUT, JOINED, LIFTED, SEWN

if TYPE_CHECKING:
    from collections.abc import Sequence

    from inseries.draw.switch_view import Point, SwitchButton, SwitchRoot, SwitchView

# chosen: how far cut ends are drawn apart, how high a button is lifted and by which share of its
# way; millimetres and a share
APART_MM, LIFT_MM, LIFTED_SHARE = 10.0, 3.5, 0.3
# chosen: how far the ascending aorta is drawn, up, back and toward the middle, mm
RISE_MM, BACK_MM = 11.0, 6.0
# chosen: share of that by which the far end goes with a cut end; how high the lung artery is held
# until it is joined, mm
FOLLOWS, HELD_MM = 0.55, 4.0
# chosen: cross-sections of an artery
RINGS = 17
# chosen: share of the ascending aorta's length over which it keeps its direction at either end
LEAD = 0.45
# chosen: how far outside a patch waits before it is laid on, mm
WAITS_MM = 9.0


@dataclass(frozen=True, slots=True)
class Pose:
    """How far each part of the operation has gone, from 0 to 1."""

    cut: float
    lifted: float
    sewn: float
    crossed: float
    closed: float
    joined: float


def pose(place: float) -> Pose:
    """The pose at a place counted in steps."""
    return Pose(
        *(eased(place - step + 1.0) for step in (CUT, LIFTED, SEWN, CROSSED, CLOSED, JOINED))
    )


# --- buttons ------------------------------------------------------------------------------------


def button_share(at: Pose) -> float:
    """Which part of its way a button has gone."""
    return LIFTED_SHARE * at.lifted + (1.0 - LIFTED_SHARE) * at.sewn


def button_lift_mm(at: Pose) -> float:
    """How high above the straight way."""
    return LIFT_MM * (at.lifted - at.sewn)


def opening_mm(view: SwitchView, button: SwitchButton, at: Pose) -> Point:
    """Where a button's opening is."""
    start = on_wall(view.old_aorta, button.old_deg, button.old_height_mm)
    if button.new_deg is None or button.new_height_mm is None:
        return start
    end = on_wall(view.old_lung, button.new_deg, button.new_height_mm)
    return moved(along(start, end, button_share(at)), (0.0, 0.0, button_lift_mm(at)))


def course_mm(view: SwitchView, button: SwitchButton, at: Pose) -> list[Point]:
    """The vessel from its opening to the place where it is tethered, which stays."""
    start, share = opening_mm(view, button, at), button_share(at)
    pairs = list(zip(button.before, button.after or button.before, strict=True))
    found = [along(one, other, share) for one, other in pairs]
    off = moved(start, found[0], -1.0)
    last = len(found) - 1
    return [moved(p, off, (1.0 - i / last) ** 2) for i, p in enumerate(found)]


def turned_deg(button: SwitchButton, at: Pose) -> float:
    """Direction a button's face looks to, from the front."""
    if button.new_deg is None:
        return button.old_deg
    swing = (button.new_deg - button.old_deg + 180.0) % 360.0 - 180.0
    return button.old_deg + button_share(at) * swing


def button_outline(button: SwitchButton) -> list[Page]:
    """The piece of wall about its opening: to its left, upward, mm."""
    return u_shape(button.width_mm, max(0.0, button.above_mm), button.width_mm / 2.0)


def button_mm(view: SwitchView, button: SwitchButton, at: Pose) -> list[Point]:
    """Outline of the piece of wall where it now is, bent as the wall it comes from or goes to."""
    return sheet_mm(view, button, at, button_outline(button))


def arc_mm(view: SwitchView, button: SwitchButton, at: Pose) -> list[Point]:
    """The piece of wall across its opening, from side to side."""
    across = [(button.width_mm * (i / ARC - 0.5), 0.0) for i in range(ARC + 1)]
    return sheet_mm(view, button, at, across)


# chosen: parts of a line across a button
ARC = 12


def sheet_mm(
    view: SwitchView, button: SwitchButton, at: Pose, places: Sequence[Page]
) -> list[Point]:
    """Places of a button, to its left and upward of its opening, where they now are."""
    share, turn = button_share(at), turned_deg(button, at)
    middle = opening_mm(view, button, at)
    ends = ((view.old_aorta, 1.0 - share), (view.old_lung, share))
    bend = sum(part / (root.sinus_mm / 2.0) for root, part in ends)
    heights = (button.old_height_mm, button.new_height_mm or button.old_height_mm)

    def drop(up: float) -> float:
        return sum(
            part * (root.sinus_mm / 2.0 - root_radius_mm(root, height + up))
            for (root, part), height in zip(ends, heights, strict=True)
        )

    return [_bent(middle, turn, bend, (aside, up, drop(up))) for aside, up in places]


def _bent(middle: Point, turn_deg: float, bend: float, place: Point) -> Point:
    """A place of a bent sheet: along it, up, and how far it sinks."""
    aside, up, drop = place
    out = facing(turn_deg)
    left: Point = (out[1], -out[0], 0.0)
    arc = bend * aside
    level = moved(moved(middle, left, sin(arc) / bend), out, -(1.0 - cos(arc)) / bend - drop)
    return moved(level, (0.0, 0.0, up))


def hole_mm(root: SwitchRoot, button: SwitchButton, deg: float, height_mm: float) -> list[Point]:
    """The same outline on the wall of a root."""
    radius = root.sinus_mm / 2.0
    return [
        on_wall(root, deg + aside / radius / RADIAN, height_mm + up)
        for aside, up in button_outline(button)
    ]


def seen_hole_mm(root: SwitchRoot, button: SwitchButton, deg: float, height: float) -> list[Point]:
    """Of that outline what lies on the half of the wall that faces the front."""
    radius, turn = root.sinus_mm / 2.0, (deg + 180.0) % 360.0 - 180.0
    return [
        on_wall(root, min(90.0, max(-90.0, turn + aside / radius / RADIAN)), height + up)
        for aside, up in button_outline(button)
    ]


# derived: one degree in radians
RADIAN = radians(1.0)


# --- great arteries -----------------------------------------------------------------------------


def aorta_spine(view: SwitchView, at: Pose) -> list[Point]:
    """Middle of the ascending aorta, from its lower end to where it goes on into the arch."""
    one, other = view.old_aorta, view.old_lung
    away = APART_MM * (at.cut - at.crossed)
    start = moved(along(_top(one), _top(other), at.crossed), UP, away)
    high = max(one.height_mm, other.height_mm) + RISE_MM
    end = moved((0.3 * one.x_mm, -BACK_MM + 0.3 * one.y_mm, high), UP, FOLLOWS * away)
    up = LEAD * (end[2] - start[2])
    lead = moved(start, (0.0, 0.0, up))
    return curve(start, lead, moved(end, (0.0, LEAD * BACK_MM, -up)), end, RINGS)


# derived: toward the head
UP: Point = (0.0, 0.0, 1.0)


def _top(root: SwitchRoot) -> Point:
    return root.x_mm, root.y_mm, root.height_mm


def parting_mm(view: SwitchView, at: Pose) -> Point:
    """Where the branches of the lung artery part."""
    a, old = view.arteries, view.old_lung
    kept = a.trunk_left_mm + a.branch_mm / 2.0
    one: Point = (0.0, a.parts_before_mm, old.height_mm + kept)
    lifted = moved(one, UP, FOLLOWS * APART_MM * at.cut)
    after = one if a.way != "in front" else _parting_after(view, kept + view.patch.waist_mm)
    return along(lifted, moved(after, UP, HELD_MM * (1.0 - at.joined)), at.crossed)


def _parting_after(view: SwitchView, length_mm: float) -> Point:
    """So high above the new lung root that what is left of the trunk reaches it."""
    a, new = view.arteries, view.old_aorta
    level = hypot(new.x_mm, new.y_mm - a.parts_after_mm)
    high = sqrt(max(length_mm**2 - level**2, (0.6 * a.trunk_mm) ** 2))
    return 0.0, a.parts_after_mm, new.height_mm + high


def branches_spine(view: SwitchView, at: Pose) -> list[Point]:
    """Middle of both branches, from the right hilum to the left one."""
    a = view.arteries
    middle = parting_mm(view, at)
    back = -view.old_lung.sinus_mm / 2.0
    sides = [_branch((side * a.hilar_mm / 2.0, back, middle[2]), middle) for side in (-1.0, 1.0)]
    return [*sides[0], *sides[1][-2::-1]]


def _branch(hilum: Point, middle: Point) -> list[Point]:
    """From the hilum, led outward there, to where the branches part, led across there."""
    out = moved(hilum, (-hilum[0] * 0.3, (middle[1] - hilum[1]) * 0.35, 0.0))
    across = moved(middle, (hilum[0] * 0.5, 0.0, 0.0))
    return curve(hilum, out, across, middle, RINGS // 2 + 1)


def mount_mm(view: SwitchView, at: Pose) -> Point:
    """Where the trunk leaves the branches: where they part, or moved toward its new root."""
    branches = branches_spine(view, at)
    if view.arteries.way != "beside":
        return branches[len(branches) // 2]
    wanted = ASIDE * view.old_aorta.x_mm * at.crossed
    return min(branches, key=lambda p: abs(p[0] - wanted))


# chosen: a join that is moved toward a branch lies so far on the way to its new root
ASIDE = 0.5


def trunk_spine(view: SwitchView, at: Pose) -> list[Point]:
    """Middle of the lung trunk, from its lower end to where it leaves the branches."""
    a, end = view.arteries, mount_mm(view, at)
    kept = a.trunk_left_mm + a.branch_mm / 2.0
    born, new = _top(view.old_lung), _top(view.old_aorta)
    lifted = moved(born, UP, FOLLOWS * APART_MM * at.cut)
    ahead = along(end, new, kept / dist(end, new))
    start = along(along(lifted, ahead, at.crossed), new, at.joined)
    straight = along(start, end, LEAD)
    upright = moved(start, UP, LEAD * max(0.0, end[2] - start[2]))
    tail = along(moved(end, UP, -LEAD * (end[2] - start[2])), along(end, start, LEAD), at.crossed)
    free = at.crossed * (1.0 - at.joined)
    return curve(start, along(upright, straight, free), tail, end, RINGS)


# --- patches ------------------------------------------------------------------------------------


def patch_mm(view: SwitchView, button: SwitchButton, at: Pose) -> list[Point]:
    """A piece on its way into the hole that a button left."""
    away = moved((0.0, 0.0, 0.0), facing(button.old_deg), WAITS_MM * (1.0 - at.closed))
    hole = seen_hole_mm(view.old_aorta, button, button.old_deg, button.old_height_mm)
    return [moved(p, away) for p in hole]


def waist_mm(view: SwitchView, at: Pose) -> list[Point]:
    """The band that makes one piece of two, above the cut edge, from hole to hole."""
    root, waist = view.old_aorta, view.patch.waist_mm
    moves = sorted((b for b in view.buttons if b.moves), key=lambda b: b.old_deg % 360.0)
    if waist <= 0.0 or len(moves) != 2:
        return []
    half = [b.width_mm / root.sinus_mm / RADIAN for b in moves]
    first, last = moves[0].old_deg % 360.0 - half[0], moves[1].old_deg % 360.0 + half[1]
    turns = [first + (last - first) * i / BAND for i in range(BAND + 1)]
    away = moved((0.0, 0.0, 0.0), facing((first + last) / 2.0), WAITS_MM * (1.0 - at.closed))
    foot = [on_wall(root, turn, root.height_mm) for turn in turns]
    rim = [moved(p, (0.0, 0.0, waist)) for p in reversed(foot)]
    return [moved(p, away) for p in (*foot, *rim, foot[0])]


# chosen: points along the band
BAND = 24
