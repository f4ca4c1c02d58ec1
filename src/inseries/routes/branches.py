"""The lung artery with a right and a left branch, so that the division of flow is a result."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from inseries.base.errors import RouteNotPossible
from inseries.circuit.network import Circuit, Edge, Vessel
from inseries.routes.defects import round_area_cm2
from inseries.routes.narrowings import refuse_closed, refuse_unrepaired, with_narrowing

if TYPE_CHECKING:
    from inseries.circuit.network import Leaf

BRANCHES = {"right": "RPA", "left": "LPA"}

# published: cheng2006, share of lung flow that goes right in 206 normal scans (SD 0.021)
RIGHT_SHARE = 0.525
# chosen: of the resistance from trunk to lung veins, the share of a branch before its bed
BRANCH_SHARE = 0.05
# chosen: of the lung arteries' compliance, the share of the trunk
TRUNK_SHARE = 0.3


def with_lung_branches(circuit: Circuit, *, right_share: Leaf = RIGHT_SHARE) -> Circuit:
    """The circuit with the lung artery as trunk, two branches and two beds.

    The edge ``lungs`` gives way to ``right_branch`` and ``left_branch`` (trunk ``PA`` to ``RPA``
    and ``LPA``) and the beds ``right_lung`` and ``left_lung``. Resistance and compliance of the
    whole stay; without a narrow branch the right lung gets ``right_share``.

    Parameters
    ----------
    circuit : Circuit with an edge ``lungs``
    right_share : float or array, shape (n,), of lung flow, between 0 and 1, without narrowing

    Returns
    -------
    Circuit, of the same topology

    Raises
    ------
    RouteNotPossible
        the lung artery is divided already, or a lung is to get nothing
    """
    if not circuit.has_edge("lungs"):
        raise RouteNotPossible(
            "the lung artery is divided already",
            code="divided_already",
            where="lung branches",
            value=circuit.topology,
        )
    if not (np.min(right_share) > 0.0 and np.max(right_share) < 1.0):
        raise RouteNotPossible(
            "each lung needs a share of the flow",
            code="share_out_of_bounds",
            where="lung branches",
            value=float(np.min(right_share)),
            remedy="a fraction between 0 and 1",
        )
    shares = {"right": right_share, "left": 1.0 - right_share}
    trunk = circuit.part("PA")
    assert isinstance(trunk, Vessel)
    whole = trunk.compliance_ml_mmhg
    halves = tuple(
        Vessel(
            name=BRANCHES[side],
            compliance_ml_mmhg=whole * (1.0 - TRUNK_SHARE) * share,
        )
        for side, share in shares.items()
    )
    lungs = circuit.edge("lungs")
    ways = tuple(way for side, share in shares.items() for way in _side(lungs, side, share))
    slim = circuit.with_part("PA", compliance_ml_mmhg=whole * TRUNK_SHARE)
    return replace(
        slim,
        parts=(*halves, *slim.parts),
        edges=(*(edge for edge in slim.edges if edge.name != "lungs"), *ways),
    )


def with_branch_stenosis(
    circuit: Circuit, *, right_mm: Leaf | None = None, left_mm: Leaf | None = None
) -> Circuit:
    """The circuit after a switch with narrow branches of the lung artery.

    Parameters
    ----------
    circuit : Circuit, topology ``"repaired"``; the lung artery is divided where it is not yet
    right_mm, left_mm : float or array, shape (n,), narrowest diameter; None leaves it as it is

    Returns
    -------
    Circuit

    Raises
    ------
    RouteNotPossible
        before the switch, or a branch would be closed
    """
    refuse_unrepaired(circuit, "branch stenosis")
    divided = circuit if circuit.has_edge("right_branch") else with_lung_branches(circuit)
    for side, diameter in (("right", right_mm), ("left", left_mm)):
        if diameter is not None:
            refuse_closed(diameter, f"{side} branch")
            divided = with_narrowing(
                divided, f"{side}_branch", "stenosis", round_area_cm2(diameter)
            )
    return divided


def _side(lungs: Edge, side: str, share: Leaf) -> tuple[Edge, Edge]:
    """One branch and its bed; the two sides in parallel have the resistance of the lungs."""
    middle = BRANCHES[side]
    whole = lungs.resistance_mmhg_s_ml / share
    branch = Edge(
        name=f"{side}_branch",
        start=lungs.start,
        end=middle,
        resistance_mmhg_s_ml=BRANCH_SHARE * whole,
    )
    bed = replace(
        lungs,
        name=f"{side}_lung",
        start=middle,
        resistance_mmhg_s_ml=(1.0 - BRANCH_SHARE) * whole,
    )
    return branch, bed
