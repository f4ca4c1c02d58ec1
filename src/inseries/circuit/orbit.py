"""The periodic orbit of a circuit: one beat that repeats itself, for one or many members."""

from __future__ import annotations

import os
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from functools import cache, lru_cache, partial
from threading import local
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from inseries.base.errors import CircuitError, NotPeriodic
from inseries.circuit.compiled import (
    NOTES,
    PART_READOUTS,
    REGULATION,
    WIDTH,
    Crew,
    Limits,
    Network,
    Search,
    announced,
    layout,
    new_crew,
    search_block,
)
from inseries.circuit.flat import Flat, flatten
from inseries.circuit.network import Circuit, Floats, Leaf, Part, SqueezedVessel, Ventricle, Vessel
from inseries.circuit.status import Status

if TYPE_CHECKING:
    from collections.abc import Sequence

Ints = NDArray[np.int64]

# chosen: steps of a beat; mean and highest pressures err by 0.03 mmHg at 300 steps and by 0.1 at
# 150 (benchmarks/engine.py)
FINE_STEPS, QUICK_STEPS = 300, 150
# chosen: a beat repeats when no volume changes by more, mL
FINE_TOLERANCE_ML, QUICK_TOLERANCE_ML = 1e-6, 1e-3
# chosen: bounds on the search
MOST_BEATS, WARM_BEATS, SECOND_WARM_BEATS = 300, 4, 120
# derived: any number tells the kernels that members are computed abreast
ABREAST = 1
# chosen: members a thread takes at a time, and into how many such blocks a core's share is cut, so
# that no core waits long for the last
LARGEST_BLOCK, BLOCKS_A_CORE = 256, 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Reflex:
    """The answer of vessels and heart to a lack of arterial pressure, once it has settled.

    The tone is ``gain`` times the relative lack of pressure, within the bounds of ln resistance.

    Parameters
    ----------
    gain : tone over relative lack
    rate, strength, volume : what a tone of 1 does to heart rate and contractility (as ln factors)
        and to the volume that stretches (as a share); resistance follows as ln factor 1
    """

    gain: Leaf
    rate: Leaf = 0.0
    strength: Leaf = 0.0
    volume: Leaf = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Bed:
    """What a bed that regulates itself needs (mL/s), and the bounds of its resistance factor."""

    flow_ml_s: Leaf
    resistance_low: Leaf
    resistance_high: Leaf


