"""Thresholds for the left ventricle, each bound to its population and its method."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from typing import TYPE_CHECKING, Literal, cast

from inseries.base.errors import NormsError
from inseries.norms.tables import number, rows

if TYPE_CHECKING:
    from inseries.base.numbers import Number

TABLE = "thresholds.toml"


class Population(StrEnum):
    """Whose ventricles a threshold was made in."""

    PRIMARY_NEONATAL = "primary_neonatal"
    PREPARED_AFTER_BAND = "prepared_after_band"
    PREPARED_MIXED = "prepared_mixed"
    CCTGA = "cctga"


WORDS = {
    Population.PRIMARY_NEONATAL: "unprepared ventricles of young infants",
    Population.PREPARED_AFTER_BAND: "banded ventricles, prepared for a second stage",
    Population.PREPARED_MIXED: "ventricles kept loaded by a band, a duct, a stenosis or a defect",
    Population.CCTGA: "corrected transposition",
}


PRINTED = {"1": "", "10*3.dyn/cm2": "·10³ dyn/cm²", "g/m2": " g/m²"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Threshold:
    """A limit, with whom and how it was found.

    Parameters
    ----------
    name : str
    quantity : str, what is compared, with its unit
    limit : Number, with provenance; ``high`` where the source gives a range of limits
    direction : ``"at_least"`` or ``"at_most"``
    population : Population
    methods : tuple of str, methods whose values may be compared
    meaning : str, what was seen on either side of it
    """

    name: str
    quantity: str
    limit: Number
    direction: Literal["at_least", "at_most"]
    population: Population
    methods: tuple[str, ...]
    meaning: str

    @property
    def text(self) -> str:
        """The limit in words, with its population and method."""
        top = "" if self.limit.high is None else f" to {self.limit.high:g}"
        unit = PRINTED.get(self.limit.unit, f" {self.limit.unit}")
        words = self.direction.replace("_", " ")
        how = " or ".join(self.methods)
        doubt = ", from memory" if "memory" in self.limit.provenance else ""
        return f"{words} {self.limit.value:g}{top}{unit} in {WORDS[self.population]} ({how}{doubt})"


@cache
def thresholds() -> tuple[Threshold, ...]:
    """All thresholds, in the order of the table."""
    return tuple(_threshold(name, row) for name, row in rows(TABLE).items())


def thresholds_for(population: str, quantity: str | None = None) -> tuple[Threshold, ...]:
    """The thresholds made in one population.

    Parameters
    ----------
    population : str, one of ``Population``
    quantity : str or None, only those that limit this quantity

    Returns
    -------
    tuple of Threshold, empty where there is none
    """
    whose = _population(population)
    mine = (item for item in thresholds() if item.population is whose)
    return tuple(item for item in mine if quantity is None or item.quantity == quantity)


def threshold(name: str, population: str) -> Threshold:
    """One threshold, for the population it was made in.

    Parameters
    ----------
    name : str, such as ``"wall_4_mm"``
    population : str, whom it is wanted for

    Returns
    -------
    Threshold

    Raises
    ------
    NormsError, code ``other_population`` when it was made in another one; ``threshold_unknown``
    """
    for item in thresholds():
        if item.name == name:
            _same_population(item, _population(population))
            return item
    raise NormsError(
        "no threshold of this name",
        code="threshold_unknown",
        where="thresholds",
        value=name,
        remedy=", ".join(item.name for item in thresholds()) + ".",
    )


def meets(name: str, value: float, *, population: str, method: str) -> bool:
    """Whether a value is on the good side of a threshold.

    Parameters
    ----------
    name : str, threshold
    value : float, in the unit of the threshold
    population : str, population of the baby
    method : str, method of the value

    Returns
    -------
    bool; at the limit itself, True. Where the source gives a range of limits, the lower one counts

    Raises
    ------
    NormsError, code ``other_population`` or ``other_method``: neither is ever converted
    """
    item = threshold(name, population)
    if method not in item.methods:
        raise NormsError(
            "this threshold was made with another method",
            code="other_method",
            where=name,
            value=method,
            remedy=f"a value by {' or '.join(item.methods)}.",
        )
    if item.direction == "at_least":
        return value >= item.limit.value
    return value <= item.limit.value


def _same_population(item: Threshold, wanted: Population) -> None:
    if item.population is not wanted:
        raise NormsError(
            f"this threshold was made in {WORDS[item.population]}",
            code="other_population",
            where=item.name,
            value=str(wanted),
            remedy=f"use it for {item.population} only, or show it beside with its population.",
        )


def _population(name: str) -> Population:
    try:
        return Population(name)
    except ValueError:
        raise NormsError(
            "no population of this name",
            code="population_unknown",
            where="thresholds",
            value=name,
            remedy=", ".join(Population) + ".",
        ) from None


def _threshold(name: str, row: dict[str, object]) -> Threshold:
    return Threshold(
        name=name,
        quantity=str(row["of"]),
        limit=number(row),
        direction=cast("Literal['at_least', 'at_most']", row["direction"]),
        population=Population(str(row["population"])),
        methods=tuple(cast("list[str]", row["methods"])),
        meaning=str(row["meaning"]),
    )
