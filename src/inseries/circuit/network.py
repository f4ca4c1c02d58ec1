"""A circulation as data: parts joined by edges.

Every number may be a float (one circulation) or an array of shape (n,) (n draws of it); routes
and scaling therefore work on one and on many alike. Records have no slots, so that altered ones are
copied at once: thousands are made for an answer.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, NamedTuple, TypeAlias, TypeVar

import numpy as np
from numpy.typing import NDArray

from inseries.base.errors import CircuitError
from inseries.circuit.joined import Way, refuse_unjoined

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

Floats: TypeAlias = NDArray[np.float64]
Leaf: TypeAlias = float | Floats


class Activation(NamedTuple):
    """When a chamber contracts, as shares of the beat: begin, rise and fall, each half a cosine."""

    start: float
    rise: float
    fall: float


# chosen: activation as shares of the beat, fitted with the newborn
VENTRICULAR = Activation(0.0, 0.33, 0.20)
ATRIAL = Activation(0.86, 0.10, 0.10)


@dataclass(frozen=True, kw_only=True)
class Ventricle:
    """A one-fibre shell.

    Parameters
    ----------
    mass_g : wall mass
    unloaded_volume_ml : cavity volume V_0 at stretch 1
    active_stress_mmhg : S, fibre stress at full overlap and activation
    passive_stress_mmhg : s_0
    passive_exponent : k
    activation : when it contracts
    """

    name: str
    mass_g: Leaf
    unloaded_volume_ml: Leaf
    active_stress_mmhg: Leaf
    passive_stress_mmhg: Leaf
    passive_exponent: Leaf
    activation: Activation = VENTRICULAR


@dataclass(frozen=True, kw_only=True)
class Atrium:
    """A chamber of varying elastance (mmHg/mL) above an unloaded volume (mL)."""

    name: str
    elastance_min_mmhg_ml: Leaf
    elastance_max_mmhg_ml: Leaf
    unloaded_volume_ml: Leaf
    activation: Activation = ATRIAL


@dataclass(frozen=True, kw_only=True)
class Vessel:
    """A compliant vessel (mL/mmHg); its volume is the stressed volume."""

    name: str
    compliance_ml_mmhg: Leaf


@dataclass(frozen=True, kw_only=True)
class SqueezedVessel:
    """A vessel in the wall of the chamber ``by``; it bears ``share`` of that one's pressure."""

    name: str
    compliance_ml_mmhg: Leaf
    by: str
    share: Leaf


Part: TypeAlias = Ventricle | Atrium | Vessel | SqueezedVessel
T = TypeVar("T", "Part", "Edge", "Restriction")
S = TypeVar("S", "Part", "Septum", "Pericardium")
R = TypeVar("R", "Part", "Edge", "Restriction", "Septum", "Pericardium", "Circuit")


@dataclass(frozen=True, kw_only=True)
class Restriction:
    """A narrow place: ΔP = 4 v² through an area (cm²) used to the share ``discharge``."""

    name: str
    area_cm2: Leaf
    discharge: float


@dataclass(frozen=True, kw_only=True)
class OwnLaw:
    """A law by the name of its file in ``kernels/edges``, and its numbers by their symbols."""

    name: str
    numbers: Mapping[str, Leaf]


@dataclass(frozen=True, kw_only=True)
class Edge:
    """A way from one part to another.

    Parameters
    ----------
    resistance_mmhg_s_ml : R of ΔP = R Q + B Q|Q|
    restrictions : narrow places in series, whose losses add to B
    valve : no flow backwards
    uptake_share : share of the oxygen consumption taken here
    lungs : blood leaves this edge with the lungs' saturation
    eddy_speed_cm_s : exchange both ways through the first restriction on top of the net flow
    systemic : its resistance follows the regulation of arterial pressure
    inertance_mmhg_s2_ml : L; above zero the flow is a state, L dQ/dt = ΔP - R Q - B Q|Q|
    leak_area_cm2 : effective opening through which a valve leaks backwards
    self_regulated : a bed whose own resistance follows its need (the coronary bed)
    own_law : a further law, which then takes the place of all of the above but name, start and end
    """

    name: str
    start: str
    end: str
    resistance_mmhg_s_ml: Leaf = math.nan
    restrictions: tuple[Restriction, ...] = ()
    valve: bool = False
    uptake_share: float = 0.0
    lungs: bool = False
    eddy_speed_cm_s: Leaf = 0.0
    systemic: bool = False
    inertance_mmhg_s2_ml: Leaf = 0.0
    leak_area_cm2: Leaf = 0.0
    self_regulated: bool = False
    own_law: OwnLaw | None = None


