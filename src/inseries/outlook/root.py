"""The new aortic root over decades, by published courses that disagree, and its Z by two tables."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from typing import TYPE_CHECKING, cast

import numpy as np

from inseries.base.numbers import read_rows
from inseries.norms.body import DAYS_PER_YEAR
from inseries.norms.size_scores import Child, usual
from inseries.outlook.numbers import number

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from inseries.outlook.baby import Frame
    from inseries.outlook.numbers import Floats
    from inseries.outlook.site import Start

# published: lopez2017, devereux2012; the change of table lies between them, where both are told
CHILD_TABLE, ADULT_TABLE = "lopez2017", "devereux2012"
# published: schwartz2004, a wide root
WIDE_Z = 3.0
# chosen: Z of a child's table while the body grows; from this age on a root grows in mm a year
GROWN_YEARS = 18.0


@dataclass(frozen=True, slots=True, kw_only=True)
class RootReference:
    """What a table calls usual for this child's root at the ages it speaks about.

    Parameters
    ----------
    key : str, bibliography key
    places : array of int, ages of the frame it holds at
    expected_mm, sd_mm : arrays, shape (places,)
    """

    key: str
    places: NDArray[np.int64]
    expected_mm: Floats
    sd_mm: Floats

    def z(self, root_mm: Floats) -> Floats:
        """Z of roots of shape (ages, n) at the ages this table holds, shape (places, n)."""
        return (root_mm[self.places] - self.expected_mm[:, None]) / self.sd_mm[:, None]


@dataclass(frozen=True, slots=True, kw_only=True)
class RootCourse:
    """One published course of growth.

    Parameters
    ----------
    name, words : key and plain words
    population : str, in whom
    sources : tuple of str
    root_mm : array, shape (ages, n)
    """

    name: str
    words: str
    population: str
    sources: tuple[str, ...]
    root_mm: Floats

    def at(self, rows: NDArray[np.int64]) -> RootCourse:
        """Some of the draws, each as often as it is named."""
        return replace(self, root_mm=self.root_mm[:, rows])


@dataclass(frozen=True, slots=True, kw_only=True)
class _Growth:
    name: str
    words: str
    population: str
    sources: tuple[str, ...]
    z_per_year: float
    mm_per_year: tuple[float, float]
    plateau_mm: tuple[float, float]


@cache
def _growths() -> tuple[_Growth, ...]:
    return tuple(
        _growth(name, row) for name, row in read_rows("inseries.outlook", "roots.toml").items()
    )


def _growth(name: str, row: dict[str, object]) -> _Growth:
    def real(key: str) -> float:
        return float(cast("float", row[key]))

    return _Growth(
        name=name,
        words=str(row["words"]),
        population=str(row["population"]),
        sources=tuple(cast("list[str]", row["sources"])),
        z_per_year=real("z_per_year"),
        mm_per_year=(real("mm_per_year"), real("mm_per_year_spread")),
        plateau_mm=(real("plateau_mm"), real("plateau_spread")),
    )


def root_references(frame: Frame) -> tuple[RootReference, ...]:
    """The child's table and the adult's, each at the ages it holds; both from 15 to 20 years."""
    return tuple(_reference(frame, key) for key in (CHILD_TABLE, ADULT_TABLE))


def _reference(frame: Frame, key: str) -> RootReference:
    held: list[tuple[int, float, float]] = []
    for place, (year, body) in enumerate(zip(frame.years, frame.bodies, strict=True)):
        child = Child(
            weight_kg=body.weight_kg,
            length_cm=body.length_cm,
            age_days=float(year) * DAYS_PER_YEAR,
            sex=frame.sex,
        )
        for score in usual("aortic_root_mm", child):
            if score.reference.made.source == key:
                assert score.expected is not None
                assert score.high is not None
                held.append((place, score.expected, (score.high - score.expected) / 2.0))
                break
    return RootReference(
        key=key,
        places=np.array([place for place, _, _ in held], dtype=np.int64),
        expected_mm=np.array([expected for _, expected, _ in held]),
        sd_mm=np.array([sd for _, _, sd in held]),
    )


def root_courses(frame: Frame, start: Start) -> tuple[RootCourse, ...]:
    """Every published course from this baby's root on; they are never averaged.

    Parameters
    ----------
    frame : Frame
    start : sizes at the operation; without a measured root the published early Z and its spread
    """
    child = root_references(frame)[0]
    z = _start_z(frame, start, child)
    return tuple(
        RootCourse(
            name=each.name,
            words=each.words,
            population=each.population,
            sources=each.sources,
            root_mm=_grown(frame, each, z, child),
        )
        for each in _growths()
    )


def _start_z(frame: Frame, start: Start, child: RootReference) -> Floats:
    if "pulmonary_root_mm" not in start.measured:
        return frame.drawn("root_start_z")
    root = start.pulmonary_root_mm * frame.drawn("root_measured")
    return (root - child.expected_mm[0]) / child.sd_mm[0]


def _grown(frame: Frame, each: _Growth, z: Floats, child: RootReference) -> Floats:
    """Diameter in each draw at each age, shape (ages, n)."""
    years = frame.years[:, None]
    since = np.minimum(years, GROWN_YEARS) - min(frame.years[0], GROWN_YEARS)
    pace = each.z_per_year + frame.drawn("root_pace") - number("root_pace")
    last = int(np.searchsorted(frame.years, GROWN_YEARS, side="right")) - 1
    held = np.minimum(np.arange(frame.years.size), max(last, 0))
    expected = np.interp(frame.years[held], frame.years[child.places], child.expected_mm)
    sd = np.interp(frame.years[held], frame.years[child.places], child.sd_mm)
    young = expected[:, None] + (z + pace * since) * sd[:, None]
    middle, spread = each.mm_per_year
    yearly = np.maximum(middle + spread * frame.extra(ADULT_COLUMN), 0.0)
    root = young + yearly * np.maximum(years - max(GROWN_YEARS, frame.years[0]), 0.0)
    plateau, off = each.plateau_mm
    if plateau > 0.0:
        root = np.minimum(root, plateau + off * frame.extra(PLATEAU_COLUMN))
    return root


# chosen: columns of further draws
ADULT_COLUMN, PLATEAU_COLUMN = 8, 9
