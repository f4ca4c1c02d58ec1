"""The kernels alone: flows, pressures, inverses, the beat; compiled and as plain Python."""

from __future__ import annotations

import os
import subprocess
import sys
from math import atan, exp, isnan, log, nan
from typing import TYPE_CHECKING

import numpy as np
import pytest
from rooms.circuit_samples import one_beat, two_vessels

from inseries.circuit import compiled
from inseries.circuit.kernels.between import pericardium, septum
from inseries.circuit.kernels.edges import (
    blended,
    column,
    leaky_valve,
    linear,
    orifice,
    two_way,
    valve,
)
from inseries.circuit.kernels.edges import pump as pump_law
from inseries.circuit.kernels.elementary import arctangent, cube_root, exponential, logarithm
from inseries.circuit.kernels.linear import invert
from inseries.circuit.kernels.parts import elastance, fibre, squeezed, vessel
from inseries.circuit.kernels.root import broyden, newton_step
from inseries.circuit.kernels.watched import top

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path


@pytest.mark.parametrize("drop", [-40.0, -1e-6, 0.0, 1e-6, 3.0, 60.0])
@pytest.mark.parametrize("loss", [1e-6, 1e-4, 0.6, 4e8])
def test_flow_solves_its_equation(drop: float, loss: float) -> None:
    """The flow of an edge put back into ΔP = R Q + B Q|Q| gives the pressure drop again."""
    flow = orifice.flow(drop, *orifice.slots(0.15, loss))[0]
    assert 0.15 * flow + loss * flow * abs(flow) == pytest.approx(drop, rel=1e-6, abs=1e-9)


def test_flow_is_odd_without_a_valve() -> None:
    """Turning the pressures round turns the flow round."""
    slots = orifice.slots(0.1, 0.02)
    assert orifice.flow(-7.0, *slots)[0] == -orifice.flow(7.0, *slots)[0]


def test_a_valve_lets_nothing_back() -> None:
    """A valve carries forward flow as any edge does, and none backwards."""
    slots = orifice.slots(0.1, 0.02)
    assert valve.flow(-7.0, *slots)[0] == 0.0
    assert valve.flow(7.0, *slots)[0] == orifice.flow(7.0, *slots)[0]


def test_a_leaky_valve_leaks_as_its_opening() -> None:
    """Backwards a leaky valve carries what its opening does, forwards what a valve does."""
    slots = leaky_valve.slots(0.1, 0.02, 4.0)
    assert leaky_valve.flow(-7.0, *slots)[0] == orifice.flow(-7.0, *orifice.slots(0.1, 4.0))[0]
    assert leaky_valve.flow(7.0, *slots)[0] == valve.flow(7.0, *valve.slots(0.1, 0.02))[0]


def test_a_pump_adds_its_head() -> None:
    """At no drop a pump drives what its head would drive alone, and it never drives backwards."""
    slots = pump_law.slots(0.1, 0.02, 60.0)
    assert pump_law.flow(0.0, *slots)[0] == valve.flow(60.0, *valve.slots(0.1, 0.02))[0]
    assert pump_law.flow(-61.0, *slots)[0] == 0.0


def test_a_column_is_steady_at_the_flow_of_light_blood() -> None:
    """A column of blood no longer speeds up once its losses take the whole pressure drop."""
    steady = orifice.flow(9.0, *orifice.slots(0.2, 0.05))[0]
    slots = column.slots(0.2, 0.05, 0.01)
    assert column.rate(9.0, steady, *slots)[0] == pytest.approx(0.0, abs=1e-9)
    assert column.rate(9.0, 0.0, *slots)[0] == pytest.approx(900.0)


FIBRE = fibre.slots(5.6, 4.8, 700.0, 6.0, 12.0)


def test_stretch_is_one_without_load() -> None:
    """At its unloaded volume a wall has stretch 1 and bears no passive stress."""
    assert fibre.stretch(4.8, *FIBRE[:2]) == pytest.approx(1.0)
    assert fibre.stress(1.0, 0.0, *FIBRE[2:])[0] == pytest.approx(0.0, abs=1e-9)


