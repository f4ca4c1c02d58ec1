"""How the fetus near term divides its flow, against two published series.

Who: Prsa 2014, 40 fetuses, and Seed 2012, 12 fetuses, both at 37 weeks by phase-contrast imaging,
abstracts; mL/min/kg and shares of the combined output, mean and SD. Six constants of the fetus were
fitted to the flows of Prsa, to an aortic mean and to atria nearly equal (tools/fit_fetus.py), so
that this series only shows how well they can be met; Seed was kept to judge. Tolerance: one
published SD, since ours is one middle fetus. Our outlets carry the coronaries' blood, about 3 % of
the output, which theirs do not count.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

import pytest
from witness.situations import ours

from inseries.circuit.fetus import fetus
from inseries.circuit.orbit import FINE, find_orbit
from inseries.circuit.readouts import Readings, read

if TYPE_CHECKING:
    from inseries.circuit.network import Circuit


@cache
def _seen() -> Readings:
    return read(find_orbit(fetus(), settings=FINE))


@pytest.mark.parametrize(
    ("place", "mean", "sd"),
    [
        ("combined_output", 465.0, 57.0),
        ("lung_trunk", 261.0, 46.0),
        ("ascending_aorta", 191.0, 35.0),
        ("superior_vena_cava", 137.0, 30.0),
        ("duct", 187.0, 39.0),
        ("lungs", 77.0, 41.5),
        ("descending_aorta", 252.0, 46.0),
        ("umbilical_vein", 134.0, 36.0),
        ("oval_foramen", 135.0, 49.0),
    ],
)
def test_the_flows_of_prsa_can_be_met_together(place: str, mean: float, sd: float) -> None:
    """Six constants bring nine flows within half an SD of the series they were fitted to."""
    assert ours("fetus_fitted")[f"{place}_ml_min_kg"] == pytest.approx(mean, abs=0.5 * sd)


FITTED_LOWER = pytest.mark.xfail(
    strict=True,
    reason="the series fitted to has 261 mL/min/kg and 56 % here: the two lie an SD apart",
)
CORONARIES = pytest.mark.xfail(
    strict=True,
    reason="the series fitted to has 41 % with an SD of 6, and ours holds the coronaries' 3 %",
)


@pytest.mark.parametrize(
    ("place", "mean", "sd"),
    [
        ("combined_output", 540.0, 101.0),
        pytest.param("lung_trunk", 327.0, 68.0, marks=FITTED_LOWER),
        ("ascending_aorta", 198.0, 38.0),
        ("superior_vena_cava", 147.0, 46.0),
        ("duct", 220.0, 39.0),
        ("lungs", 106.0, 59.0),
        ("descending_aorta", 273.0, 85.0),
        ("umbilical_vein", 160.0, 62.0),
        ("oval_foramen", 107.0, 54.0),
    ],
)
def test_flows_lie_within_one_sd_of_seed(place: str, mean: float, sd: float) -> None:
    """Each flow of the fetus lies within one SD of the series that was kept to judge."""
    assert ours("fetus_judged")[f"{place}_ml_min_kg"] == pytest.approx(mean, abs=sd)


@pytest.mark.parametrize(
    ("place", "mean", "sd"),
    [
        pytest.param("lung_trunk", 60.0, 4.0, marks=FITTED_LOWER),
        pytest.param("ascending_aorta", 37.0, 4.0, marks=CORONARIES),
        ("superior_vena_cava", 28.0, 7.0),
        ("duct", 41.0, 8.0),
        ("lungs", 19.0, 10.0),
        ("descending_aorta", 50.0, 12.0),
        ("umbilical_vein", 30.0, 9.0),
        ("oval_foramen", 21.0, 12.0),
    ],
)
def test_shares_lie_within_one_sd_of_seed(place: str, mean: float, sd: float) -> None:
    """Each share of the combined output lies within one SD of the series kept to judge."""
    assert ours("fetus_judged")[f"{place}_share_pct"] == pytest.approx(mean, abs=sd)


def test_both_ventricles_work_at_one_pressure() -> None:
    """Johnson 2000, 39 fetuses by needle: left and right ventricular pressures do not differ.

    Tolerance 5 mmHg: a difference of a tenth of the systolic pressure that 39 fetuses of 16 to 29
    weeks, whose pressures rise with age, would hardly show.
    """
    seen = _seen()
    assert seen.systolic_mmhg("LV") == pytest.approx(seen.systolic_mmhg("RV"), abs=5.0)


def test_the_left_heart_is_redder_than_the_right() -> None:
    """Saini 2020, by imaging: blood of the left heart is the redder, and so that of arms and head.

    The direction is asked; the placenta is the only place where blood takes up oxygen.
    """
    seen = _seen()
    order = [float(seen.saturation_pct(part)[0]) for part in ("UV", "IV", "LV", "AoD", "RV", "SV")]
    assert order == sorted(order, reverse=True)
    assert seen.saturation_pct("LV")[0] > seen.saturation_pct("RV")[0] + 2.0
    assert seen.oxygen.need_met[0] == pytest.approx(1.0)


def test_more_lung_flow_leaves_less_for_the_foramen() -> None:
    """Prsa 2014: foramen and lung flow go opposite ways (r = -0.64), by the lungs' resistance."""
    tight, lax = (
        read(find_orbit(_with_lungs(factor), settings=FINE)).flow_ml_s("oval_foramen")[0]
        for factor in (1.5, 0.7)
    )
    assert lax < tight


def _with_lungs(factor: float) -> Circuit:
    circuit = fetus()
    lungs = circuit.edge("lungs").resistance_mmhg_s_ml
    return circuit.with_edge("lungs", resistance_mmhg_s_ml=factor * lungs)
