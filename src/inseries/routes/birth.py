"""Birth: the cord is clamped, the lungs open and take up oxygen."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from inseries.base.errors import RouteNotPossible

if TYPE_CHECKING:
    from inseries.circuit.network import Circuit, Leaf


@dataclass(frozen=True, slots=True, kw_only=True)
class AfterBirth:
    """What the first breaths change.

    Parameters
    ----------
    lung_resistance : against before birth
    lung_saturation : fraction at which blood leaves the lungs
    consumption_ml_min : oxygen need of the newborn
    volume_ml : stressed volume after clamping; None keeps that of the fetus without the cord's
        share
    rate_per_min : heart rate; None keeps it
    """

    lung_resistance: Leaf
    lung_saturation: Leaf
    consumption_ml_min: Leaf
    volume_ml: Leaf | None = None
    rate_per_min: Leaf | None = None


def birth(circuit: Circuit, after: AfterBirth) -> Circuit:
    """The circuit in the first hours: no placenta, breathing lungs, duct and foramen as they were.

    The oval foramen stays a flap, which the left atrium's pressure closes when lung flow has risen;
    nothing is closed by hand. The duct is left to ``with_duct``.

    Parameters
    ----------
    circuit : Circuit, topology ``"fetal"``
    after : what the first breaths change

    Returns
    -------
    Circuit, topology ``"just_born"``

    Raises
    ------
    RouteNotPossible
        the circuit is not that of a fetus
    """
    if circuit.topology != "fetal":
        raise RouteNotPossible(
            "only a fetus can be born",
            code="not_fetal",
            where="birth",
            value=circuit.topology,
            remedy="a circuit before birth",
        )
    lungs = circuit.edge("lungs").resistance_mmhg_s_ml * after.lung_resistance
    breathing = circuit.with_edge("lungs", lungs=True, resistance_mmhg_s_ml=lungs)
    breathing = breathing.with_edge("collaterals", lungs=True).with_blood(
        lung_saturation=after.lung_saturation, consumption_ml_min=after.consumption_ml_min
    )
    cord = ("placenta", "umbilical_vein")
    return replace(
        breathing,
        topology="just_born",
        parts=tuple(part for part in breathing.parts if part.name != "UV"),
        edges=tuple(edge for edge in breathing.edges if edge.name not in cord),
        volume_ml=_or(after.volume_ml, circuit.volume_ml * (1.0 - CORD_SHARE)),
        rate_per_min=_or(after.rate_per_min, circuit.rate_per_min),
    )


# derived: volume of the umbilical part of the fetus over the whole, 11.3 of 106.3 mL
CORD_SHARE = 0.107


def _or(given: Leaf | None, usual: Leaf) -> Leaf:
    return usual if given is None else given