def test_passive_stress_has_no_step_where_it_turns_straight() -> None:
    """Value and slope of the passive stress agree on both sides of the straight part's start."""
    h = 1e-5
    at = [fibre.stress(fibre.LINEAR_STRETCH + d, 0.0, *FIBRE[2:])[0] for d in (-h, 0.0, h)]
    assert at[1] - at[0] == pytest.approx(at[2] - at[1], rel=1e-3)


def test_active_stress_stays_between_none_and_full() -> None:
    """Overlap gives no force to a short fibre and no more than full force to a long one."""
    passive = [fibre.stress(lam, 0.0, *FIBRE[2:])[0] for lam in (0.7, 1.4)]
    active = [fibre.stress(lam, 1.0, *FIBRE[2:])[0] for lam in (0.7, 1.4)]
    assert active[0] == passive[0]
    assert active[1] - passive[1] == pytest.approx(700.0)


def test_pressure_follows_stress_and_wall() -> None:
    """Pressure is a third of the stress times the log of outer over inner volume."""
    assert fibre.bears(300.0, 5.0, 5.0) == pytest.approx(100.0 * log(2.0))


def test_atrial_pressure_between_its_elastances() -> None:
    """An atrium has its least elastance at rest and its largest when fully active."""
    assert elastance.pressure(4.0, 0.0, 1.0, 3.0, 1.5)[0] == pytest.approx(2.5)
    assert elastance.pressure(4.0, 1.0, 1.0, 3.0, 1.5)[0] == pytest.approx(7.5)


# A law's slots where it is tried, its arguments before them, and its function.
LAWS = {
    "linear": (linear.flow, (7.0,), linear.slots(0.2)),
    "orifice": (orifice.flow, (-7.0,), orifice.slots(0.1, 0.02)),
    "valve": (valve.flow, (7.0,), valve.slots(0.1, 0.02)),
    "leaky valve": (leaky_valve.flow, (-7.0,), leaky_valve.slots(0.1, 0.02, 3.0)),
    "column": (column.rate, (7.0, 12.0), column.slots(0.1, 0.02, 0.01)),
    "two ways": (two_way.flow, (-7.0,), two_way.slots(0.1, 50.0)),
    "blended, shut": (blended.flow, (-0.02,), blended.slots(0.1, 50.0, 100.0)),
    "blended, open": (blended.flow, (0.02,), blended.slots(0.1, 50.0, 100.0)),
    "pump": (pump_law.flow, (-7.0,), pump_law.slots(0.1, 0.02, 60.0)),
    "vessel": (vessel.pressure, (4.0,), vessel.slots(0.2)),
    "elastance": (elastance.pressure, (4.0, 0.3), elastance.slots(1.0, 3.0, 1.5)),
    "squeezed": (squeezed.pressure, (4.0, 60.0), squeezed.slots(0.2, 0.5)),
    "fibre, early": (fibre.pressure, (9.0, 0.2), FIBRE),
    "fibre, full": (fibre.pressure, (12.0, 1.0), FIBRE),
    "fibre, small": (fibre.pressure, (1.0, 1.0), FIBRE),
    "fibre, stretched": (fibre.pressure, (17.0, 0.0), FIBRE),
    "septum": (septum.rate, (7.0, 0.4), septum.slots(10.0, 0.1)),
    "pericardium": (pericardium.pressure, (40.0,), pericardium.slots(0.5, 6.0, 35.0)),
}


@pytest.mark.parametrize("name", LAWS)
def test_a_law_knows_its_slopes(name: str) -> None:
    """Slope and partials of every law are its own differences, by its state and by every slot.

    H of an orifice follows its loss B, whose partial stands for both.
    """
    law, before, slots = LAWS[name]
    found = law(*before, *slots)
    moved = [1] if name in {"elastance", "squeezed"} or name.startswith("fibre") else []
    arguments = [*before, *slots]
    places = [i for i in range(len(arguments)) if i not in moved]
    names = [word for word in SLOT_NAMES[name] if word not in {"H", "H_r"}]
    assert len(found) == 1 + len(places)
    for value, i in zip(found[1:], places, strict=True):
        if i < len(before) or SLOT_NAMES[name][i - len(before)] in names:
            difference = _difference(law, arguments, i, name)
            assert value == pytest.approx(difference, rel=2e-5, abs=1e-6)


