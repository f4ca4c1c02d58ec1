"""The fixed measures of the window picture: one set for a page of its own, one for a brief."""

from __future__ import annotations

from dataclasses import dataclass

LINE = 19.0  # chosen: line height of small text
SMALL = 14.0  # chosen: small text, 6.6 pt at 170 mm and 6.5 pt at 122 mm of the compact picture


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """Fixed measures, in drawing units.

    Attributes
    ----------
    width : of the whole picture
    margin : free edge
    left, right : ends of the age axis; the direct labels stand beyond its right end
    plot : height of the curve's field
    lowest_name : from the lowest direct label's name down to the field's end
    bar, bar_gap, bar_row : height of a published bar, its distance from the words above it, and
        height of the row it stands in
    bars_foot : free edge below the last bar
    what, how : what the curve is, in two parts
    """

    width: float
    margin: float
    left: float
    right: float
    plot: float
    lowest_name: float
    bar: float
    bar_gap: float
    bar_row: float
    bars_foot: float
    what: str
    how: str


# chosen: 170 mm on paper, 1024 px on a screen
WIDE = Frame(
    width=1024.0,
    margin=24.0,
    left=84.0,
    right=792.0,
    plot=290.0,
    lowest_name=0.0,
    bar=8.0,
    bar_gap=6.0,
    bar_row=30.0,
    bars_foot=4.0,
    what="Simulated chance, in steps of 5 %, that the left ventricle carries the body",
    how="with 90 % interval",
)

# chosen: 122 mm on paper, where the smallest letters print at 6.5 pt
COMPACT = Frame(
    width=740.0,
    margin=14.0,
    left=66.0,
    right=556.0,
    plot=226.0,
    lowest_name=22.0,
    bar=6.0,
    bar_gap=2.0,
    bar_row=12.0,
    bars_foot=12.0,
    what="Simulated chance that the left ventricle carries the body",
    how="in steps of 5 %, with 90 % interval",
)