@dataclass(frozen=True, kw_only=True)
class Septum:
    """The wall that two ventricles share: it shifts until E_s times the shift bears the difference.

    Parameters
    ----------
    left, right : names of the ventricles
    elastance_mmhg_ml : E_s
    viscosity_mmhg_s_ml : η; small, so that the shift follows within a few ms
    """

    left: str
    right: str
    elastance_mmhg_ml: Leaf
    viscosity_mmhg_s_ml: Leaf


@dataclass(frozen=True, kw_only=True)
class Pericardium:
    """The sac around the chambers: P_c = p_0 (exp(n (ΣV/V_c - 1)) - exp(-n)).

    Parameters
    ----------
    around : names of the chambers inside
    pressure_mmhg : p_0
    exponent : n
    volume_ml : V_c, at which it begins to resist
    """

    around: tuple[str, ...]
    pressure_mmhg: Leaf
    exponent: Leaf
    volume_ml: Leaf


@dataclass(frozen=True, kw_only=True)
class Blood:
    """What blood carries, needs and gets.

    Parameters
    ----------
    haemoglobin_g_dl, capacity_ml_g : oxygen that full haemoglobin binds is their product
    consumption_ml_min : oxygen need of the whole body
    lung_saturation : fraction at which blood leaves the lungs when they breathe air at sea level
    fetal_share : fetal over all haemoglobin
    ph, temperature_c, carbon_dioxide_mmhg : arterial
    inspired_fraction : share of oxygen in dry inspired gas
    barometric_mmhg : pressure around the child
    """

    haemoglobin_g_dl: Leaf
    capacity_ml_g: Leaf
    consumption_ml_min: Leaf
    lung_saturation: Leaf
    fetal_share: Leaf = 0.8  # common practice: term newborn, teaching pages 0.7 to 0.9
    ph: Leaf = 7.4  # common practice: normal acid-base state
    temperature_c: Leaf = 37.0  # common practice: a warm child
    carbon_dioxide_mmhg: Leaf = 40.0  # common practice: normal acid-base state
    inspired_fraction: Leaf = 0.21  # common practice: air
    barometric_mmhg: Leaf = 760.0  # common practice: sea level

    def __post_init__(self) -> None:
        """Refuses shares of more than the whole."""
        for name in ("lung_saturation", "fetal_share", "inspired_fraction"):
            largest = float(np.max(getattr(self, name)))
            if largest > 1.0 or (largest == 1.0 and name == "lung_saturation"):
                raise CircuitError(
                    "a share is not below the whole",
                    code="more_than_all",
                    where=f"blood, {name}",
                    value=largest,
                    remedy="a fraction, not per cent",
                )


@dataclass(frozen=True, kw_only=True)
class Circuit:
    """A whole circulation; the last part takes what the total volume leaves to it.

    Parameters
    ----------
    volume_ml : sum of all part volumes (vessels: stressed)
    pressure_part, filling_part : parts whose mean pressure regulation watches
    septum, pericardium : what ventricles and chambers share; None leaves them apart
    """

    topology: str
    parts: tuple[Part, ...]
    edges: tuple[Edge, ...]
    rate_per_min: Leaf
    volume_ml: Leaf
    blood: Blood
    pressure_part: str = "AoU"
    filling_part: str = "LA"
    septum: Septum | None = None
    pericardium: Pericardium | None = None

    def __post_init__(self) -> None:
        """Refuses a network that cannot be a circulation."""
        refuse_unjoined(
            tuple(part.name for part in self.parts),
            tuple(Way(edge.name, edge.start, edge.end, edge.valve) for edge in self.edges),
            (self.pressure_part, self.filling_part, *_shared_names(self)),
        )

    def part(self, name: str) -> Part:
        """The part of that name; CircuitError when there is none."""
        return _named(self.parts, name)

    def edge(self, name: str) -> Edge:
        """The edge of that name; CircuitError when there is none."""
        return _named(self.edges, name)

    def index(self, name: str) -> int:
        """Position of a part."""
        return [part.name for part in self.parts].index(name)

    def edge_index(self, name: str) -> int:
        """Position of an edge."""
        return [edge.name for edge in self.edges].index(name)

    def has_edge(self, name: str) -> bool:
        """Whether there is an edge of that name."""
        return any(edge.name == name for edge in self.edges)

    def with_part(self, name: str, **changes: object) -> Circuit:
        """The same circulation with fields of one part changed."""
        self.part(name)
        return self._with(JOINING.isdisjoint(changes), parts=_changed(self.parts, name, changes))

    def with_edge(self, name: str, **changes: object) -> Circuit:
        """The same circulation with fields of one edge changed."""
        self.edge(name)
        return self._with(JOINING.isdisjoint(changes), edges=_changed(self.edges, name, changes))

    def with_area(self, edge: str, restriction: str, area_cm2: Leaf) -> Circuit:
        """The same circulation with the area of one narrow place changed."""
        narrow = self.edge(edge).restrictions
        _named(narrow, restriction)
        return self.with_edge(
            edge, restrictions=_changed(narrow, restriction, {"area_cm2": area_cm2})
        )

    def with_blood(self, **changes: Leaf) -> Circuit:
        """The same circulation with other blood."""
        return self._with(joined=True, blood=replace(self.blood, **changes))

    def with_numbers(self, **changes: Leaf) -> Circuit:
        """The same circulation with another ``rate_per_min`` or ``volume_ml``."""
        return self._with(joined=True, **changes)

    def _with(self, joined: bool, **changes: object) -> Circuit:
        """Other fields; how parts are joined is looked at again where it may be another."""
        return _altered(self, changes) if joined else replace(self, **changes)


