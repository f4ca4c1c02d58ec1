"""The fixed measures of the loops picture: one set for a page of its own, one for a brief."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """Fixed measures, in drawing units.

    Attributes
    ----------
    width : of the whole picture
    margin : free edge
    outer, inner : centres of the two sides of the body loop, from the left
    corner : radius of the loops' corners, at the ribbon's centre
    per_flow : ribbon width per mL/min/kg
    widest : no ribbon is wider; the scale shrinks instead, and its bar says so
    label : height that a station's three lines need
    aorta : from the end of the great arteries up to the label of the aorta
    lead : from a label's saturation to its name above and its pressure below
    row, line : height of one arrow of a crossing, with its number, and of a line of its words
    spare : free height of a crossing, and between the atrial and the ventricular one
    arteries, ring_arteries : height of the great arteries, uncrossed and crossed
    legs : height of the stretch with lower aorta and lung artery, where no duct is open
    lower : from the start of that stretch to its labels
    bridge_words : room for words between the two loops
    foot : height of the legend
    colour_bar : left end of the colour bar
    titled : whether title and sentence stand above
    """

    width: float
    margin: float
    outer: float
    inner: float
    corner: float
    per_flow: float
    widest: float
    label: float
    aorta: float
    lead: tuple[float, float]
    row: float
    line: float
    spare: float
    arteries: float
    ring_arteries: float
    legs: float
    lower: float
    bridge_words: float
    foot: float
    colour_bar: float
    titled: bool

    @property
    def far_inner(self) -> float:
        """Centre of the inner side of the lung loop."""
        return self.width - self.inner

    @property
    def far_outer(self) -> float:
        """Centre of the outer side of the lung loop."""
        return self.width - self.outer

    @property
    def centre(self) -> float:
        """The heart stands in the middle."""
        return self.width / 2


# chosen: 170 mm on paper, 1024 px on a screen
WIDE = Frame(
    width=1024.0,
    margin=24.0,
    outer=76.0,
    inner=354.0,
    corner=50.0,
    per_flow=0.15,
    widest=78.0,
    label=74.0,
    aorta=38.0,
    lead=(15.0, 29.0),
    row=26.0,
    line=20.0,
    spare=14.0,
    arteries=84.0,
    ring_arteries=150.0,
    legs=122.0,
    lower=42.0,
    bridge_words=226.0,
    foot=82.0,
    colour_bar=660.0,
    titled=True,
)

# chosen: 122 mm on paper, where the smallest letters print at 6.5 pt
COMPACT = Frame(
    width=740.0,
    margin=14.0,
    outer=46.0,
    inner=286.0,
    corner=38.0,
    per_flow=0.115,
    widest=56.0,
    label=58.0,
    aorta=26.0,
    lead=(13.0, 27.0),
    row=24.0,
    line=18.0,
    spare=8.0,
    arteries=64.0,
    ring_arteries=118.0,
    legs=66.0,
    lower=36.0,
    bridge_words=112.0,
    foot=62.0,
    colour_bar=450.0,
    titled=False,
)
