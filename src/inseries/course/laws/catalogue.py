"""The laws by the name of their file, the one that speaks where none is asked for first."""

from __future__ import annotations

from types import MappingProxyType
from typing import TYPE_CHECKING

from inseries.course.laws.constants import law_constants
from inseries.course.laws.emptied_stretch import EmptiedStretch
from inseries.course.laws.mean_stress import MeanStress

if TYPE_CHECKING:
    from collections.abc import Mapping

    from inseries.course.laws.interface import Law

_MADE = MappingProxyType({"mean_stress": MeanStress, "emptied_stretch": EmptiedStretch})
LAWS: tuple[str, ...] = tuple(_MADE)
# Speaks where one number is asked for; why this one: docs/decisions, two laws of growth.
DEFAULT = "mean_stress"


def law_named(name: str, constants: Mapping[str, float] | None = None) -> Law:
    """One of the laws.

    Parameters
    ----------
    name : str, one of ``LAWS``
    constants : its constants; the packaged ones when not given

    Returns
    -------
    Law
    """
    return _MADE[name](constants=law_constants(name) if constants is None else constants)


def every_law() -> Mapping[str, Mapping[str, float]]:
    """Packaged constants of every law, by name."""
    return MappingProxyType({name: law_constants(name) for name in LAWS})
