"""Importance draws of traits, given an account of what the model says for each of them.

Weights on plain prior draws collapse (a handful of effective draws with six readings). So the
model's answers are regressed on the traits, the Gaussian that regression and readings imply is
sampled, and every sample is weighed by prior times likelihood over proposal. What the regression
cannot explain counts as error while proposing, so that a curved answer widens the proposal.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from inseries.base.errors import PriorError
from inseries.course.walls import joined_walls
from inseries.prior.traits import LAW_COUNT, Floats, Traits, law_column, law_of, normals, spreads

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from inseries.course.walls import Walls
    from inseries.prior.baby import Baby
    from inseries.prior.observe import Observed

# chosen: draws of each fit, the next from where the last pointed; some for each trait and law
FIT_DRAWS = (128, 160)
# chosen: the weighed samples are drawn again, from a proposal fitted to the last ones, until this
# share of the kept draws is effective, at most so often
ENOUGH_SHARE, MOST_ROUNDS = 0.6, 8
# chosen: weights are tempered in a fit so that about this many points for each trait carry it
POINTS_PER_TRAIT = 3.0
# chosen: samples weighed for each draw that is kept
SAMPLES_PER_DRAW = 1
# chosen: the proposal is this much wider than the fitted Gaussian (variance)
WIDER = 1.15
# chosen: shares of samples between which either law is followed, however little it weighs
LEAST_AND_MOST_SHARE = (0.25, 0.75)
# chosen: ridge that keeps the regression solvable
RIDGE = 1e-3
# chosen: below the first a caution travels, below the second there is no answer
FEW_EFFECTIVE, TOO_FEW_EFFECTIVE = 100, 40

Progress = Callable[[str, float], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Carried:
    """One ensemble carried to the case's age: the model's answers and where it ended."""

    baby: Baby
    walls: Walls
    answers: Floats


def unheard(_stage: str, _share: float) -> None:
    """Progress nobody asked to hear."""


Carry = Callable[[Traits], Carried]
"""From traits to the model's side of every reading and where each draw ended."""


def weighed_draws(  # noqa: PLR0913 - what is carried, seen, kept and told, by name
    carry: Carry,
    seen: tuple[Observed, ...],
    *,
    draws: int,
    seed: int,
    digest: str,
    fits: tuple[int, ...] = FIT_DRAWS,
    rough: Carry | None = None,
    progress: Progress | None = None,
) -> Weighed:
    """A few rounds of proposing, carrying and weighing, pooled.

    Parameters
    ----------
    carry : from traits to the model's answers, one column a reading
    seen : the readings; none leaves the prior as it is
    draws : how many draws will be kept
    seed, digest : of the run and of the case
    fits : draws of each fit before samples are weighed
    rough : carries the draws of the fits, which only propose; as ``carry`` when not given
    progress : told the share done

    Returns
    -------
    Weighed

    Raises
    ------
    PriorError
        fewer than 40 effective draws where at least 100 were asked for
    """
    tell = progress or unheard
    sizes = fits + (draws * SAMPLES_PER_DRAW,) * MOST_ROUNDS if seen else (draws,)
    proposal, rounds = Proposal.prior(), list[_Round]()
    pooled: Weighed | None = None
    for step, size in enumerate(sizes):
        tell("fitting the readings", step / len(sizes))
        z = proposal.at(normals((size, len(spreads())), seed, digest, f"round {step}"))
        run = (rough or carry)(Traits(z=z)) if step < len(fits) and seen else carry(Traits(z=z))
        rounds.append(_Round(run=run, log_target=_log_target(z, run, seen), proposal=proposal))
        if step >= len(fits) or not seen:
            pooled = _pooled(rounds[len(fits) :] or rounds)
            if pooled.effective >= ENOUGH_SHARE * draws:
                break
        proposal = _proposal(z, rounds[-1].weighed(), seen)
    tell("fitting the readings", 1.0)
    assert pooled is not None
    _refuse_few(pooled.effective, draws)
    return pooled


