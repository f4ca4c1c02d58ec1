"""Which groups of unknowns a spread of days comes from: a fit over the draws, shared out exactly.

Over the draws a smooth fit (straight lines, and bends and products of the traits that matter most)
stands for the slow computation. What each group of traits explains is then the Shapley effect: the
mean, over all orders in which groups could become known, of what knowing this one explains. Traits
that the readings tie to one another share what they explain together.

A fit to few draws explains something by chance: squares of coefficients are too large by the
squares of their errors. Those are taken from draws weighed anew and taken off, so that a group
without any effect has a share around zero, on either side. Correlations that few draws show by
chance are not believed.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations_with_replacement
from math import factorial
from typing import TYPE_CHECKING

import numpy as np

from inseries.prior.traits import normals

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from inseries.prior.traits import Floats

# chosen: so many traits get bends and products besides straight lines; more overfit few draws
BENT = 4
# chosen: ridges tried, in shares of the number of draws; the one that foretells left-out draws best
RIDGES = (0.003, 0.01, 0.03, 0.1, 0.3, 1.0, 3.0)
# chosen: correlations below so many standard errors of none are taken for none
BELIEVED = 3.0
# chosen: no combination of traits is taken to vary less than this share of a trait
LEAST_SPREAD = 0.05
# chosen: of few draws and many slopes at least this share is taken to be free
LEAST_FREE = 0.15
# chosen: how often the draws are weighed anew for the error of a share
AGAIN = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Shares:
    """What each group of traits explains.

    Parameters
    ----------
    variance : array, shape (groups,), of the fit's variance, less what chance alone would give
    again : array, shape (AGAIN, groups), the same with the draws weighed anew
    slopes : array, shape (traits,), per standard deviation of each trait among the draws
    explained : share of the spread that the fit foretells in draws left out of it
    """

    variance: Floats
    again: Floats
    slopes: Floats
    explained: float


def shares(traits: Floats, days: Floats, groups: Sequence[Sequence[int]]) -> Shares:
    """Shares the spread of days out to groups of traits.

    Parameters
    ----------
    traits : array, shape (n, traits); draws kept twice count twice but are fitted as one
    days : array, shape (n,)
    groups : columns of each group; columns that vary, each in one group

    Returns
    -------
    Shares. *Source* owen2014, song2016
    """
    once, first, counts = np.unique(traits, axis=0, return_index=True, return_counts=True)
    weights = counts / counts.sum()
    values: Floats = days[first]
    middle, spread = _moments(once, weights)
    z: Floats = (once - middle) / spread
    together = _together(z, weights)
    pairs = _pairs(z, values, weights)
    design = _design(z, pairs)
    ridge = _best_ridge(design, values, weights)
    known = _known(together, _subsets(groups))
    anew = weights * weighed_anew(len(values))
    fits = np.array([_fit(design, values, row / row.sum(), ridge) for row in (weights, *anew)])
    fits[1:] = fits[0] + _wider(design, weights, ridge) * (fits[1:] - fits[0])
    chance = _explained(fits[1:] - fits[0], pairs, known).mean(axis=0)
    explained = _explained(fits, pairs, known)
    orders = _orders(len(groups)).T
    return Shares(
        variance=(explained[0] - chance) @ orders,
        again=(explained[1:] - 2.0 * chance) @ orders,
        slopes=fits[0, : z.shape[1]],
        explained=_foretold(design, values, weights, ridge),
    )


def weighed_anew(count: int) -> Floats:
    """Positive weights of mean one, again and again, from a fixed stream, shape (AGAIN, count)."""
    return -np.log(_uniform((AGAIN, count)))


def _uniform(shape: tuple[int, int]) -> Floats:
    """Uniform numbers of a fixed stream, from pairs of normals."""
    one, other = normals(shape, 0, "", "weighed anew"), normals(shape, 1, "", "weighed anew")
    return np.exp(-0.5 * (one**2 + other**2))


def _moments(z: Floats, weights: Floats) -> tuple[Floats, Floats]:
    middle: Floats = weights @ z
    return middle, np.maximum(np.sqrt(weights @ (z - middle) ** 2), 1e-9)


def _together(z: Floats, weights: Floats) -> Floats:
    """Correlation of the traits; what so few draws may show by chance counts as none."""
    measured: Floats = (weights[:, None] * z).T @ z
    believed = np.abs(measured) > BELIEVED * np.sqrt((weights**2).sum())
    kept = np.where(believed, measured, 0.0)
    np.fill_diagonal(kept, 1.0)
    least = float(np.linalg.eigvalsh(kept)[0])
    away = max(LEAST_SPREAD - least, 0.0)
    return (kept + away * np.eye(len(kept))) / (1.0 + away)


def _pairs(z: Floats, days: Floats, weights: Floats) -> list[tuple[int, int]]:
    """Pairs of the traits whose straight lines matter most."""
    straight = _fit(z, days, weights, RIDGES[2])
    most = np.argsort(-np.abs(straight))[:BENT]
    return list(combinations_with_replacement(sorted(int(i) for i in most), 2))


def _design(z: Floats, pairs: list[tuple[int, int]]) -> Floats:
    return np.column_stack([z, *(z[:, i] * z[:, j] for i, j in pairs)])


def _fit(design: Floats, days: Floats, weights: Floats, ridge: float) -> Floats:
    """Coefficients of a weighted ridge fit through the weighted middle."""
    centred: Floats = design - weights @ design
    normal: Floats = (weights[:, None] * centred).T @ centred
    right: Floats = (weights[:, None] * centred).T @ (days - weights @ days)
    return np.linalg.solve(normal + ridge * np.eye(len(normal)), right).astype(np.float64)


def _wider(design: Floats, weights: Floats, ridge: float) -> float:
    """How much wider errors are than draws weighed anew show, when many slopes share few draws."""
    draws = 1.0 / float((weights**2).sum())
    slopes = float(np.trace(_hat(design, weights, ridge)))
    return float(np.sqrt(draws / max(draws - slopes - 1.0, LEAST_FREE * draws)))


def _hat(design: Floats, weights: Floats, ridge: float) -> Floats:
    centred: Floats = design - weights @ design
    root: Floats = np.sqrt(weights)[:, None] * centred
    normal: Floats = root.T @ root + ridge * np.eye(root.shape[1])
    return (root @ np.linalg.solve(normal, root.T)).astype(np.float64)


def _missed(design: Floats, days: Floats, weights: Floats, ridge: float) -> float:
    """Weighted squared error at draws left out one by one."""
    centred: Floats = design - weights @ design
    hat = _hat(design, weights, ridge)
    error = (days - weights @ days) - centred @ _fit(design, days, weights, ridge)
    left = error / np.maximum(1.0 - np.diag(hat) - weights, 0.05)
    return float(weights @ left**2)


def _best_ridge(design: Floats, days: Floats, weights: Floats) -> float:
    return min(RIDGES, key=lambda ridge: _missed(design, days, weights, ridge))


def _foretold(design: Floats, days: Floats, weights: Floats, ridge: float) -> float:
    whole = float(weights @ (days - weights @ days) ** 2)
    if whole <= 0.0:
        return 0.0
    return max(1.0 - _missed(design, days, weights, ridge) / whole, 0.0)


def _subsets(groups: Sequence[Sequence[int]]) -> list[list[int]]:
    """Columns of every set of groups, the set being the bits of its place."""
    return [
        [column for bit, group in enumerate(groups) if place >> bit & 1 for column in group]
        for place in range(1 << len(groups))
    ]


def _known(together: Floats, subsets: list[list[int]]) -> Floats:
    """What of all traits' variance is known once some traits are, shape (sets, traits, traits)."""
    known = np.zeros((len(subsets), *together.shape))
    for size in {len(columns) for columns in subsets} - {0}:
        places = [place for place, columns in enumerate(subsets) if len(columns) == size]
        columns = np.array([subsets[place] for place in places])
        across = together[:, columns].transpose(1, 0, 2)
        inside = together[columns[:, :, None], columns[:, None, :]]
        known[places] = across @ np.linalg.solve(inside, across.transpose(0, 2, 1))
    return known


