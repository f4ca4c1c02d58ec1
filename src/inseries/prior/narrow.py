"""Draws narrowed by readings: a Gaussian proposal fitted to the model's own answers, then weights.

Weights on plain prior draws collapse (a handful of effective draws with six readings). So the
model's answers are regressed on the traits, the Gaussian that regression and readings imply is
sampled, and every sample is weighed by prior times likelihood over proposal. What the regression
cannot explain counts as error while proposing, so that a curved answer widens the proposal.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from inseries.base.errors import PriorError
from inseries.case.record import Case
from inseries.course.walk import walk
from inseries.course.walls import Walls
from inseries.prior.baby import Baby, Sensed
from inseries.prior.from_case import story_of
from inseries.prior.observe import Observed, observed
from inseries.prior.traits import Floats, Traits, normals, spreads

# chosen: draws of each fit, the next from where the last pointed; several times the number of traits
FIT_DRAWS = (96, 128, 160)
# chosen: samples weighed for each draw that is kept
SAMPLES_PER_DRAW = 2
# chosen: the proposal is this much wider than the fitted Gaussian (variance)
WIDER = 1.15
# chosen: ridge that keeps the regression solvable
RIDGE = 1e-3
# chosen: below the first a caution travels, below the second there is no answer
FEW_EFFECTIVE, TOO_FEW_EFFECTIVE = 100, 40

Progress = Callable[[str, float], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Narrowed:
    """Equally weighted draws of a baby at one age.

    Parameters
    ----------
    baby : the draws, warm at that age
    walls : their walls at that age
    age_days : the age
    effective_draws : of the weighted samples they were taken from
    failed_share : share of samples whose beat did not settle
    readings_used : how many readings narrowed them
    """

    baby: Baby
    walls: Walls
    age_days: float
    effective_draws: float
    failed_share: float
    readings_used: int


@dataclass(frozen=True, slots=True, kw_only=True)
class _Run:
    """One ensemble carried to the case's age: the model's answers and where it ended."""

    baby: Baby
    walls: Walls
    answers: Floats


def narrowed(
    case: Case,
    *,
    draws: int,
    seed: int,
    progress: Progress | None = None,
) -> Narrowed:
    """Draws of a baby at the age of its last reading or event.

    Parameters
    ----------
    case : Case with a weight
    draws : how many to keep
    seed : of the run
    progress : told the share done

    Returns
    -------
    Narrowed

    Raises
    ------
    PriorError
        no weight; or fewer than 40 effective draws
    """
    tell = progress or (lambda _stage, _share: None)
    seen = observed(case)
    columns = len(spreads())
    mean, cov = np.zeros(columns), np.eye(columns)
    for step, size in enumerate(FIT_DRAWS):
        tell("fitting the readings", 0.5 * step / len(FIT_DRAWS))
        if not seen:
            break
        z = _sampled(mean, cov, normals((size, columns), seed, case.digest, f"fit {step}"))
        run = _carried(case, seen, Traits(z=z))
        mean, cov = _proposal(z, run, seen)
    tell("weighing draws", 0.5)
    wide = cov * (WIDER if seen else 1.0)
    base = normals((draws * SAMPLES_PER_DRAW, columns), seed, case.digest, "samples")
    z = _sampled(mean, wide, base)
    run = _carried(case, seen, Traits(z=z))
    weights = _weights(z, run, seen, mean, wide)
    rows = _resampled(weights, draws)
    tell("weighing draws", 1.0)
    return _kept(case, run, rows, weights, len(seen))


def _carried(case: Case, seen: tuple[Observed, ...], traits: Traits) -> _Run:
    """Walks every draw from birth to the case's age and notes the model's side of each reading."""
    story = story_of(case)
    baby = Baby(traits, story)
    ages = sorted({item.age_days for item in seen} | {case.age_days})
    answers = np.zeros((traits.members, len(seen)))
    walls = baby.walls_at_birth()
    stops = walk(
        baby.beat,
        walls,
        law=baby.law,
        who=baby.individual(),
        body=baby.body(),
        start_days=0.0,
        stops_days=ages,
        breaks_days=story.breaks_days,
    )
    for stop in stops:
        walls = stop.walls
        sensed = stop.sensed
        assert isinstance(sensed, Sensed)
        for column, item in enumerate(seen):
            if item.age_days == stop.age_days:
                answers[:, column] = item.predict(sensed.readings, walls, traits)
    return _Run(baby=baby, walls=walls, answers=answers)


def _proposal(z: Floats, run: _Run, seen: tuple[Observed, ...]) -> tuple[Floats, Floats]:
    """Mean and covariance of the Gaussian that a linear fit and the readings imply.

    Idle traits are left out of the fit, so that chance does not move them off their prior.
    """
    idle = run.baby.idle()
    active = np.array([trait.name not in idle for trait in spreads()])
    mean, cov = np.zeros(len(active)), np.eye(len(active))
    mean[active], cov[np.ix_(active, active)] = _fitted(z[:, active], run.answers, seen)
    return mean, cov


def _fitted(z: Floats, answers: Floats, seen: tuple[Observed, ...]) -> tuple[Floats, Floats]:
    values = np.array([item.value for item in seen])
    sds = np.array([item.sd for item in seen])
    design = np.column_stack([np.ones(len(z)), z])
    normal = design.T @ design + RIDGE * np.eye(design.shape[1])
    fit = np.linalg.solve(normal, design.T @ answers)
    left = answers - design @ fit
    spare = max(len(z) - design.shape[1], 1)
    error = sds**2 + (left**2).sum(axis=0) / spare
    slopes = fit[1:].T
    cov = np.linalg.inv(np.eye(z.shape[1]) + slopes.T @ (slopes / error[:, None]))
    mean = cov @ slopes.T @ ((values - fit[0]) / error)
    return mean, cov


def _sampled(mean: Floats, cov: Floats, normal: Floats) -> Floats:
    return mean + normal @ np.linalg.cholesky(cov).T


def _weights(z: Floats, run: _Run, seen: tuple[Observed, ...], mean: Floats, cov: Floats) -> Floats:
    """Prior times likelihood over proposal, summing to one; failed members weigh nothing."""
    away = z - mean
    log_proposal = -0.5 * np.einsum("ij,ij->i", away, np.linalg.solve(cov, away.T).T)
    log_weight = -0.5 * (z**2).sum(axis=1) - log_proposal
    for column, item in enumerate(seen):
        log_weight -= 0.5 * ((item.value - run.answers[:, column]) / item.sd) ** 2
    failed = np.array(sorted(run.baby.tally.failed), dtype=np.int64)
    log_weight[failed] = -np.inf
    log_weight[~np.isfinite(log_weight)] = -np.inf
    weight = np.exp(log_weight - log_weight.max())
    return weight / weight.sum()


def _resampled(weights: Floats, draws: int) -> NDArray[np.int64]:
    """Rows kept, as many times as their weight asks: systematic, from the middle of each share."""
    places = (np.arange(draws) + 0.5) / draws
    return np.minimum(np.searchsorted(np.cumsum(weights), places), len(weights) - 1)


def _kept(
    case: Case, run: _Run, rows: NDArray[np.int64], weights: Floats, readings: int
) -> Narrowed:
    effective = float(min(1.0 / (weights**2).sum(), len(rows)))
    if effective < TOO_FEW_EFFECTIVE and len(rows) >= FEW_EFFECTIVE:
        raise PriorError(
            "the readings leave too few plausible draws to answer from",
            code="too_few_draws",
            where="readings",
            value=round(effective),
            unit="draws",
            remedy="look at `check` for readings that contradict each other, or ask for more draws",
        )
    failed = len(run.baby.tally.failed) / run.baby.traits.members
    return Narrowed(
        baby=run.baby.at(rows),
        walls=run.walls.at(rows),
        age_days=case.age_days,
        effective_draws=effective,
        failed_share=failed,
        readings_used=readings,
    )