@dataclass(frozen=True, slots=True, kw_only=True)
class _Round:
    """Samples of one proposal, carried, with the logarithm of prior times likelihood."""

    run: Carried
    log_target: Floats
    proposal: Proposal

    def weighed(self) -> Weighed:
        """The round by itself."""
        z = self.run.baby.traits.z
        return Weighed(
            run=self.run, log_weight=_from_best(self.log_target - self.proposal.log_density(z))
        )


def _pooled(rounds: list[_Round]) -> Weighed:
    """All rounds together, each sample over the mixture of proposals it might have come from."""
    run = _joined([each.run for each in rounds])
    z = run.baby.traits.z
    target = np.concatenate([each.log_target for each in rounds])
    shares = [math.log(each.log_target.size / target.size) for each in rounds]
    mixture = np.logaddexp.reduce(
        [share + each.proposal.log_density(z) for share, each in zip(shares, rounds, strict=True)]
    )
    return Weighed(run=run, log_weight=_from_best(target - mixture))


def _joined(runs: list[Carried]) -> Carried:
    if len(runs) == 1:
        return runs[0]
    return Carried(
        baby=runs[0].baby.joined([run.baby for run in runs[1:]]),
        walls=joined_walls([run.walls for run in runs]),
        answers=np.vstack([run.answers for run in runs]),
    )


def _from_best(log_weight: Floats) -> Floats:
    """Logarithms of weights, the greatest zero; what is not finite weighs nothing."""
    log_weight = np.where(np.isfinite(log_weight), log_weight, -np.inf)
    return log_weight - log_weight.max()