@dataclass(frozen=True, slots=True, kw_only=True)
class Regulation:
    """What the body holds between beats.

    Parameters
    ----------
    pressure_mmhg : arterial mean pressure held by systemic resistance
    resistance_low, resistance_high : bounds of the resistance factor
    flow_ml_s : systemic flow that filling rises to; None lets filling rise to its limit
    filling_mmhg : mean pressure of the filling part at which filling stops; None leaves volume
    volume_low, volume_high : bounds of the total volume as factors of the circuit's own
    reflex : answer of the body with a gain of its own; None holds the pressure within the bounds
    bed : need of a bed that regulates itself; None leaves its resistance
    """

    pressure_mmhg: Leaf
    filling_mmhg: Leaf | None
    flow_ml_s: Leaf | None = None
    resistance_low: float
    resistance_high: float
    volume_low: float = 1.0
    volume_high: float = 1.0
    reflex: Reflex | None = None
    bed: Bed | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """Steps of a beat, tolerance (mL), bounds of the search, and on how many threads: 0, all."""

    steps: int = QUICK_STEPS
    tolerance_ml: float = QUICK_TOLERANCE_ML
    most_beats: int = MOST_BEATS
    warm_beats: int = WARM_BEATS
    threads: int = 0


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

    @classmethod
    def beginning(cls, unknowns: Floats, *, held: bool) -> Warm:
        """A start from these unknowns, shape (n, u), of which no Jacobian is known."""
        members = len(unknowns)
        return cls(
            unknowns=unknowns,
            inverse=np.zeros((members, unknowns.shape[1], unknowns.shape[1])),
            known=np.zeros(members, dtype=np.int64),
            held=held,
        )

    def at(self, rows: Ints) -> Warm:
        """Starting points of some members."""
        return Warm(
            unknowns=self.unknowns[rows],
            inverse=self.inverse[rows],
            known=self.known[rows],
            held=self.held,
        )

    def joined(self, others: Sequence[Warm]) -> Warm:
        """The starting points of these members and of others like them."""
        every = (self, *others)
        return Warm(
            unknowns=np.concatenate([one.unknowns for one in every]),
            inverse=np.concatenate([one.inverse for one in every]),
            known=np.concatenate([one.known for one in every]),
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
    regulated : array, shape (n, k), what was held, as the kernels take it
    tone, bed_factor, volume_ml : arrays, shape (n,), as regulated: the body's tone (ln resistance
        factor), the resistance factor of a bed of its own, the volume that stretches
    unknowns : array, shape (n, u): states but the last volume, total volume, tone, ln bed factor
    status, beats, gap_ml, worst : arrays, shape (n,); ``worst`` is the unknown that changes most
    warm : where a neighbour may start
    """

    circuit: Circuit
    part_readouts: Floats
    edge_flows_ml_s: Floats
    regulated: Floats
    tone: Floats
    bed_factor: Floats
    volume_ml: Floats
    unknowns: Floats
    status: Ints
    beats: Ints
    gap_ml: Floats
    worst: Ints
    warm: Warm

    @property
    def members(self) -> int:
        """How many circulations."""
        return self.status.size

    @property
    def settled(self) -> NDArray[np.bool_]:
        """Which members repeat, shape (n,)."""
        return self.status == Status.SETTLED

    @property
    def resistance_factor(self) -> Floats:
        """Factor of the body's resistance, shape (n,)."""
        return np.exp(self.regulated[:, layout.ON_RESISTANCE] * self.tone)

    def as_regulated(self) -> Circuit:
        """The circuit with all that regulation found, now fixed."""
        return self.regulating(self.circuit)

    def regulating(self, other: Circuit) -> Circuit:
        """Another circuit of the same members with what regulation found here, now fixed."""
        reg, tone = self.regulated, self.tone
        circuit = replace(
            other,
            volume_ml=self.volume_ml * (1.0 + reg[:, layout.ON_VOLUME] * tone),
            rate_per_min=other.rate_per_min * np.exp(reg[:, layout.ON_RATE] * tone),
        )
        for edge in circuit.edges:
            factor = self.resistance_factor if edge.systemic else self.bed_factor
            if edge.systemic or edge.self_regulated:
                held = edge.resistance_mmhg_s_ml * factor
                circuit = circuit.with_edge(edge.name, resistance_mmhg_s_ml=held)
        for part in circuit.parts:
            if isinstance(part, Ventricle):
                stronger = part.active_stress_mmhg * np.exp(reg[:, layout.ON_STRENGTH] * tone)
                circuit = circuit.with_part(part.name, active_stress_mmhg=stronger)
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
    regulated = regulation_rows(regulation, flat)
    search = _Search(flat, regulated, warm)
    search.run(settings)
    if np.any(search.found.status != Status.SETTLED):
        _search_again(search, circuit, regulated, warm, settings)
    found = search.found
    orbit = Orbit(
        circuit=circuit,
        part_readouts=found.part,
        edge_flows_ml_s=found.edge,
        regulated=regulated,
        tone=warm.unknowns[:, flat.states].copy(),
        bed_factor=np.exp(warm.unknowns[:, -1]) if flat.beds else np.ones(flat.members),
        volume_ml=warm.unknowns[:, flat.states - 1].copy(),
        unknowns=warm.unknowns.copy(),
        status=found.status,
        beats=found.beats,
        gap_ml=found.gap,
        worst=found.worst,
        warm=warm,
    )
    if check and not orbit.settled.all():
        _refuse(orbit)
    return orbit


