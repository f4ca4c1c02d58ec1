"""What the picture of an outlook is told."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Ring:
    """A site at one age.

    Attributes
    ----------
    diameter_mm, usual_mm : float, of the site, and of a usual vessel at that age
    inert_share : float, share of the girth that does not grow, 0 to 1
    gradient_mmhg : float, the greatest of site and branches
    in_branch : bool, whether it lies in a branch
    """

    diameter_mm: float
    usual_mm: float
    inert_share: float
    gradient_mmhg: float
    in_branch: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class RingRow:
    """One repair at every age of the strip, its unknowns at their middle.

    Attributes
    ----------
    name, note : str, as printed
    rings : tuple of Ring, one an age
    extreme : bool, an example and not this child's usual geometry
    """

    name: str
    note: str
    rings: tuple[Ring, ...]
    extreme: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class AgeLine:
    """One quantity by age over the draws; ``low`` and ``high`` a 90 % interval."""

    name: str
    value: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PointSeries:
    """A published series at the years printed: other children, never joined to a line."""

    name: str
    years: tuple[float, ...]
    pct: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlookView:
    """A growth strip to scale, courses by age, published series apart.

    Attributes
    ----------
    title, sentence : str
    columns : tuple of str, ages of the strip
    rows : tuple of RingRow
    limit_mmhg : float, a gradient above it is marked
    years : tuple of float, ages of every line
    gradients : tuple of AgeLine, one a repair, mmHg
    roots : tuple of AgeLine, one a published course, mm
    usual_root : tuple of AgeLine, the tables' usual root, mm, NaN-free: cut to ``usual_years``
    usual_years : tuple of tuple of float, ages of each table
    published : tuple of PointSeries
    figure_id : str, prefix of every id in the SVG
    """

    title: str
    sentence: str
    columns: tuple[str, ...]
    rows: tuple[RingRow, ...]
    limit_mmhg: float
    years: tuple[float, ...]
    gradients: tuple[AgeLine, ...]
    roots: tuple[AgeLine, ...]
    usual_root: tuple[AgeLine, ...]
    usual_years: tuple[tuple[float, ...], ...]
    published: tuple[PointSeries, ...]
    figure_id: str
