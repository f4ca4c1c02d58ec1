"""Draws narrowed by readings: against the exact answer where there is one, and against a twin."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from rooms.prior_samples import THIN, baby_case, carried_by, column, event, reading, seen

from inseries.base.errors import PriorError
from inseries.case import read_case
from inseries.course.walk import walk
from inseries.desk.cautions import ensemble_cautions
from inseries.prior.baby import Baby, Sensed
from inseries.prior.from_case import story_of
from inseries.prior.importance import Gaussian, Proposal, resampled, weighed_draws
from inseries.prior.narrow import MOST_FAILED, Narrowed, narrowed, recent, snapshot
from inseries.prior.observe import observed
from inseries.prior.traits import Traits, drawn, law_column, law_of, normals, spreads

if TYPE_CHECKING:
    from inseries.case import Case
    from inseries.prior.importance import Weighed
    from inseries.prior.traits import Floats

MASS, LOSS = column("lv_mass"), column("loss_rate")


# ---- against the exact answer -------------------------------------------------------------------


def test_without_readings_the_prior_comes_back() -> None:
    """No reading changes no draw: same draws, every other one by either law, all effective."""
    told = weighed_draws(carried_by(lambda z: z[:, :0]), (), draws=50, seed=4, digest="d")
    assert told.effective == pytest.approx(50.0)
    rows = resampled(told.weights, 50)
    given = drawn(50, 4, "d", "round 0").z
    given[:, law_column()] = np.abs(given[:, law_column()]) * np.resize((-1.0, 1.0), 50)
    assert (told.run.baby.traits.z[rows] == given).all()


def _moments(told: Weighed, which: int) -> tuple[float, float]:
    z, weights = told.run.baby.traits.z[:, which], told.weights
    mean = float(weights @ z)
    return mean, float(weights @ (z - mean) ** 2)


def test_a_straight_answer_gives_the_exact_gaussian() -> None:
    """One trait read with error 1: half the way, half the variance; the others stay prior."""
    told = weighed_draws(
        carried_by(lambda z: z[:, [MASS]]), (seen(1.0, 1.0),), draws=400, seed=1, digest="d"
    )
    mean, variance = _moments(told, MASS)
    # four standard errors of a mean and a variance over more than 200 effective draws
    assert told.effective > 200
    assert mean == pytest.approx(0.5, abs=0.2)
    assert variance == pytest.approx(0.5, abs=0.2)
    mean, variance = _moments(told, LOSS)
    assert mean == pytest.approx(0.0, abs=0.3)
    assert variance == pytest.approx(1.0, abs=0.35)


def test_a_bent_answer_is_weighed_right() -> None:
    """For a curved answer the weights, not the fit, give the truth: checked on a fine grid."""
    told = weighed_draws(
        carried_by(lambda z: np.exp(z[:, [MASS]])), (seen(3.0, 0.5),), draws=400, seed=1, digest="d"
    )
    grid = np.linspace(-6.0, 6.0, 4001)
    exact = np.exp(-0.5 * grid**2 - 0.5 * ((3.0 - np.exp(grid)) / 0.5) ** 2)
    mean, variance = _moments(told, MASS)
    # four standard errors over more than 100 effective draws of a spread of 0.18
    assert told.effective > 100
    assert mean == pytest.approx(float(exact @ grid / exact.sum()), abs=0.07)
    assert np.sqrt(variance) == pytest.approx(0.18, abs=0.05)


def test_many_readings_leave_most_draws_effective() -> None:
    """Six readings, on which weights of plain prior draws collapse, leave over half effective."""
    which = [column(name) for name in ("lv_mass", "duct", "stiffness", "outflow", "foramen")]

    def answers(z: Floats) -> Floats:
        return np.column_stack([z[:, which], z[:, which].sum(axis=1)])

    readings = tuple(seen(value, 0.2) for value in (2.0, -2.0, 1.5, -1.5, 1.0, 1.0))
    told = weighed_draws(carried_by(answers), readings, draws=200, seed=1, digest="d")
    assert told.effective > 100
    plain = drawn(400, 1, "d", "plain").z
    away = answers(plain) - np.array([item.value for item in readings])
    weight = np.exp(-0.5 * ((away / 0.2) ** 2).sum(axis=1))
    assert weight.sum() ** 2 / (weight**2).sum() < 10


def test_a_proposal_weighs_itself_out() -> None:
    """The density of a proposal is that of its samples, up to a constant."""
    root = np.array([[1.0, 0.0], [0.6, 0.5]])
    proposal = Gaussian(mean=np.array([1.0, -1.0]), cov=root @ root.T)
    normal = normals((5, 2), 1, "d", "a")
    density = proposal.log_density(proposal.at(normal))
    expected = -0.5 * (normal**2).sum(axis=1) - np.log(0.5)
    assert density == pytest.approx(expected)


def test_rounds_of_samples_count_together() -> None:
    """Two rounds pooled weigh by prior over the mixture: a mean of the prior comes back."""
    mean = np.full(len(spreads()), 0.1)
    mean[law_column()] = 0.0
    away = Gaussian(mean=mean, cov=np.eye(len(spreads())))
    proposal = Proposal(by_law=(away, away), second_share=0.3)
    z = proposal.at(normals((4000, len(spreads())), 1, "d", "pooled"))
    weight = np.exp(-0.5 * (z**2).sum(axis=1) - proposal.log_density(z))
    weight /= weight.sum()
    # Monte Carlo error of a mean of 4000 standard normals is 0.016, somewhat more when weighed
    assert np.abs(weight @ z).max() < 0.08
    assert weight[law_of(Traits(z=z)) == 1].sum() == pytest.approx(0.5, abs=0.03)


def test_rows_are_kept_as_often_as_their_weight_asks() -> None:
    """Systematic rows: a half, a quarter, a quarter; nothing of no weight."""
    rows = resampled(np.array([0.5, 0.0, 0.25, 0.25]), 8)
    assert np.bincount(rows, minlength=4).tolist() == [4, 0, 2, 2]


# ---- too few ------------------------------------------------------------------------------------


def _wild(z: Floats) -> Floats:
    return 1000.0 * np.sin(1e4 * z[:, [MASS]])


def test_below_forty_effective_draws_there_is_no_answer() -> None:
    """Readings that next to no draw fits are refused, with the number that is left."""
    with pytest.raises(PriorError) as refusal:
        weighed_draws(carried_by(_wild), (seen(0.0, 1.0),), draws=100, seed=1, digest="d")
    assert refusal.value.code == "too_few_draws"
    assert isinstance(refusal.value.value, int)
    assert refusal.value.value < 40


def test_a_glance_with_few_draws_is_not_refused() -> None:
    """Who asks for fewer than a hundred draws gets them, and the answer says how many count."""
    told = weighed_draws(carried_by(_wild), (seen(0.0, 1.0),), draws=60, seed=1, digest="d")
    assert told.effective < 40


@pytest.fixture(scope="module")
def thin() -> Narrowed:
    """The thin case, looked at with few draws."""
    return snapshot(read_case(THIN), draws=24, seed=1)


@pytest.mark.parametrize(("effective", "warned"), [(99.4, True), (99.6, False), (150.0, False)])
def test_below_a_hundred_effective_draws_a_caution_travels(
    thin: Narrowed, effective: float, warned: bool
) -> None:
    """The caution names the number; from a hundred on there is none."""
    found = ensemble_cautions(replace(thin, effective_draws=effective))
    assert [f"{effective:.0f} effective draws" in item.text for item in found] == [True] * warned


def test_circuits_that_fail_are_counted_and_too_many_refused(thin: Narrowed) -> None:
    """Above 2 % a caution, above 10 % no answer."""
    some = replace(thin, effective_draws=200.0, narrowing_failed=0.05)
    some.refuse_failed()
    assert ["5 % of the circuits" in item.text for item in ensemble_cautions(some)] == [True]
    with pytest.raises(PriorError) as refusal:
        replace(thin, narrowing_failed=MOST_FAILED + 0.01).refuse_failed()
    assert refusal.value.code == "too_many_failed"


def test_a_case_without_readings_says_so(thin: Narrowed) -> None:
    """An answer that no reading narrowed is about any baby, and says that."""
    found = ensemble_cautions(replace(thin, effective_draws=200.0, readings_used=0))
    assert ["any baby" in item.text for item in found] == [True]


# ---- on circuits --------------------------------------------------------------------------------


def test_the_glance_takes_the_last_day_after_the_last_change() -> None:
    """Readings of a day ago, or from before septostomy, do not narrow what is now."""
    case = baby_case(
        reading(2, mean_mmhg=40),
        reading(40, spo2_right_hand_pct=60),
        event(44, "septostomy"),
        reading(45, spo2_right_hand_pct=75),
        reading(50, spo2_right_hand_pct=77),
    )
    assert [(item.key, item.value) for item in recent(case)] == [("spo2_right_hand_pct", 77)]


def test_narrowed_draws_say_what_they_are(thin: Narrowed) -> None:
    """As many draws as asked, at the age of the last reading, with readings and weights counted."""
    assert thin.baby.traits.members == thin.walls.left.mass_g.size == 24
    assert thin.age_days == pytest.approx(30 / 24)
    assert thin.readings_used == 2
    assert 0.0 < thin.effective_draws <= 24.0


def test_a_mass_by_cmr_and_by_echo_are_different_walls() -> None:
    """8 g by echo is a lighter wall than 8 g by CMR."""
    by_cmr = read_case(THIN.replace('"echo-2d"', '"cmr"'))
    echo, cmr = (snapshot(case, draws=24, seed=1) for case in (read_case(THIN), by_cmr))
    assert np.median(cmr.walls.left.mass_g) > 1.05 * np.median(echo.walls.left.mass_g)


def _twin(seed: int) -> tuple[Case, dict[str, float]]:
    """A baby drawn from the prior, its readings with their errors, and what it truly is."""
    entries = (
        event(4, "prostaglandin_start"),
        *(
            reading(
                hours,
                spo2_right_hand_pct=70,
                mean_mmhg=45,
                lv_systolic_mmhg=55,
                lv_mass_g=8,
                lv_edv_ml=8,
            )
            for hours in (12, 20)
        ),
    )
    case = baby_case(*entries)
    baby = Baby(drawn(1, seed, "twin", "truth"), story_of(case))
    stops = walk(
        baby.beat,
        baby.walls_at_birth(),
        law=baby.law,
        who=baby.individual(),
        body=baby.body(),
        start_days=0.0,
        stops_days=[12 / 24, 20 / 24],
    )
    noise = iter(normals((10,), seed, "twin", "noise"))
    told: list[str] = [event(4, "prostaglandin_start")]
    truth: dict[str, float] = {}
    for stop in stops:
        assert isinstance(stop.sensed, Sensed)
        r, walls = stop.sensed.readings, stop.walls
        values: dict[str, float] = {}
        for item in observed(case):
            if item.age_days == pytest.approx(stop.age_days):
                exact = float(item.predict(r, walls, baby.traits)[0])
                values[item.key] = round(exact + item.sd * float(next(noise)), 2)
        told.append(reading(round(stop.age_days * 24), **values))
        truth = _read(walls.left.mass_g, r.systolic_mmhg("LV"), baby.traits)
    return baby_case(*told), truth


def _read(mass: Floats, systolic: Floats, traits: Traits) -> dict[str, float]:
    found = {"mass": mass, "LV systolic": systolic, "strength": traits["muscle_strength"]}
    found |= {"echo over CMR": traits["echo_over_cmr"], "lungs": traits["lung_resistance"]}
    return {name: float(values[0]) for name, values in found.items()}


def test_a_twin_is_found_again() -> None:
    """Of two drawn babies, read with error, the truth lies in nearly all 90 % intervals."""
    inside: list[bool] = []
    for seed in (1, 2):
        case, truth = _twin(seed)
        today = narrowed(case, draws=30, seed=7)
        traits, walls = today.baby.traits, today.walls
        systolic = today.baby.beat(today.age_days, walls).readings.systolic_mmhg("LV")
        draws = {
            "mass": walls.left.mass_g,
            "LV systolic": systolic,
            "strength": traits["muscle_strength"],
            "echo over CMR": traits["echo_over_cmr"],
            "lungs": traits["lung_resistance"],
        }
        for name, values in draws.items():
            low, high = np.percentile(values, [5.0, 95.0])
            inside.append(bool(low <= truth[name] <= high))
    # of 10 intervals at 90 %, fewer than 7 inside would happen to 1 of 80 honest samplers
    assert sum(inside) >= 7