def _search_again(
    search: _Search, circuit: Circuit, regulated: Floats, warm: Warm, settings: Settings
) -> None:
    """A second search of members that did not settle: cold, after many plain beats."""
    bad = np.flatnonzero(search.found.status != Status.SETTLED)
    flat = search.flat
    fresh = _cold(circuit, flat, warm.held).at(bad)
    part = replace(flat, theta=flat.theta[bad], volume_ml=flat.volume_ml[bad])
    again = _Search(part, regulated[bad], fresh)
    again.run(replace(settings, warm_beats=SECOND_WARM_BEATS))
    for name in ("y", "inverse", "known", "part", "edge", "status", "beats", "gap", "worst"):
        getattr(search.found, name)[bad] = getattr(again.found, name)


@cache
def _cores() -> int:
    return os.cpu_count() or 1


@lru_cache(maxsize=1)
def _threads(cores: int) -> ThreadPoolExecutor:
    """Threads of our own, kept between searches: starting them costs as much as a small search."""
    return ThreadPoolExecutor(cores)


if hasattr(os, "register_at_fork"):
    os.register_at_fork(after_in_child=_threads.cache_clear)


class _Room(local):
    """A thread's own room for a team, kept for the next search of a like network."""

    likeness: tuple[object, ...] = ()
    crew: Crew | None = None


_ROOM = _Room()


def _crew(network: Network, slots: int, unknowns: int, wide: int) -> Crew:
    """Room for a team: making it anew would cost a tenth of a small search."""
    shapes = (network.parts, network.edges, network.septum, network.sac)
    likeness = (*(rows.tobytes() for rows in shapes), network.act.shape, slots, unknowns, wide)
    if _ROOM.crew is None or _ROOM.likeness != likeness:
        like = 0.0 if wide == 1 else np.zeros(wide)
        _ROOM.crew, _ROOM.likeness = new_crew(network, slots, unknowns, like), likeness
    return _ROOM.crew


