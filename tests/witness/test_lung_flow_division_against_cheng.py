"""How lung flow divides right and left, against scans of lungs.

Who: Cheng 2006, abstract, 206 normal scans of adults: right 52.5 %, SD 2.1. The right share is an
input of ours (``RIGHT_SHARE``), so that the first check shows only that branches and pulses leave
it as it is. Scans in ten patients with narrow lung arteries (abstract, authors not shown) found
the division normal where both sides were narrow alike, and shifted where one was: directions.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from rooms.circuit_samples import HELD
from rooms.topology_samples import switched

from inseries.circuit.newborn import normal_newborn
from inseries.circuit.orbit import FINE, find_orbit
from inseries.circuit.readouts import read
from inseries.routes import with_branch_stenosis, with_lung_branches

if TYPE_CHECKING:
    from inseries.circuit.network import Circuit

RIGHT, SD = 52.5, 2.1


def _right_pct(circuit: Circuit) -> float:
    seen = read(find_orbit(circuit, HELD, settings=FINE))
    right, left = seen.flow_ml_s("right_lung")[0], seen.flow_ml_s("left_lung")[0]
    return 100.0 * float(right / (right + left))


def test_normal_lungs_divide_as_scanned() -> None:
    """In health and after a switch without narrowing the right share lies within one SD."""
    for circuit in (with_lung_branches(normal_newborn()), with_lung_branches(switched())):
        assert _right_pct(circuit) == pytest.approx(RIGHT, abs=SD)


def test_two_narrow_branches_alike_divide_normally() -> None:
    """Both branches at 2.5 mm load the right ventricle, and the division stays within one SD."""
    both = with_branch_stenosis(switched(), left_mm=2.5, right_mm=2.5)
    assert _right_pct(both) == pytest.approx(RIGHT, abs=SD)


def test_one_narrow_branch_shifts_the_division() -> None:
    """With the left at 2 mm alone, the right share lies more than three SD above normal."""
    assert _right_pct(with_branch_stenosis(switched(), left_mm=2.0)) > RIGHT + 3.0 * SD
