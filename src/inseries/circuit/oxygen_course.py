"""Oxygen over minutes while flows stay as given: what a septostomy or a closing duct does next."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from inseries.base.errors import CircuitError
from inseries.base.numbers import read_numbers
from inseries.circuit.oxygen import oxygen_balance, oxygen_of
from inseries.circuit.oxygen_exchange import SECONDS, Exchange, exchange

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from inseries.circuit.network import Circuit, Floats, Leaf
    from inseries.circuit.orbit import Orbit

# chosen: seconds between two looks at which beds are limited, and between two points told
STEP_S = 2.0
# chosen: the exponential is summed where the matrix is small, and squared back: error 1e-14
SMALL_NORM, TERMS = 0.5, 13
# derived: columns of part_readouts
V_MAX, V_MIN = 3, 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Phase:
    """Flows that stay for some minutes."""

    orbit: Orbit
    minutes: float


@dataclass(frozen=True, slots=True, kw_only=True)
class OxygenCourse:
    """Oxygen of n members over time.

    Parameters
    ----------
    circuit : of the last phase
    minutes : array, shape (t,), from 0
    content, saturation : arrays, shape (t, n, parts), mL/mL and fraction
    need_met : array, shape (t, n)
    """

    circuit: Circuit
    minutes: Floats
    content: Floats
    saturation: Floats
    need_met: Floats

    def saturation_pct(self, part: str) -> Floats:
        """Saturation of a part over time, %, shape (t, n)."""
        return 100.0 * self.saturation[:, :, self.circuit.index(part)]

    def minutes_to_half(self, part: str) -> Floats:
        """Minutes until a part's saturation is half way from its first to its last, shape (n,).

        The first crossing counts; a part that does not change has 0.
        """
        path = self.saturation_pct(part)
        whole = path[-1] - path[0]
        share = (path - path[0]) / np.where(whole == 0.0, 1.0, whole)
        after = np.argmax(share >= 0.5, axis=0)
        before = np.maximum(after - 1, 0)
        members = np.arange(path.shape[1], dtype=np.int64)
        low, high = share[before, members], share[after, members]
        within = np.where(high > low, (0.5 - low) / np.where(high > low, high - low, 1.0), 0.0)
        return self.minutes[before] + within * (self.minutes[after] - self.minutes[before])


def oxygen_course(
    before: Orbit,
    phases: Sequence[Phase],
    blood_volume_ml: Leaf,
    *,
    step_s: float = STEP_S,
) -> OxygenCourse:
    """Oxygen from the steady balance of one orbit through phases of other flows.

    In each phase V dc/dt = what flows in - what flows out - uptake is solved exactly between looks
    at which beds can get what they need, by the exponential of its matrix; V is a part's mean
    volume with its unstressed blood.

    Parameters
    ----------
    before : Orbit of n members, whose balance is the start
    phases : orbits of the same parts and members, and how long each lasts
    blood_volume_ml : all blood, stressed and unstressed, float or shape (n,)
    step_s : seconds between looks, and between points told

    Returns
    -------
    OxygenCourse; tends to ``oxygen_balance`` of the last phase

    Raises
    ------
    CircuitError
        phases of other parts or members, none at all, or no time to go through

    Holds while flows stay as they are, and lungs take up as in steady state; blood that moves from
    part to part between two phases takes its own content along; oxygen stored in tissue is left
    out, so that the truth is slower.
    """
    _refuse_unlike(before, phases, step_s)
    first = oxygen_balance(before)
    content = first.content
    walked = [(0.0, content, first)]
    start = 0.0
    for phase in phases:
        volumes = part_volumes_ml(phase.orbit, blood_volume_ml)
        steps = max(int(np.ceil(phase.minutes * SECONDS / step_s)), 1)
        each = phase.minutes * SECONDS / steps
        mover = _Mover(exchange(phase.orbit), volumes, each)
        for i in range(1, steps + 1):
            content, limited = mover.moved(content)
            minute = start + i * each / SECONDS
            walked.append((minute, content, oxygen_of(phase.orbit, mover.flow, content, limited)))
        start += phase.minutes
    return OxygenCourse(
        circuit=phases[-1].orbit.circuit,
        minutes=np.array([minute for minute, _, _ in walked]),
        content=np.array([at for _, at, _ in walked]),
        saturation=np.array([told.saturation for _, _, told in walked]),
        need_met=np.array([told.need_met for _, _, told in walked]),
    )


@lru_cache(maxsize=1)
def unstressed_shares() -> Mapping[str, float]:
    """Where unstressed blood lies, share of each part."""
    numbers = read_numbers("inseries.circuit", "unstressed.toml")
    return {name: number.value for name, number in numbers.items()}


def part_volumes_ml(orbit: Orbit, blood_volume_ml: Leaf) -> Floats:
    """Mean volume of every part with its unstressed blood.

    Parameters
    ----------
    orbit : Orbit with n members; vessels hold stressed blood only
    blood_volume_ml : all blood, float or shape (n,)

    Returns
    -------
    array, shape (n, parts), mL; parts without a share of unstressed blood keep their own
    """
    stressed = 0.5 * (orbit.part_readouts[:, :, V_MAX] + orbit.part_readouts[:, :, V_MIN])
    unstressed = np.maximum(np.asarray(blood_volume_ml) - orbit.volume_ml, 0.0)
    shares = np.array([unstressed_shares().get(p.name, 0.0) for p in orbit.circuit.parts])
    return np.asarray(stressed + unstressed[:, None] * shares, dtype=np.float64)


class _Mover:
    """Contents a step later, exactly, as long as the same beds are limited."""

    def __init__(self, flow: Exchange, volumes_ml: Floats, step_s: float) -> None:
        self.flow, self.volumes, self.step = flow, volumes_ml, step_s
        self.held: Floats | None = None
        self.propagator: Floats = np.empty(0)

    def moved(self, content: Floats) -> tuple[Floats, Floats]:
        """Contents after a step, and the beds limited there."""
        limited = self.flow.limited(content)
        if self.held is None or not np.array_equal(limited, self.held):
            self.held, self.propagator = limited, self._propagator(limited)
        wide = np.concatenate([content, np.ones((content.shape[0], 1))], axis=1)
        after = np.einsum("nij,nj->ni", self.propagator, wide)[:, :-1]
        return after, self.flow.limited(after)

    def _propagator(self, limited: Floats) -> Floats:
        matrix, given = self.flow.system(limited)
        members, parts = given.shape
        rates: Floats = np.zeros((members, parts + 1, parts + 1))
        rates[:, :parts, :parts] = -matrix / self.volumes[:, :, None]
        rates[:, :parts, parts] = given / self.volumes
        return exponential(self.step * rates)


def exponential(matrices: Floats) -> Floats:
    """Exponentials of matrices, shape (n, k, k), by scaling, a Taylor sum, and squaring."""
    norm = float(np.abs(matrices).sum(axis=2).max())
    halvings = max(int(np.ceil(np.log2(max(norm, SMALL_NORM) / SMALL_NORM))), 0)
    small = matrices / 2.0**halvings
    term = np.broadcast_to(np.eye(matrices.shape[1]), matrices.shape)
    total = term.copy()
    for k in range(1, TERMS):
        term = term @ small / k
        total += term
    for _ in range(halvings):
        total = total @ total
    return total


def _refuse_unlike(before: Orbit, phases: Sequence[Phase], step_s: float) -> None:
    names = [part.name for part in before.circuit.parts]
    for phase in phases:
        same = [part.name for part in phase.orbit.circuit.parts] == names
        if not same or phase.orbit.members != before.members:
            raise CircuitError(
                "oxygen can only go on in the same parts and members",
                code="not_the_same_parts",
                where="phases",
                remedy="orbits of one circuit with other numbers",
            )
    if not phases or not all(phase.minutes > 0.0 for phase in phases) or not step_s > 0.0:
        raise CircuitError(
            "oxygen over time needs time",
            code="no_time",
            where="phases",
            value=step_s,
            unit="s",
            remedy="at least one phase of some minutes, and a step above zero",
        )
