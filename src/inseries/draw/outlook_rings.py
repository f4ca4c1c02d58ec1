"""The growth strip: a site's ring to scale at each age, growing arc and inert arc told apart.

Native wall is a thick plain line; what cannot grow is a chain of open boxes with the share written
beneath, so that a print in grey tells them apart.
"""

from __future__ import annotations

from math import cos, pi, sin
from typing import TYPE_CHECKING

from inseries.draw.grips import pull_grip
from inseries.draw.lettering import text_width, wrapped
from inseries.draw.svg import INK, PALE, QUIET, RULE, Sheet, path, through

if TYPE_CHECKING:
    from inseries.draw.outlook_view import OutlookView, Ring, RingRow

MM = 2.6  # chosen: drawing units a millimetre
ROW = 72.0  # chosen: height of a row; the largest ring of a grown body is 27 mm wide
NAMES = 285.0  # chosen: width of the column of names
SMALL = 14.0  # chosen: small text
NATIVE, INERT = "#22365c", "#9c3d10"  # chosen: dark blue and rust; shape says it too
BOX = 4.2  # chosen: half height of a box of the chain
LINK = 7.0  # chosen: length of a box of the chain along the ring
PER_GIRTH = 160.0  # chosen: drawing units that a finger moves for the whole girth
BAR_MM = 10.0  # chosen: length of the scale bar


def rings(sheet: Sheet, view: OutlookView, left: float, right: float, top: float) -> float:
    """Draws the strip and gives the height below it."""
    span = (right - left - NAMES) / len(view.columns)
    for i, words in enumerate(view.columns):
        x = left + NAMES + span * (i + 0.27)
        sheet.text(x, top + 16, words, size=15, face="Bold", anchor="middle")
    for place, row in enumerate(view.rows):
        _row(sheet, view, row, (left, right), top + 24 + ROW * place)
    end = top + 24 + ROW * len(view.rows)
    _key(sheet, left, right, end + 20)
    return end + 52


def _row(
    sheet: Sheet, view: OutlookView, row: RingRow, sides: tuple[float, float], top: float
) -> None:
    left, right = sides
    if row.extreme:
        sheet.add("rect", x=left, y=top, width=right - left, height=ROW, fill=PALE)
    sheet.add("line", x1=left, y1=top, x2=right, y2=top, stroke=RULE, stroke_width=0.8)
    sheet.text(left + 8, top + 24, row.name, size=16, face="Bold")
    for i, words in enumerate(wrapped(row.note, SMALL, NAMES - 16)):
        sheet.text(left + 8, top + 41 + 16 * i, words, size=SMALL, fill=QUIET)
    span = (right - left - NAMES) / len(row.rings)
    for i, ring in enumerate(row.rings):
        centre = left + NAMES + span * (i + 0.27), top + ROW / 2
        _ring(sheet, ring, *centre)
        _words(sheet, view, ring, left + NAMES + span * (i + 1) - 8, top)
    if row is _patched(view):
        at = left + NAMES + span * 0.27 - 44, top + ROW / 2
        pull_grip(sheet, "patch", at, row.rings[0].inert_share, per=PER_GIRTH, runs="up")


def _patched(view: OutlookView) -> RingRow | None:
    """The first repair with a patch, whose share of the girth a finger may set."""
    found = (row for row in view.rows if not row.extreme and "patch" in row.name)
    return next(found, None)


def _ring(sheet: Sheet, ring: Ring, x: float, y: float) -> None:
    """The usual vessel dotted, the native arc plain, the inert arc as a chain at the back."""
    usual, radius = MM * ring.usual_mm / 2, MM * ring.diameter_mm / 2
    sheet.add(
        "circle", cx=x, cy=y, r=usual, fill="none", stroke=QUIET, stroke_width=1,
        stroke_dasharray="1.5 3",
    )  # fmt: skip
    half = pi * min(max(ring.inert_share, 0.0), 1.0)
    if half < pi - 1e-6:
        points = _arc(x, y, radius, half, 2 * pi - half)
        sheet.add("path", d=through(points), fill="none", stroke=NATIVE, stroke_width=4.5)
    if half > 0.0:
        _chain(sheet, (x, y), radius, half)


