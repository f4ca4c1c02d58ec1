"""What differs from baby to baby: the same for the same seed and case, independent between."""

from __future__ import annotations

import numpy as np
import pytest
from rooms.prior_samples import column

from inseries.prior.traits import Traits, drawn, middle, normals, spreads


def test_draws_are_the_same_for_the_same_seed_and_case() -> None:
    """Seed, case and stream alone decide a draw."""
    assert (drawn(50, 1, "case", "a").z == drawn(50, 1, "case", "a").z).all()


@pytest.mark.parametrize("other", [(2, "case", "a"), (1, "other", "a"), (1, "case", "b")])
def test_another_seed_case_or_stream_gives_independent_draws(other: tuple[int, str, str]) -> None:
    """Change any of the three and the draws have nothing in common."""
    one, two = drawn(2000, 1, "case", "a").z, drawn(2000, *other).z
    together = np.corrcoef(one.ravel(), two.ravel())[0, 1]
    # independent: 5 standard deviations of a correlation over 2000 draws of 28 traits
    assert abs(together) < 5.0 / np.sqrt(one.size)


def test_draws_are_standard_normal() -> None:
    """Mean 0, variance 1, and no trait goes with another."""
    z = drawn(20000, 3, "case", "a").z
    assert np.abs(z.mean(axis=0)).max() < 0.05
    together = np.cov(z.T)
    assert np.abs(together - np.eye(z.shape[1])).max() < 0.06


def test_first_draws_do_not_hang_on_how_many() -> None:
    """Asking for more draws of a stream leaves the first ones as they were."""
    few, many = normals((10, 3), 1, "case", "a"), normals((20, 3), 1, "case", "a")
    assert (many[:10] == few).all()


def test_the_middle_baby_has_every_trait_at_its_centre() -> None:
    """No deviation gives the centre, for factors and for plain traits."""
    one = middle()
    assert one.members == 1
    for trait in spreads():
        assert one[trait.name] == pytest.approx([trait.centre])


def test_a_factor_stays_above_zero() -> None:
    """However far a draw lies out, a factor is positive, and one deviation means its spread."""
    z = np.zeros((3, len(spreads())))
    z[:, column("loss_rate")] = [-6.0, 0.0, 1.0]
    low, centre, high = Traits(z=z)["loss_rate"]
    spread = spreads()[column("loss_rate")].spread
    assert low > 0.0
    assert high / centre == pytest.approx(np.exp(spread))


def test_an_unknown_trait_is_an_error() -> None:
    """A trait that does not exist has no value."""
    with pytest.raises(KeyError):
        middle()["courage"]
