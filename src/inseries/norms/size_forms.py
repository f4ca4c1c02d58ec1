"""The forms that references of sizes are published in, each read as a centre and a spread."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from math import exp, log, log10, sqrt
from typing import Literal

Scale = Literal["plain", "logarithm", "decimal logarithm", "square root"]
SPREAD_WORDS: dict[str, str] = {
    "plain": "of the value",
    "logarithm": "of its natural logarithm",
    "decimal logarithm": "of its decimal logarithm",
    "square root": "of its square root",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Build:
    """What forms ask of a child: surface by the reference's formula, length, age, weight."""

    surface_m2: float
    length_cm: float
    age_years: float
    weight_kg: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Normal:
    """What is usual for one child, on the scale where it is spread evenly.

    Parameters
    ----------
    scale : the scale on which ``centre`` and ``spread`` stand
    centre : float, mean on that scale
    spread : float or None, residual deviation on that scale; None where it was not read
    unit_factor : float, from the unit of the publication to ours
    """

    scale: Scale
    centre: float
    spread: float | None
    unit_factor: float = 1.0

    def value(self, z: float) -> float:
        """The measurement at a Z, in our unit; ``z`` other than 0 needs a spread."""
        return self.unit_factor * _back(self.scale, self.centre + z * (self.spread or 0.0))

    def z(self, value: float) -> float | None:
        """The Z of a measurement, or None where the spread was not read."""
        if self.spread is None:
            return None
        return (_forth(self.scale, value / self.unit_factor) - self.centre) / self.spread


SCALES: dict[str, Scale] = {
    "index": "plain",
    "per surface": "plain",
    "line in root": "plain",
    "adult root by surface": "plain",
    "adult root by length": "plain",
    "length": "plain",
    "limit": "plain",
    "table by surface": "plain",
    "table by weight": "plain",
    "log": "logarithm",
    "log cubic": "logarithm",
    "power": "decimal logarithm",
    "square root": "square root",
}


def normal(
    form: str,
    coefficients: tuple[float, ...],
    sd: tuple[float, ...],
    build: Build,
    unit_factor: float = 1.0,
) -> Normal:
    """What a reference says is usual for one child.

    Parameters
    ----------
    form : str, key of ``SCALES``
    coefficients : tuple of float, as published
    sd : tuple of float, residual deviation; two numbers where it is a line, none where not read
    build : Build
    unit_factor : float, from the unit of the publication to ours

    Returns
    -------
    Normal
    """
    return Normal(
        scale=SCALES[form],
        centre=_centre(form, coefficients, build),
        spread=_spread(form, coefficients, sd, build),
        unit_factor=unit_factor,
    )


def _centre(form: str, c: tuple[float, ...], build: Build) -> float:
    b = build.surface_m2
    match form:
        case "index":
            return c[0] * b ** c[1]
        case "per surface":
            return c[0] * b
        case "log":
            return c[0] + c[1] * log(b)
        case "log cubic":
            return c[0] + c[1] * b + c[2] * b**2 + c[3] * b**3
        case "power":
            return log10(c[0] * b ** c[1])
        case "square root" | "line in root":
            return c[0] + c[1] * sqrt(b)
        case "adult root by surface":
            return c[0] + c[1] * build.age_years + c[2] * b
        case "adult root by length":
            return c[0] + c[1] * build.age_years + c[2] * build.length_cm
        case "length":
            return c[0] + c[1] * build.length_cm
        case "table by surface" | "table by weight":
            return _between(c[::2], c[1::2], _place(form, build))
        case _:  # "limit"
            return c[0] * (build.length_cm / 100.0) ** c[1]


def _spread(form: str, c: tuple[float, ...], sd: tuple[float, ...], build: Build) -> float | None:
    if not sd:
        return None
    match form:
        case "index":
            return sd[0] * build.surface_m2 ** c[1]
        case "per surface":
            return sd[0] * build.surface_m2
        case "line in root":
            return sd[0] + sd[1] * sqrt(build.surface_m2)
        case "table by surface" | "table by weight":
            return _between(c[::2], sd, _place(form, build))
        case _:
            return sd[0]


def _place(form: str, build: Build) -> float:
    return build.surface_m2 if form == "table by surface" else build.weight_kg


def _between(at: tuple[float, ...], values: tuple[float, ...], x: float) -> float:
    """The value of a printed table, on the straight line between two rows, its ends held."""
    after = min(max(bisect_right(at, x), 1), len(at) - 1)
    share = (x - at[after - 1]) / (at[after] - at[after - 1])
    return values[after - 1] + min(max(share, 0.0), 1.0) * (values[after] - values[after - 1])


def _forth(scale: Scale, value: float) -> float:
    match scale:
        case "plain":
            return value
        case "logarithm":
            return log(value)
        case "decimal logarithm":
            return log10(value)
        case "square root":
            return sqrt(value)


def _back(scale: Scale, value: float) -> float:
    match scale:
        case "plain":
            return value
        case "logarithm":
            return exp(value)
        case "decimal logarithm":
            return 10.0**value
        case "square root":
            return value**2