def _arc(x: float, y: float, radius: float, start: float, end: float) -> list[tuple[float, float]]:
    """Points along the ring; angles count from the back, which is drawn below."""
    steps = max(int(40 * (end - start) / pi), 2)
    angles = [start + (end - start) * i / steps for i in range(steps + 1)]
    return [(x + radius * sin(a), y + radius * cos(a)) for a in angles]


def _chain(sheet: Sheet, centre: tuple[float, float], radius: float, half: float) -> None:
    """Open boxes along the inert arc."""
    x, y = centre
    count = max(round(2 * half * radius / LINK), 1)
    for i in range(count):
        a, b = (-half + 2 * half * (i + edge) / count for edge in (0.1, 0.9))
        corners = [
            (x + r * sin(t), y + r * cos(t))
            for t, r in (
                (a, radius - BOX), (b, radius - BOX), (b, radius + BOX), (a, radius + BOX),
            )
        ]  # fmt: skip
        sheet.add("path", d=through(corners) + " Z", fill="#ffffff", stroke=INERT, stroke_width=1.6)


def _words(sheet: Sheet, view: OutlookView, ring: Ring, x: float, top: float) -> None:
    """Diameter, gradient, and whether it is above the limit, right of the ring."""
    over = round(ring.gradient_mmhg) >= view.limit_mmhg
    sheet.text(x, top + 20, f"{ring.diameter_mm:.1f} mm", size=SMALL, anchor="end")
    gradient = f"{ring.gradient_mmhg:.0f} mmHg"
    face = "Bold" if over else "Regular"
    sheet.text(x, top + 36, gradient, size=SMALL, anchor="end", face=face)
    if ring.in_branch:
        sheet.text(x, top + 52, "in a branch", size=SMALL, anchor="end", fill=QUIET)
    if over:
        y = top + (68 if ring.in_branch else 52)
        mark = f"{view.limit_mmhg:.0f} or more"
        start = x - text_width(mark, SMALL, "Bold") - 7
        up = path("M", start - 12, y, "L", start - 6, y - 11, "L", start, y, "Z")
        sheet.add("path", d=up, fill=INK)
        sheet.text(x, y, mark, size=SMALL, anchor="end", face="Bold")


def _key(sheet: Sheet, left: float, right: float, y: float) -> None:
    """What the lines mean, and the scale."""
    x = left + 8
    sheet.add("line", x1=x, y1=y - 5, x2=x + 30, y2=y - 5, stroke=NATIVE, stroke_width=4.5)
    sheet.text(x + 38, y, "native wall, grows", size=SMALL)
    for i in range(4):
        sheet.add(
            "rect", x=x + 190 + 8 * i, y=y - 5 - BOX, width=6.4, height=2 * BOX, fill="#ffffff",
            stroke=INERT, stroke_width=1.6,
        )  # fmt: skip
    sheet.text(x + 230, y, "patch or scar, does not keep up", size=SMALL)
    sheet.add(
        "line", x1=x + 466, y1=y - 5, x2=x + 496, y2=y - 5, stroke=QUIET, stroke_dasharray="1.5 3"
    )
    sheet.text(x + 504, y, "usual lung trunk of that age", size=SMALL)
    end, start = right - 70, right - 70 - MM * BAR_MM
    sheet.add("line", x1=start, y1=y - 5, x2=end, y2=y - 5, stroke=INK, stroke_width=2)
    for edge in (start, end):
        sheet.add("line", x1=edge, y1=y - 10, x2=edge, y2=y, stroke=INK, stroke_width=2)
    sheet.text(end + 8, y, f"{BAR_MM:.0f} mm", size=SMALL)
    note = (
        "The back of the vessel is below. Beside a ring: its diameter, and the peak gradient there "
        "or, where much higher, in a branch. Triangle: 3 m/s or more."
    )
    sheet.text(x, y + 20, note, size=SMALL - 1, fill=QUIET)