SLOT_NAMES = {
    "linear": linear.SLOTS,
    "orifice": orifice.SLOTS,
    "valve": valve.SLOTS,
    "leaky valve": leaky_valve.SLOTS,
    "column": column.SLOTS,
    "two ways": two_way.SLOTS,
    "blended, shut": blended.SLOTS,
    "blended, open": blended.SLOTS,
    "pump": pump_law.SLOTS,
    "vessel": vessel.SLOTS,
    "elastance": elastance.SLOTS,
    "squeezed": squeezed.SLOTS,
    "septum": septum.SLOTS,
    "pericardium": pericardium.SLOTS,
} | dict.fromkeys([name for name in LAWS if name.startswith("fibre")], fibre.SLOTS)


def _difference(law: Callable[..., tuple[float, ...]], at: list[float], i: int, name: str) -> float:
    """Central difference by argument i; a loss takes its H along."""
    h = 1e-6 * max(abs(at[i]), 1e-3)
    values = []
    for step in (-h, h):
        moved = list(at)
        moved[i] += step
        before = len(at) - len(SLOT_NAMES[name])
        for loss, half in (("B", "H"), ("B_r", "H_r")):
            if half in SLOT_NAMES[name]:
                j, k = SLOT_NAMES[name].index(loss), SLOT_NAMES[name].index(half)
                moved[before + k] = 0.5 / moved[before + j]
        values.append(law(*moved)[0])
    return (values[1] - values[0]) / (2.0 * h)


@pytest.mark.parametrize("x", [1e-3, 0.3, 1.0, 1.7, 88.0])
def test_elementary_functions_are_those_of_the_library(x: float) -> None:
    """Exponential, logarithm and cube root agree with the library's to nine digits."""
    assert exponential(x) == pytest.approx(exp(x), rel=1e-9)
    assert exponential(-x) == pytest.approx(exp(-x), rel=1e-9)
    assert logarithm(x, 1.0) == pytest.approx(log(x), rel=1e-9, abs=1e-10)
    assert logarithm(3.0 * x, 7.0) == pytest.approx(log(3.0 * x / 7.0), rel=1e-9, abs=1e-10)
    assert cube_root(x) == pytest.approx(x ** (1.0 / 3.0), rel=1e-9)


@pytest.mark.parametrize("off", [0.0, 1e-15, -1e-15])
def test_a_level_has_no_top_beside_it(off: float) -> None:
    """Where a curve rises to a level its highest value is the level's, whatever rounding adds."""
    assert top(0.0, 1.0, 1.0 - abs(off)) == pytest.approx(1.0, abs=1e-12)
    assert top(1.0 - abs(off), 1.0, 0.0) == pytest.approx(1.0, abs=1e-12)
    assert top(1.0 + off, 1.0, 1.0 - off) == pytest.approx(1.0, abs=1e-12)


def test_a_round_top_is_that_of_its_parabola() -> None:
    """Three points of 5 - (x - 0.3)² tell its top."""
    points = [5.0 - (x - 0.3) ** 2 for x in (-1.0, 0.0, 1.0)]
    assert top(*points) == pytest.approx(5.0, abs=1e-12)


def test_inverse_of_a_matrix_that_needs_pivots() -> None:
    """The inverse times the matrix is the identity, also with zeros on the diagonal."""
    matrix = np.array([[0.0, 2.0, 1.0], [1.0, 0.0, 3.0], [4.0, 1.0, 0.0]])
    inverse = np.empty_like(matrix)
    assert invert(matrix.copy(), inverse)
    assert np.allclose(matrix @ inverse, np.eye(3), atol=1e-12)


@pytest.mark.parametrize("x", [-1e9, -30.0, -1.0, -1e-9, 0.0, 0.3, 2.0, 400.0])
def test_arctangent_against_the_library(x: float) -> None:
    """The angle that valves are blended by is that of the standard library."""
    assert arctangent(x) == pytest.approx(atan(x), rel=1e-10, abs=1e-15)


@pytest.mark.parametrize("bad", [[[1.0, 2.0], [2.0, 4.0]], [[nan, 1.0], [1.0, 1.0]]])
def test_no_inverse_of_a_singular_matrix(bad: list[list[float]]) -> None:
    """A matrix without inverse, or with a number that is none, is said to have none."""
    matrix = np.array(bad)
    assert not invert(matrix, np.empty_like(matrix))


