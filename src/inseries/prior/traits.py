"""What differs from baby to baby, as independent standard normals and the factors they mean."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, field
from functools import cache, lru_cache
from typing import TypeAlias, cast

import numpy as np
from numpy.typing import NDArray

from inseries.base.numbers import read_rows

Floats: TypeAlias = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """Centre and spread of one trait; ``log`` traits are factors."""

    name: str
    centre: float
    spread: float
    log: bool


@lru_cache(maxsize=1)
def spreads() -> tuple[Spread, ...]:
    """Every trait, in the order of its column in a matrix of draws."""
    rows = read_rows("inseries.prior", "spread.toml")
    return tuple(
        Spread(
            name=name,
            centre=cast("float", row["value"]),
            spread=cast("float", row["spread"]),
            log=row["spread_of"] == "log",
        )
        for name, row in rows.items()
    )


@cache
def _columns() -> dict[str, tuple[int, Spread]]:
    """Each trait by its name, with its column."""
    return {trait.name: (column, trait) for column, trait in enumerate(spreads())}


@dataclass(frozen=True, slots=True, kw_only=True)
class Traits:
    """Draws of one baby's traits.

    Parameters
    ----------
    z : array, shape (n, traits), standard normal under the prior
    """

    z: Floats
    _known: dict[str, Floats] = field(default_factory=dict, init=False, repr=False, compare=False)

    @property
    def members(self) -> int:
        """How many draws."""
        return self.z.shape[0]

    def __getitem__(self, name: str) -> Floats:
        """One trait of every draw, in its own unit, shape (n,)."""
        if name not in self._known:
            column, trait = _columns()[name]
            moved = trait.spread * self.z[:, column]
            known = trait.centre * np.exp(moved) if trait.log else trait.centre + moved
            known.flags.writeable = False
            self._known[name] = known
        return self._known[name]

    def at(self, rows: NDArray[np.int64]) -> Traits:
        """Some of the draws."""
        return Traits(z=self.z[rows])


def middle() -> Traits:
    """One baby with every trait at its centre."""
    return Traits(z=np.zeros((1, len(spreads()))))


# derived: the trait `law` chooses between so many laws by its sign
LAW_COUNT = 2


@lru_cache(maxsize=1)
def law_column() -> int:
    """Column of the trait that chooses the law of growth."""
    return [trait.name for trait in spreads()].index("law")


def law_of(traits: Traits) -> NDArray[np.int64]:
    """Place of the law of growth that each draw follows, shape (n,)."""
    return (traits.z[:, law_column()] > 0.0).astype(np.int64)


def middle_by_law() -> Traits:
    """One baby for each law of growth, in their order, every other trait at its centre."""
    z = np.zeros((LAW_COUNT, len(spreads())))
    z[:, law_column()] = (-1.0, 1.0)
    return Traits(z=z)


def drawn(members: int, seed: int, digest: str, stream: str) -> Traits:
    """Draws from the prior, before any kernel runs.

    Parameters
    ----------
    members : int
    seed : int, the run's seed
    digest : str, hash of the case, so that another case gets other draws
    stream : str, names what the draws are for, so that streams are independent

    Returns
    -------
    Traits; the same for the same arguments on any machine
    """
    return Traits(z=normals((members, len(spreads())), seed, digest, stream))


def normals(shape: tuple[int, ...], seed: int, digest: str, stream: str) -> Floats:
    """Standard normals by a counter-based generator keyed by seed, case and stream."""
    key = hashlib.sha256(f"{seed}|{digest}|{stream}".encode()).digest()
    generator = np.random.Generator(np.random.Philox(key=int.from_bytes(key[:16], "little")))
    return generator.standard_normal(shape)