def _refuse_few(effective: float, draws: int) -> None:
    if effective >= TOO_FEW_EFFECTIVE or draws < FEW_EFFECTIVE:
        return
    raise PriorError(
        "the readings leave too few plausible draws to answer from",
        code="too_few_draws",
        where="readings",
        value=round(effective),
        unit="draws",
        remedy="look at `check` for readings that contradict each other, or ask for more draws",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Gaussian:
    """A proposal over the traits."""

    mean: Floats
    cov: Floats

    @classmethod
    def prior(cls) -> Gaussian:
        """The prior itself."""
        return cls(mean=np.zeros(len(spreads())), cov=np.eye(len(spreads())))

    def at(self, normal: Floats) -> Floats:
        """Samples from standard normals."""
        return self.mean + normal @ np.linalg.cholesky(self.cov).T

    def log_density(self, z: Floats) -> Floats:
        """Logarithm of its density, up to a constant that all of one size share."""
        away = z - self.mean
        spread = np.linalg.slogdet(self.cov)[1]
        return -0.5 * (spread + np.einsum("ij,ij->i", away, np.linalg.solve(self.cov, away.T).T))


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposal:
    """A Gaussian for each law of growth, and the share of samples that follow the second.

    The trait that chooses the law keeps its prior but for its sign.
    """

    by_law: tuple[Gaussian, ...]
    second_share: float = 0.5

    @classmethod
    def prior(cls) -> Proposal:
        """The prior itself."""
        return cls(by_law=(Gaussian.prior(),) * LAW_COUNT)

    def at(self, normal: Floats) -> Floats:
        """Samples from standard normals."""
        ahead = np.floor(self.second_share * np.arange(len(normal) + 1))
        which = np.diff(ahead).astype(np.int64)
        z = np.empty_like(normal)
        for law, gaussian in enumerate(self.by_law):
            z[which == law] = gaussian.at(normal[which == law])
        z[:, law_column()] = (2.0 * which - 1.0) * np.abs(normal[:, law_column()])
        return z

    def log_density(self, z: Floats) -> Floats:
        """Logarithm of its density, up to a constant."""
        which = law_of(Traits(z=z))
        found = np.empty(len(z))
        shares = (1.0 - self.second_share, self.second_share)
        for law, gaussian in enumerate(self.by_law):
            here = gaussian.log_density(z[which == law])
            found[which == law] = math.log(2.0 * shares[law]) + here
        return found


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighed:
    """An ensemble with the logarithm of its weights, greatest zero."""

    run: Carried
    log_weight: Floats

    @property
    def weights(self) -> Floats:
        """Weights that sum to one."""
        return _normed(self.log_weight)

    @property
    def effective(self) -> float:
        """Effective number of draws."""
        return _effective(self.log_weight)

    def of(self, rows: NDArray[np.bool_]) -> Weighed:
        """Some of the ensemble, its greatest weight one again."""
        part = self.log_weight[rows]
        best = part.max()
        return Weighed(
            run=replace(self.run, answers=self.run.answers[rows]),
            log_weight=part - best if np.isfinite(best) else np.zeros_like(part),
        )

    def tempered(self, wanted: float) -> Floats:
        """Weights softened until about the wanted number of draws counts."""
        power = 1.0
        while _effective(power * self.log_weight) < wanted and power > LEAST_POWER:
            power *= 0.7
        return _normed(power * self.log_weight)


# chosen: weights softened below this power are as good as equal
LEAST_POWER = 1e-4


def _normed(log_weight: Floats) -> Floats:
    weight = np.exp(log_weight)
    return weight / weight.sum()


def _effective(log_weight: Floats) -> float:
    return float(1.0 / (_normed(log_weight) ** 2).sum())


def _proposal(z: Floats, weighed: Weighed, seen: tuple[Observed, ...]) -> Proposal:
    """For each law the Gaussian that a fit near the readings and the readings imply, a bit wider.

    Idle traits are left out of the fit, so that chance does not move them off their prior.
    """
    idle = {*weighed.run.baby.idle(), "law"}
    active = np.array([trait.name not in idle for trait in spreads()])
    which = law_of(Traits(z=z))
    return Proposal(
        by_law=tuple(
            _gaussian(z[which == law], active, weighed.of(which == law), seen)
            for law in range(LAW_COUNT)
        ),
        second_share=float(np.clip(weighed.weights[which == 1].sum(), *LEAST_AND_MOST_SHARE)),
    )


def _gaussian(
    z: Floats, active: NDArray[np.bool_], weighed: Weighed, seen: tuple[Observed, ...]
) -> Gaussian:
    weights = weighed.tempered(min(POINTS_PER_TRAIT * active.sum(), 0.8 * len(z)))
    prior = Gaussian.prior()
    mean, cov = prior.mean, prior.cov
    fitted = _fitted(z[:, active], weighed.run.answers, weights, seen)
    mean[active], cov[np.ix_(active, active)] = fitted[0], WIDER * fitted[1]
    return Gaussian(mean=mean, cov=cov)


def _fitted(
    z: Floats, answers: Floats, weights: Floats, seen: tuple[Observed, ...]
) -> tuple[Floats, Floats]:
    """Mean and covariance by a weighted linear fit of the answers; its misfit counts as error."""
    values = np.array([item.value for item in seen])
    sds = np.array([item.sd for item in seen])
    design = np.column_stack([np.ones(len(z)), z])
    good = np.isfinite(answers.sum(axis=1))
    pull = (weights * good)[:, None]
    answers = np.where(good[:, None], answers, 0.0)
    normal: Floats = design.T @ (pull * design) + RIDGE / len(z) * np.eye(design.shape[1])
    right: Floats = design.T @ (pull * answers)
    fit = np.linalg.solve(normal, right).astype(np.float64)
    error: Floats = sds**2 + (pull * (answers - design @ fit) ** 2).sum(axis=0)
    slopes: Floats = fit[1:].T
    precision: Floats = np.eye(z.shape[1]) + slopes.T @ (slopes / error[:, None])
    cov = np.linalg.inv(precision).astype(np.float64)
    return cov @ slopes.T @ ((values - fit[0]) / error), cov


def _log_target(z: Floats, run: Carried, seen: tuple[Observed, ...]) -> Floats:
    """Logarithm of prior times likelihood; failed members weigh nothing."""
    found = -0.5 * (z**2).sum(axis=1)
    for column, item in enumerate(seen):
        found -= 0.5 * ((item.value - run.answers[:, column]) / item.sd) ** 2
    found[sorted(run.baby.tally.failed)] = -np.inf
    return found


def resampled(weights: Floats, draws: int) -> NDArray[np.int64]:
    """Rows kept, as many times as their weight asks: systematic, from the middle of each share."""
    places = (np.arange(draws) + 0.5) / draws
    return np.minimum(np.searchsorted(np.cumsum(weights), places), len(weights) - 1)
