"""The periodic orbit of a circuit: one beat that repeats itself, for one or many members."""

from __future__ import annotations

import os
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from inseries.base.errors import CircuitError, NotPeriodic
from inseries.circuit.compiled import PART_READOUTS, Limits, find_orbits
from inseries.circuit.flat import Flat, flatten
from inseries.circuit.network import Circuit, Floats, Leaf, Part, Vessel
from inseries.circuit.status import Status

if TYPE_CHECKING:
    from collections.abc import Sequence

Ints = NDArray[np.int64]

# chosen: steps of a beat; mean and highest pressures err by 0.02 mmHg at 200 steps and by 0.1 at
# 100 (benchmarks/orbit.py)
FINE_STEPS, QUICK_STEPS = 200, 100
# chosen: a beat repeats when no volume changes by more, mL
FINE_TOLERANCE_ML, QUICK_TOLERANCE_ML = 1e-6, 1e-3
# chosen: bounds on the search
MOST_BEATS, WARM_BEATS, SECOND_WARM_BEATS = 300, 8, 120
# chosen: a second search that ends within so many tolerances counts as settled
ACCEPTED_TOLERANCES = 10.0
# chosen: members a thread takes at a time
BLOCK = 16


@dataclass(frozen=True, slots=True, kw_only=True)
class Regulation:
    """What the body holds between beats.

    Parameters
    ----------
    pressure_mmhg : arterial mean pressure held by systemic resistance
    resistance_low, resistance_high : bounds of the resistance factor
    flow_ml_s : systemic flow that filling rises to; None lets filling rise to its limit
    filling_mmhg : mean pressure of the filling part at which filling stops
    volume_low, volume_high : bounds of the total volume as factors of the circuit's own
    """

    pressure_mmhg: Leaf
    filling_mmhg: Leaf
    flow_ml_s: Leaf | None = None
    resistance_low: float
    resistance_high: float
    volume_low: float
    volume_high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """Steps of a beat, tolerance (mL), bounds of the search."""

    steps: int = QUICK_STEPS
    tolerance_ml: float = QUICK_TOLERANCE_ML
    most_beats: int = MOST_BEATS
    warm_beats: int = WARM_BEATS


QUICK = Settings()
FINE = Settings(steps=FINE_STEPS, tolerance_ml=FINE_TOLERANCE_ML)


