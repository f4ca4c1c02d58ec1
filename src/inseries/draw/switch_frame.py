"""One step of a switch as a picture, and the way there from the step before.

The same code draws the still picture and the places between two steps. Each element has an id that
stays the same over all steps; what moves has its outlines on the way in ``data-way``.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from inseries.draw.svg import INK, QUIET, Sheet, number
from inseries.draw.switch_pose import (
    RINGS,
    Pose,
    aorta_spine,
    branches_spine,
    button_mm,
    course_mm,
    hole_mm,
    opening_mm,
    patch_mm,
    pose,
    seen_hole_mm,
    trunk_spine,
    waist_mm,
)
from inseries.draw.switch_shapes import (
    Camera,
    Page,
    Tube,
    dot,
    facing,
    hull,
    on_wall,
    root_tube,
    tube,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from inseries.draw.svg import Attribute
    from inseries.draw.switch_view import Point, SwitchButton, SwitchRoot, SwitchView

# chosen: places drawn on the way from one step to the next
BETWEEN = 8
# chosen: tints of the walls of aorta and lung artery, of a button, a patch, and a lumen
WARM, COOL, AMBER, CLOTH, PAPER = "#fbe9d3", "#e7def0", "#f4b56b", "#c9ccd6", "#ffffff"
# chosen: strokes, drawing units
EDGE, FINE, STITCH = 1.6, 0.8, 4.0
# chosen: rings on a wall stand so far apart, mm
RINGS_MM = 2.0
# chosen: the inner side of a wall is a little darker than its outer one
LUMEN = {WARM: "#f0d3b0", COOL: "#d3c4e2"}

Looks = dict[str, "Attribute"]


def always(_: Pose) -> float:
    """Seen in every step."""
    return 1.0


@dataclass(frozen=True, slots=True)
class Part:
    """One element: what it is called, its outline and how much it is seen in any pose."""

    name: str
    line: Callable[[Pose], str]
    looks: Looks
    seen: Callable[[Pose], float] = always


@dataclass(frozen=True, slots=True)
class Piece:
    """Elements that lie together, how near they are, mm, and what is seen through the last one."""

    parts: tuple[Part, ...]
    near: Callable[[Pose], float]
    within: tuple[Part, ...] = ()


def closed(camera: Camera, points: Sequence[Point]) -> str:
    """Path data of a closed line through points."""
    return f"{opened(camera, points)}Z" if points else ""


def opened(camera: Camera, points: Sequence[Point]) -> str:
    """Path data of a line through points."""
    return "M" + "L".join(_pair(camera.at(point)) for point in points) if points else ""


def _pair(place: Page) -> str:
    return f"{number(round(place[0], 1))} {number(round(place[1], 1))}"


def draw_pieces(
    sheet: Sheet, view: SwitchView, camera: Camera, step: int, *, moving: bool = True
) -> None:
    """Draws a step, what is nearer last, with the way from the step before.

    Parameters
    ----------
    sheet : Sheet
    view : SwitchView
    camera : Camera
    step : int, place among the steps of ``switch_view``
    moving : bool, whether the way is told too
    """
    here, way = stops(step, moving=moving)
    weave(sheet)
    for piece in sorted(pieces(view, camera), key=lambda each: each.near(here)):
        for part in piece.parts:
            draw_part(sheet, part, here, way)
        if piece.within:
            _within(sheet, piece, here, way)


def weave(sheet: Sheet) -> str:
    """What a patch is filled with: a weave, so that no print takes it for a wall."""
    inner = (
        f'<path d="M0 0H8V8H0Z" fill="{CLOTH}"/>'
        f'<path d="M0 0L8 8M8 0L0 8" fill="none" stroke="{INK}" stroke-width="0.7"/>'
    )
    return sheet.define(
        "pattern", "cloth", inner, width=8.0, height=8.0, patternUnits="userSpaceOnUse"
    )


def stops(step: int, *, moving: bool = True) -> tuple[Pose, list[Pose]]:
    """The pose of a step, and those on the way from the step before."""
    way = [pose(step - 1 + i / BETWEEN) for i in range(BETWEEN)] if step and moving else []
    return pose(float(step)), way


def _within(sheet: Sheet, piece: Piece, here: Pose, way: list[Pose]) -> None:
    """What is seen through a rim, and nothing of it outside that rim."""
    rim = piece.parts[-1]
    inner = f'<path d="{rim.line(here)}"/>'
    cut = sheet.define("clipPath", f"{rim.name}-cut", inner)
    sheet.open_group(f"{rim.name}-within", clip_path=cut)
    for part in piece.within:
        draw_part(sheet, part, here, way)
    sheet.close_group()
    edge: Looks = {"fill": "none", "stroke": INK, "stroke_width": EDGE}
    draw_part(sheet, Part(f"{rim.name}-edge", rim.line, edge), here, way)


def draw_part(sheet: Sheet, part: Part, here: Pose, way: list[Pose]) -> None:
    """Adds one element as it is here, with its outlines on the way."""
    line, seen = part.line(here), part.seen(here)
    told: Looks = {"id": sheet.id(part.name), "d": line or "M0 0", **part.looks}
    if told["fill"] == CLOTH:
        told["fill"] = f"url(#{sheet.id('cloth')})"
    before, fades = [part.line(at) for at in way], [part.seen(at) for at in way]
    if any(each != line for each in before) and line:
        told["data_way"] = "|".join(before)
    if any(each != seen for each in fades):
        told["data_fade"] = "|".join(number(each) for each in fades)
    if seen != 1.0 or "data_fade" in told:
        told["opacity"] = seen
    sheet.add("path", **told)


def draw_tag(
    sheet: Sheet,
    name: str,
    words: str,
    place: Callable[[Pose], Page],
    poses: tuple[Pose, list[Pose]],
    size: float,
) -> None:
    """Adds letters that go with a piece."""
    here, way = poses
    x, y = place(here)
    before = [_pair(place(at)) for at in way]
    moves = any(each != _pair((x, y)) for each in before)
    told = {"data_way": "|".join(before)} if moves else {}
    sheet.text(x, y, words, size=size, face="Bold", anchor="middle", id=sheet.id(name), **told)


def pieces(view: SwitchView, camera: Camera) -> Iterator[Piece]:
    """Everything that is drawn, in no order."""
    yield _root(view, camera, view.old_lung, "lung-root", COOL)
    yield _root(view, camera, view.old_aorta, "aortic-root", WARM)
    yield from _arteries(view, camera)
    for button in view.buttons:
        yield _course(view, camera, button)
        yield _button(view, camera, button)
        if button.moves:
            yield _hole(view, camera, button)
            yield _aim(view, camera, button)
    yield _waist(view, camera)


def _arteries(view: SwitchView, camera: Camera) -> Iterator[Piece]:
    """Aorta, branches and trunk of the lung artery, each before or behind the aorta."""

    def middle(made: Callable[[Pose], Tube]) -> Callable[[Pose], float]:
        return lambda at: camera.near(made(at).rings[RINGS // 2].centre)

    aorta, branches, trunk = (partial(made, view, camera) for made in (_aorta, _branches, _trunk))

    def of_lung(at: Pose, made: Callable[[Pose], Tube]) -> float:
        own, other = middle(made)(at), middle(aorta)(at)
        return max(own, other + AHEAD_MM) if _in_front(view, at) else min(own, other - AHEAD_MM)

    yield _artery(camera, "aorta", aorta, WARM, middle(aorta), lambda at: at.crossed)
    yield _artery(camera, "branches", branches, COOL, lambda at: of_lung(at, branches))
    yield _artery(
        camera, "trunk", trunk, COOL, lambda at: of_lung(at, trunk) - AHEAD_MM / 2.0,
        lambda at: at.joined,
    )  # fmt: skip


def _in_front(view: SwitchView, at: Pose) -> bool:
    """Whether the lung artery lies in front of the ascending aorta."""
    return view.arteries.way == "in front" if at.crossed > 0.0 else view.old_aorta.y_mm < 0.0


# --- vessels ------------------------------------------------------------------------------------


def wall(tint: str) -> Looks:
    """A wall of some tint."""
    return {"fill": tint, "stroke": INK, "stroke_width": EDGE, "stroke_linejoin": "round"}


def hatch(tint: str) -> Looks:
    """Whole rings on the aorta's wall, dotted ones on the lung artery's."""
    looks: Looks = {"fill": "none", "stroke": QUIET, "stroke_width": FINE}
    if tint == COOL:
        looks |= {"stroke_width": 2.0, "stroke_dasharray": "0 5", "stroke_linecap": "round"}
    return looks


def _rings(camera: Camera, vessel: Tube, side: float = 1.0) -> str:
    """The nearer or the further halves of cross-sections, each two millimetres."""
    steps = len(vessel.rings) - 1
    count = int(vessel.length_mm() / RINGS_MM)
    each = RINGS_MM / vessel.length_mm() * steps
    halves = [vessel.half_ring(each * i, side) for i in range(1, count + 1)]
    return "".join(opened(camera, half) for half in halves)


def _root(view: SwitchView, camera: Camera, root: SwitchRoot, name: str, tint: str) -> Piece:
    vessel = root_tube(camera, root)
    band = hull([camera.at(p) for i in range(len(vessel.rings)) for p in vessel.rim(i)])
    outline = "M" + "L".join(_pair(place) for place in band) + "Z"
    near, far = _rings(camera, vessel), _rings(camera, vessel, -1.0)
    rim = closed(camera, vessel.rim(-1))
    return Piece(
        (
            Part(name, lambda _: outline, wall(tint)),
            Part(f"{name}-rings", lambda _: near, hatch(tint)),
            Part(f"{name}-rim", lambda _: rim, wall(PAPER)),
        ),
        lambda _: camera.near((root.x_mm, root.y_mm, root.height_mm / 2.0)),
        (
            Part(f"{name}-inner", lambda _: outline, {"fill": LUMEN[tint]}),
            Part(f"{name}-inner-rings", lambda _: far, hatch(tint)),
            *(part for button in view.buttons for part in _seen_within(view, camera, button, root)),
        ),
    )


def _seen_within(
    view: SwitchView, camera: Camera, button: SwitchButton, root: SwitchRoot
) -> Iterator[Part]:
    """Of a button what one sees through the open end of a root: its place on the far wall."""
    old = root is view.old_aorta
    deg, height = (
        (button.old_deg, button.old_height_mm) if old else (button.new_deg, button.new_height_mm)
    )
    if deg is None or height is None or dot(facing(deg), camera.toward) > 0.0:
        return
    line = closed(camera, hole_mm(root, button, deg, height))
    name = f"within-{'old' if old else 'new'}-{button.name}"
    if old:
        yield Part(f"{name}-hole", lambda _: line, wall(PAPER), lambda at: at.lifted)
        yield Part(f"{name}-patch", lambda _: line, wall(CLOTH), lambda at: at.closed)

    def stays(at: Pose) -> float:
        return 1.0 - at.lifted if old else at.sewn

    yield Part(name, lambda _: line, wall(AMBER), stays)


def _artery(
    camera: Camera,
    name: str,
    made: Callable[[Pose], Tube],
    tint: str,
    near: Callable[[Pose], float],
    sewn: Callable[[Pose], float] | None = None,
) -> Piece:
    """An artery; ``sewn`` tells how far its first end is joined to another."""

    def foot(at: Pose) -> str:
        return opened(camera, made(at).half_ring(0.0))

    def ends(at: Pose) -> str:
        vessel = made(at)
        return "".join(closed(camera, vessel.rim(end)) for end in (0, -1) if vessel.opens(end))

    return Piece(
        (
            Part(name, lambda at: closed(camera, made(at).outline()), wall(tint)),
            Part(f"{name}-rings", lambda at: _rings(camera, made(at)), hatch(tint)),
            Part(f"{name}-ends", ends, wall(LUMEN[tint])),
            *([_seam(name, foot, sewn)] if sewn is not None else []),
        ),
        near,
    )


def _seam(name: str, line: Callable[[Pose], str], seen: Callable[[Pose], float]) -> Part:
    """Stitches along a line."""
    looks: Looks = {
        "fill": "none",
        "stroke": INK,
        "stroke_width": STITCH,
        "stroke_dasharray": "2 4",
    }
    return Part(f"seam-{name}", line, looks, seen)


def arteries(view: SwitchView, camera: Camera, at: Pose) -> tuple[Tube, Tube, Tube]:
    """Ascending aorta, both lung branches, lung trunk."""
    return _aorta(view, camera, at), _branches(view, camera, at), _trunk(view, camera, at)


def _aorta(view: SwitchView, camera: Camera, at: Pose) -> Tube:
    spine = aorta_spine(view, at)
    return tube(camera, spine, [view.arteries.aorta_mm] * len(spine))


def _branches(view: SwitchView, camera: Camera, at: Pose) -> Tube:
    spine = branches_spine(view, at)
    return tube(camera, spine, [view.arteries.branch_mm] * len(spine))


def _trunk(view: SwitchView, camera: Camera, at: Pose) -> Tube:
    spine = trunk_spine(view, at)
    return tube(camera, spine, [view.arteries.trunk_mm] * len(spine))


# --- buttons ------------------------------------------------------------------------------------


def _course(view: SwitchView, camera: Camera, button: SwitchButton) -> Piece:
    """A vessel of its true width: a dark stroke, and a light one within."""
    wide = camera.scale * button.vessel_mm

    def line(at: Pose) -> str:
        return opened(camera, course_mm(view, button, at))

    def near(at: Pose) -> float:
        return _mean(camera, course_mm(view, button, at))

    looks: Looks = {"fill": "none", "stroke_linecap": "round", "stroke_linejoin": "round"}
    outer, inner = looks | {"stroke": INK}, looks | {"stroke": AMBER}
    return Piece(
        (
            Part(f"vessel-{button.name}", line, outer | {"stroke_width": wide}),
            Part(f"vessel-{button.name}-in", line, inner | {"stroke_width": wide - 2.0 * EDGE}),
        ),
        near,
    )


def _button(view: SwitchView, camera: Camera, button: SwitchButton) -> Piece:
    def line(at: Pose) -> str:
        return closed(camera, button_mm(view, button, at))

    return Piece(
        (
            Part(f"button-{button.name}", line, wall(AMBER)),
            _seam(f"button-{button.name}", line, lambda at: at.sewn),
        ),
        lambda at: camera.near(opening_mm(view, button, at)),
    )


def _hole(view: SwitchView, camera: Camera, button: SwitchButton) -> Piece:
    """The hole that a button leaves, and the patch that comes into it."""
    root = view.old_aorta
    points = seen_hole_mm(root, button, button.old_deg, button.old_height_mm)
    line = closed(camera, points)

    def patch(at: Pose) -> str:
        return closed(camera, patch_mm(view, button, at))

    def near(_: Pose) -> float:
        x, y, _z = on_wall(root, button.old_deg, button.old_height_mm)
        return camera.near((x, y, root.height_mm / 2.0)) + AHEAD_MM

    return Piece(
        (
            Part(f"hole-{button.name}", lambda _: line, wall(PAPER), lambda at: at.lifted),
            Part(f"patch-{button.name}", patch, wall(CLOTH), lambda at: at.closed),
            _seam(f"patch-{button.name}", patch, lambda at: at.closed),
        ),
        near,
    )


# chosen: what lies in a wall is so much nearer than the wall, in mm
AHEAD_MM = 0.05


def _waist(view: SwitchView, camera: Camera) -> Piece:
    def line(at: Pose) -> str:
        return closed(camera, waist_mm(view, at))

    return Piece(
        (Part("patch-waist", line, wall(CLOTH), lambda at: at.closed),),
        lambda at: _mean(camera, waist_mm(view, at)),
    )


def _mean(camera: Camera, points: Sequence[Point]) -> float:
    return sum(map(camera.near, points)) / max(1, len(points))


def _aim(view: SwitchView, camera: Camera, button: SwitchButton) -> Piece:
    """Where a button is to lie, dashed, from when it is lifted until it lies there."""
    assert button.new_deg is not None
    assert button.new_height_mm is not None
    points = hole_mm(view.old_lung, button, button.new_deg, button.new_height_mm)
    line = closed(camera, points)
    looks: Looks = {"fill": "none", "stroke": INK, "stroke_width": EDGE, "stroke_dasharray": "4 3"}
    return Piece(
        (Part(f"aim-{button.name}", lambda _: line, looks, lambda at: at.lifted - at.sewn),),
        lambda _: camera.near(points[0]),
    )
