"""What an orbit says of its own worth."""

from __future__ import annotations

import pytest
from rooms.circuit_samples import HELD

from inseries.circuit.audit import audited
from inseries.circuit.newborn import normal_newborn, parallel_newborn
from inseries.circuit.orbit import FINE, QUICK, Settings, find_orbit
from inseries.routes import with_aortic_leak, with_atrial_defect

CIRCUITS = {
    "normal": normal_newborn(),
    "parallel": with_atrial_defect(parallel_newborn(), 7.0),
    "leak": with_aortic_leak(normal_newborn(), 0.02),
}
VALVES = {"mitral", "tricuspid", "lv_outlet", "rv_outlet"}


@pytest.mark.parametrize("name", CIRCUITS)
@pytest.mark.parametrize("settings", [QUICK, FINE], ids=["quick", "fine"])
def test_work_in_is_what_is_lost(name: str, settings: Settings) -> None:
    """At fine steps a beat accounts for its work within 0.1 %; nothing stays in vessels."""
    audit = audited(find_orbit(CIRCUITS[name], settings=settings), settings=settings)
    assert audit.energy_gap <= (1e-3 if settings is FINE else 4e-3)
    assert abs(audit.stored_mmhg_ml) <= 1e-3 * audit.work_in_mmhg_ml
    assert audit.work_in_mmhg_ml > 0.0


@pytest.mark.parametrize("name", CIRCUITS)
def test_the_error_of_steps_is_told(name: str) -> None:
    """Doubled steps move pressures by at most 0.15 mmHg at quick steps, less at fine ones."""
    quick, fine = (
        audited(
            find_orbit(CIRCUITS[name], HELD, settings=settings), HELD, settings=settings
        ).step_error_mmhg
        for settings in (QUICK, FINE)
    )
    assert 0.0 < fine < quick <= 0.15


def test_valves_open_once_a_beat() -> None:
    """Every valve is counted; the outlets open once, the inlets for filling and for the atrium."""
    openings = audited(find_orbit(normal_newborn()), settings=QUICK).openings
    assert set(openings) == VALVES
    assert openings["lv_outlet"] == openings["rv_outlet"] == 1
    assert 1 <= openings["mitral"] <= 2
