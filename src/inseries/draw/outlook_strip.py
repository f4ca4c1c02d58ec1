"""The whole picture of an outlook: growth strip, courses by age, published series apart."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.base.errors import OutputError
from inseries.draw.lettering import wrapped
from inseries.draw.outlook_curves import TALL, gradient_fields, published_field, root_field
from inseries.draw.outlook_rings import rings
from inseries.draw.svg import QUIET, Sheet

if TYPE_CHECKING:
    from inseries.draw.outlook_view import OutlookView

WIDTH = 1024.0  # chosen: drawing units; 170 mm on paper, 1024 px on a screen
MARGIN = 24.0  # chosen: free edge


def outlook_svg(view: OutlookView) -> str:
    """An outlook as SVG.

    Parameters
    ----------
    view : OutlookView, every line with a value for each age

    Returns
    -------
    str, one SVG file, 1024 drawing units wide

    Raises
    ------
    OutputError, if lengths differ or a number is not finite
    """
    check_outlook(view)
    sheet = Sheet(view.figure_id, WIDTH)
    left, right = MARGIN, WIDTH - MARGIN
    heading = wrapped(view.sentence, 15, right - left)
    sheet.text(left, 36, view.title, size=22, face="Bold")
    for row, words in enumerate(heading):
        sheet.text(left, 60 + 19 * row, words, size=15, fill=QUIET)
    below = rings(sheet, view, left, right, 54 + 19 * len(heading))
    below = gradient_fields(sheet, view, left, right, below + 6)
    middle = left + 0.52 * (right - left)
    root_field(sheet, view, left, middle, below + 6)
    published_field(sheet, view, middle + 16, right, below + 6)
    height = below + TALL + 100
    sheet.underlay("rect", x=0, y=0, width=WIDTH, height=height, fill="#ffffff")
    return sheet.finish(height, view.title, spoken(view))


def spoken(view: OutlookView) -> str:
    """The picture in words, for readers who do not see it."""
    strips = " ".join(
        f"{row.name} ({row.note}): "
        + ", ".join(
            f"{age} {ring.diameter_mm:.1f} mm, {ring.gradient_mmhg:.0f} mmHg"
            + (" in a branch" if ring.in_branch else "")
            for age, ring in zip(view.columns, row.rings, strict=True)
        )
        + "."
        for row in view.rows
    )
    roots = "; ".join(f"{line.name}: {line.value[-1]:.0f} mm at 40 y" for line in view.roots)
    series = "; ".join(
        f"{each.name}: "
        + ", ".join(f"{year:g} y {pct:g}" for year, pct in zip(each.years, each.pct, strict=True))
        for each in view.published
    )
    return f"{view.sentence} {strips} Root: {roots}. Published, per hundred: {series}."


def check_outlook(view: OutlookView) -> None:
    """Refuses lines and ages that do not fit."""
    lines = (*view.gradients, *view.roots)
    wrong = any(
        len(row) != len(view.years) for each in lines for row in (each.value, each.low, each.high)
    )
    strips = any(len(row.rings) != len(view.columns) for row in view.rows)
    if wrong or strips or len(view.years) < 2:
        raise OutputError(
            "an outlook needs two ages or more, and one value for each",
            code="lengths_differ",
            where="draw outlook",
            remedy="give every line as many values as there are ages",
        )