class _Search:
    """Arrays of one call to the kernels, and the threads that fill them."""

    def __init__(self, flat: Flat, regulation: Floats, warm: Warm) -> None:
        members, unknowns = flat.members, flat.unknowns
        self.flat = flat
        self.found = Search(
            y=warm.unknowns,
            inverse=warm.inverse,
            known=warm.known,
            theta=flat.theta,
            reg=regulation,
            part=np.zeros((members, flat.parts.shape[0], PART_READOUTS)),
            edge=np.zeros((members, flat.edges.shape[0], 2)),
            status=np.zeros(members, dtype=np.int64),
            beats=np.zeros(members, dtype=np.int64),
            gap=np.zeros(members),
            worst=np.zeros(members, dtype=np.int64),
            g=np.empty((members, unknowns)),
            trial=np.empty((members, unknowns)),
        )

    def run(self, settings: Settings) -> None:
        """Searches the orbits of all members, blocks of them on threads of our own."""
        announced()
        network = self.flat.network(settings.steps)
        limits = Limits(settings.tolerance_ml, settings.most_beats, settings.warm_beats)
        members = self.flat.members
        if members == 1:
            self._block(network, limits, None, 1, 0)
            return
        cores = settings.threads or _cores()
        block = min(LARGEST_BLOCK, max(WIDTH, -(-members // (BLOCKS_A_CORE * cores))))
        firsts = range(0, members, block)
        work = partial(self._block, network, limits, ABREAST, block)
        left = iter(firsts)

        def share() -> None:
            """Takes what is left, block by block, beside the other threads."""
            for first in left:
                work(first)

        others = min(len(firsts), cores) - 1
        asked = [_threads(cores).submit(share) for _ in range(others)]
        share()
        for each in asked:
            each.result()

    def _block(
        self, network: Network, limits: Limits, abreast: int | None, block: int, first: int
    ) -> None:
        """Searches a block of members from ``first`` on; a member's way is its own in any block."""
        members, slots = self.flat.theta.shape
        count = min(members - first, block)
        crew = _crew(network, slots, self.flat.unknowns, 1 if abreast is None else WIDTH)
        notes, best = np.zeros((count, NOTES), dtype=np.int64), np.zeros(count)
        search_block(self.found, network, crew, notes, best, first, limits, abreast)


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
        warm.unknowns[:, flat.states - 1] = flat.volume_ml
        warm.unknowns[:, flat.states :] = 0.0
    return warm


def _cold(circuit: Circuit, flat: Flat, held: bool) -> Warm:
    """Start: arteries at their usual pressures, the rest where it belongs, veins take the rest."""
    unknowns = np.zeros((flat.members, flat.unknowns))
    others = flat.parts.shape[0] - 1
    for i, part in enumerate(circuit.parts[:-1]):
        unknowns[:, i] = _usual_volume(part)
    unknowns[:, flat.states - 1] = flat.volume_ml
    room = flat.volume_ml / np.maximum(unknowns[:, :others].sum(axis=1) * 1.3, flat.volume_ml)
    unknowns[:, :others] *= room[:, None]
    return Warm.beginning(unknowns, held=held)


# chosen: pressures (mmHg) a search starts from
USUAL_PRESSURE = {"AoU": 55.0, "AoD": 55.0, "PA": 28.0, "PV": 8.0, "SV": 4.0}


def _usual_volume(part: Part) -> Leaf:
    if isinstance(part, Vessel | SqueezedVessel):
        return part.compliance_ml_mmhg * USUAL_PRESSURE.get(part.name, 10.0)
    return part.unloaded_volume_ml * 1.5 + 1.0


def regulation_rows(regulation: Regulation | None, flat: Flat) -> Floats:
    """What is held between beats as the kernels take it; zeros where nothing is held."""
    reg = np.zeros((flat.members, REGULATION))
    reg[:, layout.ON_RESISTANCE] = 1.0
    if regulation is None:
        return reg
    reg[:, layout.REGULATED] = 1.0
    reg[:, layout.PRESSURE] = regulation.pressure_mmhg
    reg[:, layout.LOW_TONE] = np.log(regulation.resistance_low)
    reg[:, layout.HIGH_TONE] = np.log(regulation.resistance_high)
    reg[:, layout.FLOW] = 0.0 if regulation.flow_ml_s is None else regulation.flow_ml_s
    reg[:, layout.FILLING] = 0.0 if regulation.filling_mmhg is None else regulation.filling_mmhg
    reg[:, layout.LOW_V] = regulation.volume_low * flat.volume_ml
    reg[:, layout.HIGH_V] = regulation.volume_high * flat.volume_ml
    if regulation.reflex is not None:
        reflex = regulation.reflex
        reg[:, layout.GAIN], reg[:, layout.ON_RATE] = reflex.gain, reflex.rate
        reg[:, layout.ON_STRENGTH], reg[:, layout.ON_VOLUME] = reflex.strength, reflex.volume
    if regulation.bed is not None:
        bed = regulation.bed
        reg[:, layout.OWN_FLOW] = bed.flow_ml_s
        reg[:, layout.LOW_OWN], reg[:, layout.HIGH_OWN] = (
            np.log(bed.resistance_low),
            np.log(bed.resistance_high),
        )
    return reg


def _unknown(orbit: Orbit, member: int) -> str:
    """Name of the unknown that changes most from beat to beat."""
    place, circuit = int(orbit.worst[member]), orbit.circuit
    others = len(circuit.parts) - 1
    if place < others:
        return circuit.parts[place].name
    rows = flatten(circuit).edges
    heavy = [edge.name for edge, row in zip(circuit.edges, rows, strict=True) if row[5] >= 0]
    names = heavy + (["septum"] if circuit.septum else []) + ["total volume", "tone", "own bed"]
    return names[place - others]


def _refuse(orbit: Orbit) -> None:
    bad = np.flatnonzero(~orbit.settled)
    first = int(bad[0])
    status = Status(int(orbit.status[first]))
    raise NotPeriodic(
        f"{bad.size} of {orbit.members} circulations: {status.sentence}",
        code=status.name.lower(),
        where=f"member {first} after {orbit.beats[first]} beats, {_unknown(orbit, first)}",
        value=float(orbit.gap_ml[first]),
        unit="mL",
        remedy="check defects and filling",
    )
