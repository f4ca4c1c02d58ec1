"""Four ways to close the lung artery's root, each with what is known of its growth."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from typing import TYPE_CHECKING, Literal, cast

import numpy as np

from inseries.base.numbers import read_rows
from inseries.outlook.numbers import logistic

if TYPE_CHECKING:
    from inseries.outlook.numbers import Floats


class Material(StrEnum):
    """What the missing wall is closed with."""

    DIRECT = "direct"
    AUTOLOGOUS_FRESH = "autologous_fresh"
    AUTOLOGOUS_FIXED = "autologous_fixed"
    XENOGRAFT_OR_SYNTHETIC = "xenograft_or_synthetic"


@dataclass(frozen=True, slots=True, kw_only=True)
class Technique:
    """A material with its evidence.

    Parameters
    ----------
    material : Material
    words : str, what it is called
    kind : how its growth fraction is drawn; ``native`` has no patch
    middle, spread : float, of that draw
    evidence, caution : str, with its small numbers
    sources : tuple of str, bibliography keys; empty where no series was read
    because : str, why this spread
    """

    material: Material
    words: str
    kind: Literal["native", "logit", "none"]
    middle: float
    spread: float
    evidence: str
    caution: str
    sources: tuple[str, ...]
    because: str

    @property
    def patched(self) -> bool:
        """Whether anything but native wall is let in."""
        return self.kind != "native"

    def growth(self, z: Floats) -> Floats:
        """Growth fraction at standard normal draws: 1 grows with the body, 0 keeps its size."""
        if self.kind == "native":
            return np.ones_like(z)
        if self.kind == "logit":
            return logistic(self.middle, self.spread, z)
        return self.middle - np.abs(self.spread * z)


@cache
def techniques() -> tuple[Technique, ...]:
    """All four, the one that grows most first."""
    return tuple(
        _technique(Material(name), row)
        for name, row in read_rows("inseries.outlook", "materials.toml").items()
    )


def technique(material: str) -> Technique:
    """One of them by its name."""
    return next(each for each in techniques() if each.material == material)


def _technique(material: Material, row: dict[str, object]) -> Technique:
    return Technique(
        material=material,
        words=str(row["words"]),
        kind=cast("Literal['native', 'logit', 'none']", row["kind"]),
        middle=float(cast("float", row["value"])),
        spread=float(cast("float", row["spread"])),
        evidence=str(row["evidence"]),
        caution=str(row["caution"]),
        sources=tuple(cast("list[str]", row["sources"])),
        because=str(row["because"]),
    )
