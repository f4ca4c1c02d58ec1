"""Every topology that the package can build, by the name its page gives it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.circuit.fetus import fetus
from inseries.circuit.newborn import normal_newborn, parallel_newborn
from inseries.routes import (
    AfterBirth,
    AfterBypass,
    arterial_switch,
    atrial_switch,
    birth,
    with_aortic_leak,
    with_atrial_defect,
    with_band,
    with_branch_stenosis,
    with_coarctation,
    with_coronaries,
    with_duct,
    with_left_outflow,
    with_ostial_stenosis,
    with_pericardium,
    with_septum,
    with_shunt,
    with_support,
    with_supravalvar_stenosis,
    with_valve_leak,
    with_ventricular_defect,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from inseries.circuit.network import Circuit

AFTER_BYPASS = AfterBypass(
    left_strength=0.8, right_strength=0.9, stiffness=1.2, lung_resistance=1.2, rate_per_min=160.0
)
FIRST_HOURS = AfterBirth(lung_resistance=0.3, lung_saturation=0.95, consumption_ml_min=21.0)


def mixing() -> Circuit:
    """Parallel loops after septostomy."""
    return with_atrial_defect(parallel_newborn(), 6.0)


def switched() -> Circuit:
    """After the arterial switch, the heart a little weaker."""
    return arterial_switch(mixing(), AFTER_BYPASS, relieve_outflow=True)


TOPOLOGIES: dict[str, Callable[[], Circuit]] = {
    "fetal": fetus,
    "just_born": lambda: birth(fetus(), FIRST_HOURS),
    "normal": normal_newborn,
    "normal, coarctation": lambda: with_coarctation(with_duct(normal_newborn(), 3.0), 2.0),
    "parallel": parallel_newborn,
    "parallel, atrial defect": mixing,
    "parallel, duct": lambda: with_duct(mixing(), 3.0),
    "parallel, ventricular defect": lambda: with_ventricular_defect(mixing(), 4.0),
    "parallel, fixed outflow stenosis": lambda: with_left_outflow(mixing(), 0.12),
    "parallel, coarctation": lambda: with_coarctation(with_duct(mixing(), 4.0), 2.0),
    "parallel, band": lambda: with_band(mixing(), 4.0),
    "parallel, band and shunt": lambda: with_shunt(with_band(mixing(), 4.0), 3.0),
    "repaired": switched,
    "repaired, supravalvar stenosis": lambda: with_supravalvar_stenosis(switched(), 4.0),
    "repaired, branch stenosis": lambda: with_branch_stenosis(switched(), left_mm=2.0),
    "repaired, aortic leak": lambda: with_aortic_leak(switched(), 0.03),
    "repaired, ostial stenosis": lambda: with_ostial_stenosis(switched(), 0.4),
    "repaired, support": lambda: with_support(switched(), 120.0),
    "normal, coronaries": lambda: with_coronaries(normal_newborn()),
    "normal, septum and sac": lambda: with_pericardium(with_septum(normal_newborn())),
    "parallel, all that can be added": lambda: with_valve_leak(
        with_pericardium(with_septum(with_coronaries(with_support(mixing(), 100.0)))),
        "tricuspid",
        0.02,
    ),
    "atrial_switched": lambda: atrial_switch(mixing()),
    "atrial_switched, leak": lambda: atrial_switch(mixing(), leak_mm=3.0),
    "atrial_switched, narrow channels": lambda: atrial_switch(
        mixing(), body_channel_mm=4.0, lung_channel_mm=3.5
    ),
}
