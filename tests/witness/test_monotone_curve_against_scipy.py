"""The curve between nodes against scipy's PchipInterpolator, which has the same source."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.interpolate import PchipInterpolator

from inseries.prior.curve import monotone

NODES = {
    "uneven": [0.0, 1.0, 2.5, 7.0, 7.5, 20.0],
    "even": [0.0, 1.0, 2.0, 3.0, 4.0, 5.0],
}
VALUES = {
    "falling": [1.0, 0.98, 0.7, 0.4, 0.39, 0.0],
    "with turns": [0.1, 0.9, 0.9, 0.2, 0.8, 0.3],
    "steep end": [0.0, 5.0, 4.9, 4.8, 0.0, 5.0],
}


@pytest.mark.parametrize("values", VALUES)
@pytest.mark.parametrize("nodes", NODES)
def test_same_curve_as_scipy(nodes: str, values: str) -> None:
    """Every value between the nodes agrees to rounding."""
    x, y = np.array(NODES[nodes]), np.array(VALUES[values])
    at = np.linspace(x[0], x[-1], 301)
    ours = monotone(x, y[:, None], at)[:, 0]
    # both are the same arithmetic in another order
    assert ours == pytest.approx(PchipInterpolator(x, y)(at), abs=1e-12)


def test_two_nodes_give_a_straight_line() -> None:
    """With nothing known between, the curve is straight."""
    line = monotone(np.array([0.0, 4.0]), np.array([[1.0], [3.0]]), np.array([1.0, 2.0]))
    assert line[:, 0] == pytest.approx([1.5, 2.0])
