"""Two roots in their section with the coronary buttons before and after, in true proportion."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, hypot, inf, radians, sin

from inseries.draw.svg import INK, QUIET, RULE, Sheet, through

# chosen: width of the picture, and the part of it for the section, drawing units
WIDE, HIGH = 720.0, 660.0
# chosen: room for words above the section, around it, and beneath
HEAD, MARGIN, FOOT = 78.0, 30.0, 64.0
# chosen: letters and strokes
LETTER, THICK, THIN = 15.0, 2.2, 1.2
# chosen: points round a root
ROUND = 120
# chosen: length of a tick at a commissure, mm
TICK = 0.5
# chosen: length of the scale bar, mm
BAR = 5.0

Points = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RootRing:
    """One root.

    Attributes
    ----------
    name : str
    outline : tuple of (x, y), mm on the page, y upward, closed
    commissures : tuple of (x, y), mm on the page
    """

    name: str
    outline: Points
    commissures: Points


@dataclass(frozen=True, slots=True, kw_only=True)
class ButtonMove:
    """One button: where it was, where it goes, the course of its vessel then.

    Attributes
    ----------
    name, note : str, as printed
    old, new : (x, y), mm on the page
    path : tuple of (x, y), mm on the page, from the new opening
    concern : bool
    """

    name: str
    note: str
    old: tuple[float, float]
    new: tuple[float, float]
    path: Points
    concern: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class RepairPlan:
    """A whole section as seen on one page.

    Attributes
    ----------
    title, seen_from : str, the second one sentence that says viewpoint, then sides after a colon
    left_side, right_side : str, whose side the reader's left and right are
    roots : tuple of RootRing
    moves : tuple of ButtonMove
    concern : tuple of (x, y), mm on the page: arc of wall in a region of concern; may be empty
    concern_text, figure_id : str
    """

    title: str
    seen_from: str
    left_side: str
    right_side: str
    roots: tuple[RootRing, ...]
    moves: tuple[ButtonMove, ...]
    concern: Points
    concern_text: str
    figure_id: str


@dataclass(frozen=True, slots=True)
class Frame:
    """From millimetres, up and to the right, to a place on the sheet."""

    scale: float
    left: float
    top: float

    def at(self, point: tuple[float, float]) -> tuple[float, float]:
        """Where a point lies."""
        return self.left + self.scale * point[0], self.top - self.scale * point[1]

    def line(self, points: Points) -> str:
        """A line through points, as a path."""
        return through([self.at(point) for point in points])


def repair_plan_svg(view: RepairPlan) -> str:
    """The section with both roots, regions of concern, and each button's way.

    Parameters
    ----------
    view : RepairPlan

    Returns
    -------
    str, SVG; all lengths in one scale, told by a bar; signs differ by shape as well as colour
    """
    sheet = Sheet(view.figure_id, WIDE)
    draw_plan(sheet, view)
    bottom = draw_legend(sheet, legend(view), HIGH - FOOT + MARGIN)
    return sheet.finish(bottom, view.title, spoken_plan(view))


def draw_plan(
    sheet: Sheet, view: RepairPlan, wide: float = WIDE, high: float = HIGH, scale: float = inf
) -> None:
    """Draws the section into the left top of a sheet, no larger than a scale in units per mm."""
    frame = _frame(view, wide, high, scale)
    sheet.text(MARGIN, 26.0, view.title, size=LETTER * 1.2, face="Bold")
    for i, words in enumerate(view.seen_from.replace(": ", ":\n").splitlines()):
        sheet.text(MARGIN, 48.0 + 19.0 * i, words, size=LETTER, fill=QUIET)
    _sides(sheet, view, wide, high)
    for ring in view.roots:
        _ring(sheet, frame, ring)
    if view.concern:
        sheet.add("path", d=frame.line(view.concern), fill="none", stroke=INK, stroke_width=9.0,
                  stroke_dasharray="2 4")  # fmt: skip
    for move in view.moves:
        _move(sheet, frame, move)
    draw_bar(sheet, frame.scale, wide - MARGIN, high - FOOT + MARGIN)


def plan_scale(view: RepairPlan, wide: float, high: float) -> float:
    """Units per millimetre at which the section fills an area."""
    return _frame(view, wide, high, inf).scale


def _frame(view: RepairPlan, room: float, tall: float, most: float) -> Frame:
    points = [p for ring in view.roots for p in ring.outline]
    points += [p for move in view.moves for p in (move.old, *move.path)]
    xs, ys = zip(*points, strict=True)
    wide, high = max(xs) - min(xs), max(ys) - min(ys)
    scale = min((room - 6.0 * MARGIN) / wide, (tall - HEAD - FOOT - 2.0 * MARGIN) / high, most)
    left = room / 2.0 - scale * (max(xs) + min(xs)) / 2.0
    return Frame(scale, left, HEAD + 2.0 * MARGIN + scale * max(ys))


def _sides(sheet: Sheet, view: RepairPlan, wide: float, high: float) -> None:
    middle = (high + HEAD - FOOT) / 2.0
    sheet.text(wide / 2.0, HEAD + LETTER, "front", size=LETTER, anchor="middle", fill=QUIET)
    sheet.text(MARGIN, middle, view.left_side, size=LETTER, fill=QUIET)
    sheet.text(wide - MARGIN, middle, view.right_side, size=LETTER, anchor="end", fill=QUIET)


def _ring(sheet: Sheet, frame: Frame, ring: RootRing) -> None:
    xs, ys = zip(*ring.outline, strict=True)
    middle = ((max(xs) + min(xs)) / 2.0, (max(ys) + min(ys)) / 2.0)
    sheet.add("path", d=frame.line(ring.outline), fill="none", stroke=INK, stroke_width=THICK)
    for place in ring.commissures:
        far = hypot(middle[0] - place[0], middle[1] - place[1])
        inner = tuple(p + TICK * (m - p) / far for p, m in zip(place, middle, strict=True))
        sheet.add("path", d=frame.line((place, (inner[0], inner[1]))), stroke=INK,
                  stroke_width=THICK, fill="none")  # fmt: skip
    x, y = frame.at(middle)
    sheet.text(x, y, ring.name, size=LETTER, anchor="middle")


def _move(sheet: Sheet, frame: Frame, move: ButtonMove) -> None:
    """Old place a ring, new place a disc, or a square where it is of concern."""
    sheet.add("path", d=frame.line(move.path), fill="none", stroke=INK, stroke_width=2.0 * THICK)
    sheet.add("path", d=frame.line((move.old, move.new)), fill="none", stroke=QUIET,
              stroke_width=THIN, stroke_dasharray="3 3")  # fmt: skip
    x, y = frame.at(move.old)
    sheet.add("circle", cx=x, cy=y, r=5.0, fill="#ffffff", stroke=INK, stroke_width=THIN)
    x, y = frame.at(move.new)
    if move.concern:
        sheet.add("rect", x=x - 6.0, y=y - 6.0, width=12.0, height=12.0, fill=INK)
    else:
        sheet.add("circle", cx=x, cy=y, r=6.0, fill=INK)
    end = frame.at(move.path[-1])
    side = "start" if end[0] >= x else "end"
    off = 8.0 if side == "start" else -8.0
    sheet.text(end[0] + off, end[1] + 5.0, move.name, size=LETTER, face="Bold", anchor=side)


def draw_bar(sheet: Sheet, scale: float, right: float, y: float) -> None:
    """A scale bar that ends at a place."""
    line = through([(right - BAR * scale, y), (right, y)])
    sheet.add("path", d=line, stroke=INK, stroke_width=THICK)
    sheet.text(right, y - 6.0, f"{BAR:.0f} mm", size=LETTER, anchor="end")


def legend(view: RepairPlan) -> list[str]:
    """What the signs mean and what each button does, a line each."""
    signs = "Ring: opening before. Disc: place found; square: of concern. Thick line: first course."
    lines = [signs, *([view.concern_text] if view.concern else [])]
    return lines + [f"{move.name}: {move.note}" for move in view.moves]


def draw_legend(sheet: Sheet, lines: list[str], y: float) -> float:
    """Lines of words beneath a rule; gives where they end."""
    rule = through([(MARGIN, y + 14.0), (sheet.width - MARGIN, y + 14.0)])
    sheet.add("path", d=rule, stroke=RULE)
    for words in lines:
        y += 22.0
        sheet.text(MARGIN, y + 14.0, words, size=LETTER)
    return y + MARGIN


def spoken_plan(view: RepairPlan) -> str:
    """The section in words."""
    return " ".join([view.seen_from, *(f"{m.name}: {m.note}." for m in view.moves)])


def ring_of(
    name: str, middle: tuple[float, float], radius: float, commissures_deg: tuple[float, ...]
) -> RootRing:
    """A round root from its middle and radius, mm, and angles from the top, clockwise, degrees."""

    def at(angle: float) -> tuple[float, float]:
        turn = radians(angle)
        return middle[0] + radius * sin(turn), middle[1] + radius * cos(turn)

    outline = tuple(at(360.0 * i / ROUND) for i in range(ROUND + 1))
    return RootRing(
        name=name, outline=outline, commissures=tuple(at(angle) for angle in commissures_deg)
    )
