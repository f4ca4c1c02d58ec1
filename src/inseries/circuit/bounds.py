"""Refusals: numbers that no circulation can have, each with the place that is meant."""

from __future__ import annotations

from typing import TYPE_CHECKING, NoReturn

import numpy as np

from inseries.base.errors import CircuitError
from inseries.circuit.network import EDGE_NUMBERS, NOT_NUMBERS, Atrium, SqueezedVessel, Ventricle

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from inseries.circuit.network import (
        Blood,
        Circuit,
        Edge,
        Floats,
        Leaf,
        Part,
        Pericardium,
        Septum,
    )

# derived: numbers that may be zero; every other number of a part or edge must be above it
MAY_BE_ZERO = frozenset(
    {"area_cm2", "inertance_mmhg_s2_ml", "eddy_speed_cm_s", "leak_area_cm2", "share"}
)
# chosen: beats per minute that no child's heart reaches
FASTEST_PER_MIN = 400.0


def refuse_unfit(circuit: Circuit, parts: Sequence[Part], edges: Sequence[Edge]) -> None:
    """Refuses numbers that are not finite or out of their bounds.

    Parameters
    ----------
    circuit : Circuit, of which all that parts and edges share is looked at
    parts, edges : those of the circuit that nobody has looked at before

    Raises
    ------
    CircuitError
        naming the part or edge, and the quantity
    """
    many: list[tuple[str, str, Floats]] = []
    for where, name, value in _numbers(circuit, parts, edges):
        if not isinstance(value, float | int):
            many.append((where, name, value))
        elif not (0.0 < value < np.inf or (value == 0.0 and name in MAY_BE_ZERO)):
            _refuse_beyond(where, name, value, value)
    for (where, name, _), (smallest, highest) in zip(many, _extents(many), strict=True):
        _refuse_beyond(where, name, smallest, highest)
    fastest = largest(circuit.rate_per_min)
    if fastest > FASTEST_PER_MIN:
        _refuse("no heart beats so fast", "impossible_rate", "circuit, rate_per_min", fastest)
    for edge in edges:
        _refuse_inertance(edge)
    for part in parts:
        _refuse_course(part)
    _refuse_neighbours(circuit)


def _numbers(
    circuit: Circuit, parts: Sequence[Part], edges: Sequence[Edge]
) -> Iterator[tuple[str, str, Leaf]]:
    yield "circuit", "rate_per_min", circuit.rate_per_min
    yield "circuit", "volume_ml", circuit.volume_ml
    for part in parts:
        yield from _fields(part.name, part)
    for edge in edges:
        yield from _edge_numbers(edge)
    for name, shared in (("septum", circuit.septum), ("pericardium", circuit.pericardium)):
        if shared is not None:
            yield from _fields(name, shared)
    yield from _fields("blood", circuit.blood)


def _fields(
    where: str, record: Part | Septum | Pericardium | Blood
) -> Iterator[tuple[str, str, Leaf]]:
    for name, value in vars(record).items():
        if name not in NOT_NUMBERS or name == "share":
            yield where, name, value


def _edge_numbers(edge: Edge) -> Iterator[tuple[str, str, Leaf]]:
    if edge.own_law is not None:
        for name, value in edge.own_law.numbers.items():
            yield edge.name, name, value
        return
    for name in EDGE_NUMBERS:
        yield edge.name, name, getattr(edge, name)
    for place in edge.restrictions:
        yield f"{edge.name}, {place.name}", "area_cm2", place.area_cm2
        yield f"{edge.name}, {place.name}", "discharge", place.discharge


def largest(value: Leaf) -> float:
    """Largest of all members; a single float goes the short way."""
    return value if isinstance(value, float | int) else float(np.max(value))


def _extents(many: list[tuple[str, str, Floats]]) -> Iterable[tuple[float, float]]:
    """Smallest and largest of each, NaN where one is; those of one length in one sweep."""
    values = [value for _, _, value in many]
    if len({value.shape for value in values}) != 1:
        return [_extent(value) for value in values]
    rows = np.stack(values)
    return zip(rows.min(axis=1).tolist(), rows.max(axis=1).tolist(), strict=True)


def _extent(value: Leaf) -> tuple[float, float]:
    """Smallest and largest, NaN where one is; a single float goes the short way."""
    if isinstance(value, float | int):
        return value, value
    return float(value.min()), float(value.max())


def _refuse_beyond(where: str, name: str, smallest: float, highest: float) -> None:
    if smallest > 0.0 and highest < np.inf:
        return
    if not (smallest == 0.0 and name in MAY_BE_ZERO) or highest == np.inf:
        _refuse_number(f"{where}, {name}", smallest, highest)


def _refuse_number(where: str, smallest: float, largest: float) -> NoReturn:
    if not np.isfinite(smallest + largest):
        value = largest if np.isfinite(smallest) else smallest
        _refuse("a number is not finite", "not_finite", where, value)
    _refuse("a number is too small for this place", "not_positive", where, smallest)


def _refuse_inertance(edge: Edge) -> None:
    smallest, largest = _extent(edge.inertance_mmhg_s2_ml)
    if largest == 0.0:
        return
    if edge.valve:
        _refuse("a valve has no inertance here", "valve_with_inertance", edge.name)
    if smallest == 0.0:
        _refuse("inertance for some members and not for others", "inertance_of_some", edge.name)


def _refuse_course(part: Part) -> None:
    """Refuses an activation that does not rise and fall once within the beat."""
    if isinstance(part, Ventricle | Atrium):
        start, rise, fall = part.activation
        if not (abs(start) < np.inf and rise > 0.0 and fall > 0.0 and rise + fall <= 1.0):
            course = tuple(part.activation)
            _refuse("a chamber rises and falls once a beat", "no_such_course", part.name, course)


def _refuse_neighbours(circuit: Circuit) -> None:
    """Refuses walls and chambers that cannot be shared as is said."""
    wall, sac = circuit.septum, circuit.pericardium
    squeezed = [part for part in circuit.parts if isinstance(part, SqueezedVessel)]
    if wall is not None and wall.left == wall.right:
        _refuse("a septum lies between two chambers", "septum_of_one", "septum", wall.left)
    if sac is not None and (not sac.around or len(set(sac.around)) < len(sac.around)):
        _refuse("a sac holds each chamber once", "sac_twice", "pericardium", sac.around)
    names = {part.name for part in squeezed}
    for part in squeezed:
        if part.by in names:
            _refuse(
                "a squeezed vessel squeezes no other", "squeezed_by_squeezed", part.name, part.by
            )
        if largest(part.share) > 1.0:
            share = largest(part.share)
            _refuse("a share is not above the whole", "more_than_all", f"{part.name}, share", share)
    inside = names & set(sac.around if sac is not None else ())
    if inside:
        _refuse(
            "a squeezed vessel bears the sac through its chamber", "squeezed_in_sac", min(inside)
        )


def _refuse(what: str, code: str, where: str, value: object = None) -> NoReturn:
    raise CircuitError(what, code=code, where=where, value=value)
