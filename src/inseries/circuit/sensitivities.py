"""How the read-outs of an orbit answer to its numbers, exact to the steps of the beat.

The tangents of one beat give how its end answers to its start and to a number p. An orbit is a root
of g(y, p) - y, so dy/dp = -(dg/dy - 1)⁻¹ dg/dp; its read-outs follow along the same beat.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from inseries.base.errors import CircuitError
from inseries.circuit.compiled import (
    BED_FLOW,
    BODY_FLOW,
    CORNER,
    WIDTH,
    beat_with_slopes,
    layout,
    new_crew,
    next_own,
    next_tone,
    next_total,
    pressed,
)
from inseries.circuit.flat import flatten
from inseries.circuit.orbit import FINE, Settings
from inseries.circuit.readouts import P_MAX, P_MEAN, P_MIN, V_MAX, V_MIN, read
from inseries.circuit.waveforms import waveforms

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from inseries.circuit.compiled import Crew
    from inseries.circuit.flat import Flat
    from inseries.circuit.network import Circuit, Floats
    from inseries.circuit.orbit import Ints, Orbit
    from inseries.circuit.readouts import Readings

# chosen: relative step by which a change is written into slots, and along which read-outs that are
# computed from others (saturations) are differenced; both errors are near 1e-9
SLOT_STEP, READOUT_STEP = 1e-6, 1e-5


@dataclass(frozen=True, slots=True, kw_only=True)
class Sensitivities:
    """Derivatives of one member's orbit by m changes, each by its amount at 0.

    Parameters
    ----------
    orbit : one that repeats
    member : which of its members
    changes : the changes, by name
    unknowns : array, shape (m, u)
    part_readouts : array, shape (m, parts, 9); stress and stretch are NaN: they are not followed
    edge_flows_ml_s : array, shape (m, edges, 2)
    """

    orbit: Orbit
    member: int
    changes: Mapping[str, Callable[[Circuit, float], Circuit]]
    unknowns: Floats
    part_readouts: Floats
    edge_flows_ml_s: Floats

    def of(self, readout: Callable[[Readings], Floats]) -> dict[str, float]:
        """Derivative of anything read off an orbit, saturations included, by every change.

        Raises
        ------
        CircuitError
            the read-out needs what is not followed
        """
        found = {name: self._of(k, name, readout) for k, name in enumerate(self.changes)}
        if not np.isfinite(list(found.values())).all():
            raise CircuitError(
                "this read-out has no derivative here",
                code="not_followed",
                where="sensitivities",
                remedy="a read-out of pressures, volumes, flows or oxygen",
            )
        return found

    def _of(self, k: int, name: str, readout: Callable[[Readings], Floats]) -> float:
        ends: list[float] = []
        for step in (-READOUT_STEP, READOUT_STEP):
            moved = replace(
                self.orbit,
                circuit=self.changes[name](self.orbit.circuit, step),
                part_readouts=self._moved(self.orbit.part_readouts, step * self.part_readouts[k]),
                edge_flows_ml_s=self._moved(
                    self.orbit.edge_flows_ml_s, step * self.edge_flows_ml_s[k]
                ),
            )
            ends.append(float(np.asarray(readout(read(moved)))[self.member]))
        return (ends[1] - ends[0]) / (2.0 * READOUT_STEP)

    def _moved(self, values: Floats, by: Floats) -> Floats:
        moved = values.copy()
        moved[self.member] += by
        return moved


def sensitivities(
    orbit: Orbit,
    changes: Mapping[str, Callable[[Circuit, float], Circuit]],
    *,
    member: int = 0,
    settings: Settings = FINE,
) -> Sensitivities:
    """Derivatives of an orbit by changes of its numbers.

    Parameters
    ----------
    orbit : Orbit, found with these settings
    changes : name to a function from circuit and amount to circuit; amount 0 changes nothing
    member : which of the n members
    settings : steps of the beat; at 150 steps a slope may be that of a ripple, which valves leave
        where they open a step earlier or later (a third are off by more than 1 %); at 300 nine of
        ten are within 1 % and the farthest is off by 3 %

    Returns
    -------
    Sensitivities

    Holds where the orbit is smooth in the change; at a bound of regulation it is that of the side
    on which the orbit lies. Bounds of the total volume are taken as fixed.
    """
    flat = flatten(orbit.circuit)
    network = flat.network(settings.steps)
    steered = 2 + flat.beds
    more = len(changes)
    crew = new_crew(network, flat.theta.shape[1], flat.unknowns, 0.0, more=more)
    wide = crew.TX.size // (flat.states * WIDTH)
    first = _first_column(flat) + steered
    slots, volumes = _directions(orbit.circuit, changes, member)
    given = crew.given.reshape(flat.theta.shape[1], -1)
    given[:, steered : steered + more] = slots.T
    rows = slice(member, member + 1)
    kept = _room(flat, settings.steps, wide)
    beat_with_slopes(
        network, flat.theta[rows], orbit.unknowns[rows], orbit.regulated[rows], crew,
        steered + more, None, kept,
    )  # fmt: skip
    by_change = _by_changes(orbit, member, flat, crew, wide, slice(first, first + more))
    if not orbit.regulated[member, layout.FILLING] > 0.0:  # volume is given, not sought
        by_change[flat.states - 1] += volumes
    _fix_pressed(orbit, member, flat, crew, by_change)
    moved = _solved(crew.J[0], by_change)
    mix = np.zeros((wide * WIDTH, more))
    mix[_columns(flat)] = moved
    mix[first : first + more] = np.eye(more)
    return Sensitivities(
        orbit=orbit,
        member=member,
        changes=changes,
        unknowns=moved.T,
        part_readouts=_part_slopes(orbit, member, flat, kept, mix, settings.steps),
        edge_flows_ml_s=(kept[2].reshape(-1, wide * WIDTH) @ mix).T.reshape(
            more, flat.edges.shape[0], 2
        ),
    )


def _fix_pressed(orbit: Orbit, member: int, flat: Flat, crew: Crew, by_change: Floats) -> None:
    """What is regulated and driven beyond its bound stays there, whatever changes."""
    y, reg, first = orbit.unknowns[member], orbit.regulated[member], flat.states - 1
    for i in range(first, flat.unknowns):
        if pressed(reg, i - first, y[i], crew.g[0, i] - y[i]):
            crew.J[0, i] = 0.0
            crew.J[0, i, i] = -1.0
            by_change[i] = 0.0


def _solved(jacobian: Floats, by_change: Floats) -> Floats:
    """dy/dp from dg/dy - 1 and dg/dp."""
    return np.asarray(-np.linalg.solve(jacobian, by_change), dtype=np.float64)


def _first_column(flat: Flat) -> int:
    """Column of the total volume: what is regulated begins a new group of lanes."""
    return -(-(flat.states - 1) // WIDTH) * WIDTH


def _columns(flat: Flat) -> list[int]:
    """Tangent column of every unknown."""
    own = flat.states - 1
    return [*range(own), *(_first_column(flat) + k for k in range(flat.unknowns - own))]


def _room(flat: Flat, steps: int, wide: int) -> tuple[Floats, Floats, Floats]:
    parts, ways = flat.parts.shape[0], flat.edges.shape[0]
    sizes = (steps * flat.states, steps * parts, 2 * ways)
    states, pressures, both = (np.zeros(n * wide * WIDTH) for n in sizes)
    return states, pressures, both


def _directions(
    circuit: Circuit, changes: Mapping[str, Callable[[Circuit, float], Circuit]], member: int
) -> tuple[Floats, Floats]:
    """How every change moves the slots (shape (m, slots)) and the total volume (shape (m,))."""
    slots: list[Floats] = []
    volumes: list[float] = []
    for change in changes.values():
        less, more = (flatten(change(circuit, step)) for step in (-SLOT_STEP, SLOT_STEP))
        less_at, more_at = (min(member, flat.members - 1) for flat in (less, more))
        slots.append((more.theta[more_at] - less.theta[less_at]) / (2.0 * SLOT_STEP))
        swell = more.volume_ml[more_at] - less.volume_ml[less_at]
        volumes.append(float(swell) / (2.0 * SLOT_STEP))
    return np.array(slots), np.array(volumes)


def _by_changes(
    orbit: Orbit, member: int, flat: Flat, crew: Crew, wide: int, columns: slice
) -> Floats:
    """dg/dp, shape (unknowns, m)."""
    ends = crew.TX.reshape(flat.states, wide * WIDTH)[:, columns]
    seen = crew.Tseen.reshape(-1, wide * WIDTH)[:, columns]
    y, reg, of = orbit.unknowns[member], orbit.regulated[member], crew.seen
    first, last = flat.states - 1, flat.parts.shape[0] - 1
    _, _, by_flow, by_filling = next_total(y[first], reg, of[BODY_FLOW], of[1])
    _, _, by_pressure = next_tone(y[first + 1], reg, of[0])
    rows: list[Floats] = [
        *np.delete(ends, last, axis=0),
        by_flow * seen[BODY_FLOW] + by_filling * seen[1],
        by_pressure * seen[0],
    ]
    if flat.beds:
        _, _, by_bed = next_own(y[first + 2], reg, of[BED_FLOW])
        rows.append(by_bed * seen[BED_FLOW])
    return np.array(rows)


def _part_slopes(
    orbit: Orbit,
    member: int,
    flat: Flat,
    kept: tuple[Floats, Floats, Floats],
    mix: Floats,
    steps: int,
) -> Floats:
    """Derivatives of means and extremes."""
    parts = flat.parts.shape[0]
    waves = waveforms(orbit, member, settings=Settings(steps=steps))
    states = kept[0].reshape(steps, flat.states, -1)[:, :parts] @ mix
    pressures = kept[1].reshape(steps, parts, -1) @ mix
    slopes = np.full((mix.shape[1], parts, orbit.part_readouts.shape[2]), np.nan)
    slopes[:, :, P_MEAN] = pressures.mean(axis=0).T
    slopes[:, :, P_MAX] = _highest_slopes(waves.pressures_mmhg, pressures)
    slopes[:, :, P_MIN] = -_highest_slopes(-waves.pressures_mmhg, -pressures)
    slopes[:, :, V_MAX] = _highest_slopes(waves.volumes_ml, states)
    slopes[:, :, V_MIN] = -_highest_slopes(-waves.volumes_ml, -states)
    return slopes


def _highest_slopes(wave: Floats, slopes: Floats) -> Floats:
    """Derivative of every part's highest value, located by the parabola that reads it out.

    ``wave`` has shape (steps, parts), ``slopes`` (steps, parts, m); gives shape (m, parts).
    """
    before, after = np.roll(wave, 1, axis=0), np.roll(wave, -1, axis=0)
    bend, lean = 2.0 * wave - before - after, before - after
    with np.errstate(divide="ignore", invalid="ignore"):
        rise = np.where(CORNER * bend > np.abs(lean), lean / bend, 0.0)
    highest: Ints = np.argmax(wave, axis=0)
    parts: Ints = np.arange(wave.shape[1], dtype=np.int64)
    at = (highest, parts)
    here: Floats = slopes[at]
    back: Floats = np.roll(slopes, 1, axis=0)[at]
    ahead: Floats = np.roll(slopes, -1, axis=0)[at]
    tilt: Floats = rise[at][:, None]
    moved = here + tilt / 4.0 * (back - ahead) - tilt**2 / 8.0 * (2.0 * here - back - ahead)
    return moved.T