@dataclass(slots=True, kw_only=True)
class Warm:
    """Where a neighbour's search may start: unknowns and inverse Jacobians, updated in place.

    ``held`` says whether they come from a regulated orbit.
    """

    unknowns: Floats
    inverse: Floats
    known: Ints
    held: bool

    def at(self, rows: Ints) -> Warm:
        """Starting points of some members."""
        return Warm(
            unknowns=self.unknowns[rows],
            inverse=self.inverse[rows],
            known=self.known[rows],
            held=self.held,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Orbit:
    """Repeating beats of n members.

    Parameters
    ----------
    circuit : the circuit they belong to
    part_readouts : array, shape (n, parts, 9): P mean, max, min (mmHg); V max, min (mL);
        fibre stress mean, max (mmHg); stretch max, min
    edge_flows_ml_s : array, shape (n, edges, 2): mean flow forwards and backwards
    resistance_factor, volume_ml : arrays, shape (n,), as regulated
    unknowns : array, shape (n, u): volumes but the last, inertial flows, total volume, ln factor
    status, beats, gap_ml : arrays, shape (n,)
    warm : where a neighbour may start
    """

    circuit: Circuit
    part_readouts: Floats
    edge_flows_ml_s: Floats
    resistance_factor: Floats
    volume_ml: Floats
    unknowns: Floats
    status: Ints
    beats: Ints
    gap_ml: Floats
    warm: Warm

    @property
    def members(self) -> int:
        """How many circulations."""
        return self.status.size

    @property
    def settled(self) -> NDArray[np.bool_]:
        """Which members repeat, shape (n,)."""
        return self.status == Status.SETTLED

    def as_regulated(self) -> Circuit:
        """The circuit with the resistance and volume that regulation found, now fixed."""
        circuit = replace(self.circuit, volume_ml=self.volume_ml)
        for edge in circuit.edges:
            if edge.systemic:
                held = edge.resistance_mmhg_s_ml * self.resistance_factor
                circuit = circuit.with_edge(edge.name, resistance_mmhg_s_ml=held)
        return circuit


def find_orbit(
    circuit: Circuit,
    regulation: Regulation | None = None,
    *,
    settings: Settings = QUICK,
    warm: Warm | None = None,
    check: bool = True,
) -> Orbit:
    """The beat that repeats itself.

    Parameters
    ----------
    circuit : Circuit with n members (floats count as one)
    regulation : what is held between beats; None keeps resistance and volume as they are
    settings : steps, tolerance, bounds
    warm : start from a neighbour's orbit (used and updated in place)
    check : raise when any member does not settle; False leaves it to ``status``

    Returns
    -------
    Orbit

    Raises
    ------
    CircuitError
        a number out of its bounds, or a start from an orbit of other members or parts
    NotPeriodic
        with ``check``, when a member did not settle
    """
    flat = flatten(circuit)
    held = regulation is not None
    warm = _cold(circuit, flat, held) if warm is None else _fitting(warm, flat, held)
    search = _Search(flat, regulation_rows(regulation, flat), warm)
    search.run(range(flat.members), settings)
    bad = [int(member) for member in np.flatnonzero(search.status != Status.SETTLED)]
    if bad:
        fresh = _cold(circuit, flat, held)
        warm.unknowns[bad] = fresh.unknowns[bad]
        warm.known[bad] = 0
        search.run(bad, replace(settings, warm_beats=SECOND_WARM_BEATS))
        search.accept(ACCEPTED_TOLERANCES * settings.tolerance_ml)
    orbit = Orbit(
        circuit=circuit,
        part_readouts=search.parts,
        edge_flows_ml_s=search.edges,
        resistance_factor=np.exp(warm.unknowns[:, -1]),
        volume_ml=warm.unknowns[:, -2].copy(),
        unknowns=warm.unknowns.copy(),
        status=search.status,
        beats=search.beats,
        gap_ml=search.gap,
        warm=warm,
    )
    if check and not orbit.settled.all():
        _refuse(orbit)
    return orbit


class _Search:
    """Arrays of one call to the kernels, and the threads that fill them."""

    def __init__(self, flat: Flat, regulation: Floats, warm: Warm) -> None:
        members = flat.members
        self.flat, self.regulation, self.warm = flat, regulation, warm
        self.parts = np.zeros((members, flat.kind.size, PART_READOUTS))
        self.edges = np.zeros((members, flat.start.size, 2))
        self.status = np.zeros(members, dtype=np.int64)
        self.beats = np.zeros(members, dtype=np.int64)
        self.gap = np.zeros(members)

    def run(self, members: Sequence[int], settings: Settings) -> None:
        """Searches the orbits of some members, blocks of them on threads of our own."""
        blocks = _blocks(members)
        workers = min(len(blocks), os.cpu_count() or 1)
        if workers <= 1:
            for first, last in blocks:
                self._block(first, last, settings)
            return
        with ThreadPoolExecutor(workers) as pool:
            done = [pool.submit(self._block, first, last, settings) for first, last in blocks]
            for task in done:
                task.result()

    def accept(self, gap_ml: float) -> None:
        """Members left within a small change of repeating count as settled.

        Kinks where a bound of regulation takes hold can keep a search circling just above its
        tolerance; the pressures then differ by hundredths of a mmHg.
        """
        self.status[self.gap < gap_ml] = Status.SETTLED

    def _block(self, first: int, last: int, settings: Settings) -> None:
        flat, warm = self.flat, self.warm
        find_orbits(
            first,
            last,
            warm.unknowns,
            warm.inverse,
            warm.known,
            flat.theta,
            flat.network(settings.steps),
            self.regulation,
            self.parts,
            self.edges,
            Limits(settings.tolerance_ml, settings.most_beats, settings.warm_beats),
            self.status,
            self.beats,
            self.gap,
        )


def _blocks(members: Sequence[int]) -> list[tuple[int, int]]:
    """Runs of neighbouring members, at most ``BLOCK`` long."""
    blocks: list[tuple[int, int]] = []
    for member in members:
        if blocks and blocks[-1][1] == member and member - blocks[-1][0] < BLOCK:
            blocks[-1] = (blocks[-1][0], member + 1)
        else:
            blocks.append((member, member + 1))
    return blocks


def _fitting(warm: Warm, flat: Flat, held: bool) -> Warm:
    """The neighbour's start, when it has this circuit's members and unknowns.

    Where nothing is held, volume and resistance are the circuit's own, not the neighbour's.
    """
    if warm.unknowns.shape != (flat.members, flat.unknowns):
        raise CircuitError(
            "a search cannot start from an orbit of other members or parts",
            code="not_a_neighbour",
            where="warm",
            value=warm.unknowns.shape,
            remedy="a cold start",
        )
    if warm.held != held:
        warm.known[:] = 0
        warm.held = held
    if not held:
        warm.unknowns[:, -2] = flat.volume_ml
        warm.unknowns[:, -1] = 0.0
    return warm


def _cold(circuit: Circuit, flat: Flat, held: bool) -> Warm:
    """Start: arteries at their usual pressures, the rest where it belongs, veins take the rest."""
    size = flat.unknowns
    unknowns = np.zeros((flat.members, size))
    others = flat.kind.size - 1
    for i, part in enumerate(circuit.parts[:-1]):
        unknowns[:, i] = _usual_volume(part)
    unknowns[:, size - 2] = flat.volume_ml
    room = flat.volume_ml / np.maximum(unknowns[:, :others].sum(axis=1) * 1.3, flat.volume_ml)
    unknowns[:, :others] *= room[:, None]
    return Warm(
        unknowns=unknowns,
        inverse=np.zeros((flat.members, size, size)),
        known=np.zeros((flat.members, 1), dtype=np.int64),
        held=held,
    )


# chosen: pressures (mmHg) a search starts from
USUAL_PRESSURE = {"AoU": 55.0, "AoD": 55.0, "PA": 28.0, "PV": 8.0, "SV": 4.0}


def _usual_volume(part: Part) -> Leaf:
    if isinstance(part, Vessel):
        return part.compliance_ml_mmhg * USUAL_PRESSURE.get(part.name, 10.0)
    return part.unloaded_volume_ml * 1.5 + 1.0


def regulation_rows(regulation: Regulation | None, flat: Flat) -> Floats:
    """What is held between beats as the kernels take it; zeros where nothing is held."""
    reg = np.zeros((flat.members, 8))
    if regulation is None:
        return reg
    reg[:, 0] = 1.0
    reg[:, 1] = regulation.pressure_mmhg
    reg[:, 2] = np.log(regulation.resistance_low)
    reg[:, 3] = np.log(regulation.resistance_high)
    reg[:, 4] = 0.0 if regulation.flow_ml_s is None else regulation.flow_ml_s
    reg[:, 5] = regulation.filling_mmhg
    reg[:, 6] = regulation.volume_low * flat.volume_ml
    reg[:, 7] = regulation.volume_high * flat.volume_ml
    return reg


def _refuse(orbit: Orbit) -> None:
    bad = np.flatnonzero(~orbit.settled)
    first = int(bad[0])
    status = Status(int(orbit.status[first]))
    raise NotPeriodic(
        f"{bad.size} of {orbit.members} circulations: {status.sentence}",
        code=status.name.lower(),
        where=f"member {first} after {orbit.beats[first]} beats",
        value=float(orbit.gap_ml[first]),
        unit="mL",
        remedy="check defects and filling",
    )