def test_newton_finds_the_root_of_a_linear_map_at_once() -> None:
    """With the true inverse Jacobian one step leads to the root of a linear map."""
    slope, root = np.array([[0.5, 0.2], [0.1, 0.3]]), np.array([3.0, -2.0])
    y = np.array([10.0, 10.0])
    step = np.empty(2)
    newton_step(np.linalg.inv(slope - np.eye(2)), y, root + slope @ (y - root), step)
    assert np.allclose(y + step, root)


def test_update_maps_what_was_seen() -> None:
    """After its rank-one update the inverse maps the residual's change to the step taken."""
    inverse = np.array([[1.0, 0.2, 0.0], [0.0, 1.5, 0.1], [0.3, 0.0, 2.0]])
    step, change = np.array([1.0, -2.0, 0.5]), np.array([0.7, -1.1, 0.4])
    broyden(inverse, step, change)
    assert np.allclose(inverse @ change, step)


def test_readouts_of_a_beat_are_those_of_its_wave() -> None:
    """Extremes and means of a beat are the extremes and means of the kept wave."""
    circuit = two_vessels(period_s=1.0)
    time, wave, _ = one_beat(circuit, [15.0, 5.0], steps=80)
    assert time.shape == (80,)
    assert np.allclose(wave[:, 2], wave[:, 0] / 0.5)
    assert np.allclose(wave[:, 4], (wave[:, 2] - wave[:, 3]) / 2.0)
    assert not any(isnan(value) for value in wave.ravel())


def test_the_folder_of_compiled_kernels_follows_their_sources(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Another state of the sources has another folder, or an old kernel would answer."""
    before = compiled.cache_folder()
    assert compiled.cache_folder() == before
    monkeypatch.setattr(compiled, "kernel_digest", lambda: "other sources")
    assert compiled.cache_folder() != before


ORBITS = """
import numpy as np
from rooms.circuit_samples import HELD, pump
from rooms.law_samples import ANSWERING, every_law
from inseries.circuit.newborn import normal_newborn
from inseries.circuit.orbit import Settings, find_orbit

few = Settings(steps=100)
heavy = find_orbit(pump(inertance=0.01), settings=few)
held = find_orbit(normal_newborn(), HELD, settings=few)
alone = find_orbit(every_law(), settings=few)
abreast = find_orbit(every_law(mass_g=np.array([7.0, 8.0, 9.0])), ANSWERING, settings=few)
for orbit in (heavy, held, alone, abreast):
    print(*orbit.part_readouts[:, :, :].ravel(), *orbit.edge_flows_ml_s.ravel(), *orbit.beats)
"""


def _orbits(root: os.PathLike[str], without_compiler: str) -> list[list[float]]:
    done = subprocess.run(
        [sys.executable, "-c", ORBITS],
        env={**os.environ, "NUMBA_DISABLE_JIT": without_compiler, "PYTHONPATH": "tests"},
        cwd=root,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return [[float(word) for word in line.split()] for line in done.stdout.splitlines()]


def test_kernels_mean_the_same_as_plain_python(root: os.PathLike[str]) -> None:
    """Without the compiler, where a wrong index raises, orbits come out the same.

    Light and heavy ways, a regulated newborn, every law alone, and three members of it abreast with
    reflex and own bed.
    """
    fast, plain = _orbits(root, "0"), _orbits(root, "1")
    assert len(fast) == len(plain) == 4
    for one, other in zip(fast, plain, strict=True):
        assert np.allclose(one, other, rtol=1e-6, atol=1e-6)


def test_a_first_compile_is_announced_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    """Where no compiled kernels lie, one line says that they are made; later none does."""
    monkeypatch.setattr(compiled, "cache_folder", lambda: tmp_path)
    compiled.announce_first_compile()
    assert "once" in caplog.text
    caplog.clear()
    (tmp_path / "kernels").mkdir()
    (tmp_path / "kernels" / "search.search_block-1.py311.nbi").touch()
    compiled.announce_first_compile()
    assert not caplog.text