def _orders(groups: int) -> Floats:
    """Weights, shape (groups, sets), that turn what sets explain into each group's mean gain."""
    weights = np.zeros((groups, 1 << groups))
    for place in range(1 << groups):
        size = place.bit_count()
        for group in range(groups):
            if place >> group & 1 == 0:
                share = factorial(size) * factorial(groups - size - 1) / factorial(groups)
                weights[group, place | 1 << group] += share
                weights[group, place] -= share
    return weights


def _explained(fits: Floats, pairs: list[tuple[int, int]], known: Floats) -> Floats:
    """Variance of what each fit is expected to be, for every set of groups that is known.

    Returns
    -------
    array, shape (fits, sets)
    """
    count = known.shape[1]
    slopes = fits[:, :count]
    bent: NDArray[np.int64] = np.array(sorted({i for pair in pairs for i in pair}))
    place = {int(column): at for at, column in enumerate(bent)}
    bends = np.zeros((len(fits), len(bent), len(bent)))
    for (i, j), value in zip(pairs, fits[:, count:].T, strict=True):
        bends[:, place[i], place[j]] += 0.5 * value
        bends[:, place[j], place[i]] += 0.5 * value
    straight: Floats = ((slopes @ known) * slopes).sum(axis=2)
    inside = known[:, bent[:, None], bent]
    turned: Floats = (bends.reshape(-1, len(bent)) @ inside).reshape(-1, *bends.shape)
    curved = (turned * turned.transpose(0, 1, 3, 2)).sum(axis=(2, 3))
    return (straight + 2.0 * curved).T