def _shared_names(circuit: Circuit) -> tuple[str, ...]:
    """Parts that others lean on: walls they share, chambers they lie in."""
    squeezed = tuple(part.by for part in circuit.parts if isinstance(part, SqueezedVessel))
    septum = (circuit.septum.left, circuit.septum.right) if circuit.septum else ()
    around = circuit.pericardium.around if circuit.pericardium else ()
    return squeezed + septum + around


def _named(items: tuple[T, ...], name: str) -> T:
    for item in items:
        if item.name == name:
            return item
    raise CircuitError("there is no such part", code="no_such_part", where=name)


def _changed(items: tuple[T, ...], name: str, changes: Mapping[str, object]) -> tuple[T, ...]:
    return tuple(_altered(item, changes) if item.name == name else item for item in items)


def _altered(item: R, changes: Mapping[str, object]) -> R:
    """A record with some fields changed, many times as fast as ``dataclasses.replace``.

    For records that refuse nothing by themselves, or nothing of what is changed.
    """
    held = vars(item)
    unknown = changes.keys() - held.keys()
    if unknown:
        raise TypeError(unknown)
    new = object.__new__(type(item))
    vars(new).update(held)
    vars(new).update(changes)
    return new


def mapped(circuit: Circuit, scale: Callable[[str, Leaf], Leaf]) -> Circuit:
    """The circulation with every part and edge number passed through ``scale(field, value)``.

    A number of an edge's own law is passed as ``"law.symbol"``.
    """
    numbers = {
        "parts": tuple(_scaled(part, scale) for part in circuit.parts),
        "edges": tuple(_scaled_edge(edge, scale) for edge in circuit.edges),
        "septum": circuit.septum and _scaled(circuit.septum, scale),
        "pericardium": circuit.pericardium and _scaled(circuit.pericardium, scale),
    }
    return _altered(circuit, numbers)


# derived: fields by which parts are joined
JOINING = frozenset({"name", "start", "end", "valve", "by"})
# derived: fields that are names or shapes, not numbers that a body's size or a spread may change
NOT_NUMBERS = frozenset({"name", "by", "share", "activation", "left", "right", "around"})


def _scaled(part: S, scale: Callable[[str, Leaf], Leaf]) -> S:
    held = vars(part).items()
    return _altered(part, {n: scale(n, value) for n, value in held if n not in NOT_NUMBERS})


EDGE_NUMBERS = (
    "resistance_mmhg_s_ml", "inertance_mmhg_s2_ml", "eddy_speed_cm_s", "leak_area_cm2",
)  # fmt: skip


def _scaled_edge(edge: Edge, scale: Callable[[str, Leaf], Leaf]) -> Edge:
    narrow = tuple(
        _altered(place, {"area_cm2": scale("area_cm2", place.area_cm2)})
        for place in edge.restrictions
    )
    own = edge.own_law
    if own is not None:
        numbers = {k: scale(f"{own.name}.{k}", value) for k, value in own.numbers.items()}
        own = replace(own, numbers=numbers)
    numbers = {name: scale(name, getattr(edge, name)) for name in EDGE_NUMBERS}
    return _altered(edge, {"restrictions": narrow, "own_law": own, **numbers})
