"""Published long-term curves, at the years that were printed, each with its denominator."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import cast

from inseries.base.numbers import Provenance, read_rows
from inseries.base.sources import bibliography


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """What a series reports over years after an operation.

    Parameters
    ----------
    id : str, stable name
    route : str, ``"arterial_switch"``, ``"atrial_switch"``, or ``"late_outcome"`` for what came of
        a repaired outflow, root and coronaries after an arterial switch
    of : str, what is counted, such as ``"alive"``
    label : str, a few words for a picture
    ages_y, pct : points as printed, years after operation and per cent
    population, denominator : str, in whom, and who is counted
    n : int
    era : str, years of operation, or ``""`` where not read
    source : str, bibliography key
    seen : str, what of the source was read
    """

    id: str
    route: str
    of: str
    label: str
    ages_y: tuple[float, ...]
    pct: tuple[float, ...]
    population: str
    denominator: str
    n: int
    era: str
    source: str
    seen: str


@cache
def curves() -> tuple[Curve, ...]:
    """All curves, in the order of the table.

    Returns
    -------
    tuple of Curve. *Source* in each curve
    """
    table = read_rows("inseries.evidence", "curves.toml")
    return tuple(_curve(name, row) for name, row in table.items())


def curves_after(route: str) -> tuple[Curve, ...]:
    """Curves after one operation.

    Parameters
    ----------
    route : str, ``"arterial_switch"``, ``"atrial_switch"`` or ``"late_outcome"``

    Returns
    -------
    tuple of Curve, empty where there is none
    """
    return tuple(curve for curve in curves() if curve.route == route)


def _curve(name: str, row: dict[str, object]) -> Curve:
    given = dict(row)
    source = str(given.pop("because"))
    provenance = Provenance(str(given.pop("provenance")))
    if provenance is not Provenance.PUBLISHED or source not in bibliography():
        raise KeyError(f"curve {name} cites {source}, which is not in the bibliography")
    years, shares = (cast("list[float]", given.pop(key)) for key in ("ages_y", "pct"))
    points = (tuple(float(value) for value in values) for values in (years, shares))
    ages_y, pct = points
    return Curve(id=name, source=source, ages_y=ages_y, pct=pct, **given)  # pyright: ignore[reportArgumentType]
