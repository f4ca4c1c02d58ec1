"""Sensitivities against orbits solved anew on either side of a change.

Central differences of whole orbits, found to 1e-9 mL at the same steps, know nothing of tangents.
With a step of 1e-5 their rounding is 1e-4 of an answer, hence 0.05 %. A larger step would see the
corners that valves make when they open a step earlier or later.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from rooms.circuit_samples import HELD

from inseries.base.errors import CircuitError
from inseries.circuit.network import Circuit, Ventricle
from inseries.circuit.newborn import normal_newborn, parallel_newborn
from inseries.circuit.orbit import Settings, find_orbit
from inseries.circuit.readouts import Readings, read
from inseries.circuit.scaling import scaled
from inseries.circuit.sensitivities import sensitivities
from inseries.routes import with_atrial_defect, with_duct, with_pericardium, with_septum

if TYPE_CHECKING:
    from collections.abc import Callable

    from inseries.circuit.network import Floats

TIGHT = Settings(steps=100, tolerance_ml=1e-9)
STEP = 1e-5
# An orbit is found to 1e-9 mL; in an aorta of 0.1 mL/mmHg two of them lie up to 1e-8 mmHg apart,
# which over both steps looks like a slope of 5e-4 where there is none (a pressure that is held).
NOISE = TIGHT.tolerance_ml / 0.1 / (2.0 * STEP)


def _ventricle(circuit: Circuit, field: str, factor: float) -> Circuit:
    part = circuit.part("LV")
    assert isinstance(part, Ventricle)
    return circuit.with_part("LV", **{field: getattr(part, field) * factor})


def _resistance(circuit: Circuit, edge: str, factor: float) -> Circuit:
    return circuit.with_edge(
        edge, resistance_mmhg_s_ml=circuit.edge(edge).resistance_mmhg_s_ml * factor
    )


CHANGES: dict[str, Callable[[Circuit, float], Circuit]] = {
    "lungs": lambda c, x: _resistance(c, "lungs", 1.0 + x),
    "strength": lambda c, x: _ventricle(c, "active_stress_mmhg", 1.0 + x),
    "mass": lambda c, x: _ventricle(c, "mass_g", 1.0 + x),
    "stiffness": lambda c, x: _ventricle(c, "passive_exponent", 1.0 + x),
    "valve": lambda c, x: c.with_area("mitral", "valve", 0.75 * (1.0 + x)),
    "size": lambda c, x: scaled(c, 1.0 + x),
    "haemoglobin": lambda c, x: c.with_blood(haemoglobin_g_dl=c.blood.haemoglobin_g_dl * (1 + x)),
}
READOUTS: dict[str, Callable[[Readings], Floats]] = {
    "arterial mean": lambda r: r.mean_mmhg("AoU"),
    "left peak": lambda r: r.systolic_mmhg("LV"),
    "filling": lambda r: r.mean_mmhg("LA"),
    "ejection": lambda r: r.ejection_pct("LV"),
    "lung flow": lambda r: r.lung_flow_ml_s,
    "saturation": lambda r: r.saturation_pct("AoU"),
}
CIRCUITS = {
    "normal": normal_newborn(),
    "parallel": with_duct(with_atrial_defect(parallel_newborn(), 6.0), 2.5),
    "shared walls": with_pericardium(with_septum(normal_newborn())),
}


@pytest.mark.parametrize("held", [False, True], ids=["free", "held"])
@pytest.mark.parametrize("name", CIRCUITS)
def test_sensitivities_are_those_of_orbits_solved_anew(name: str, held: bool) -> None:
    """Every read-out answers to every change as two whole searches say."""
    circuit, regulation = CIRCUITS[name], HELD if held else None
    orbit = find_orbit(circuit, regulation, settings=TIGHT)
    changes = {k: v for k, v in CHANGES.items() if not (held and k == "size")}
    told = sensitivities(orbit, changes, settings=TIGHT)
    ends = {
        k: [read(find_orbit(change(circuit, x), regulation, settings=TIGHT)) for x in (-STEP, STEP)]
        for k, change in changes.items()
    }
    for what, readout in READOUTS.items():
        ours = told.of(readout)
        solved = {
            k: float((readout(more) - readout(less))[0]) / (2.0 * STEP)
            for k, (less, more) in ends.items()
        }
        largest = max(abs(value) for value in solved.values())
        for k in changes:
            assert ours[k] == pytest.approx(solved[k], rel=5e-4, abs=max(5e-4 * largest, NOISE)), (
                what,
                k,
            )


def test_a_readout_that_is_not_followed_is_refused() -> None:
    """Fibre stress has no derivative here, and asking for one says so."""
    orbit = find_orbit(normal_newborn(), settings=TIGHT)
    told = sensitivities(orbit, {"lungs": CHANGES["lungs"]}, settings=TIGHT)
    with pytest.raises(CircuitError, match="no derivative"):
        told.of(lambda r: r.part("LV", 5))


def test_what_does_not_matter_has_no_effect() -> None:
    """Haemoglobin moves no pressure."""
    orbit = find_orbit(normal_newborn(), settings=TIGHT)
    told = sensitivities(orbit, {"haemoglobin": CHANGES["haemoglobin"]}, settings=TIGHT)
    assert np.nanmax(np.abs(told.part_readouts)) == 0.0
