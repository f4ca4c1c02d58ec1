"""The atrial switch: veins crossed inside the atria, each ventricle keeps its great artery."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from inseries.base.errors import RouteNotPossible
from inseries.routes.defects import (
    round_area_cm2,
    with_atrial_defect,
    with_duct,
    with_ventricular_defect,
)
from inseries.routes.narrowings import refuse_closed, refuse_negative, with_narrowing
from inseries.routes.switch import OPEN_OUTFLOW_CM2

if TYPE_CHECKING:
    from inseries.circuit.network import Circuit, Leaf


def atrial_switch(
    circuit: Circuit,
    *,
    leak_mm: Leaf = 0.0,
    body_channel_mm: Leaf | None = None,
    lung_channel_mm: Leaf | None = None,
    keep_openings: bool = False,
) -> Circuit:
    """The circuit after an atrial switch, with what its baffle may do wrong.

    Body veins now reach the mitral valve, the left ventricle and the lung artery; lung veins the
    tricuspid valve, the right ventricle and the aorta. ``LA`` stays the atrium before the mitral
    valve and so holds blue blood, ``RA`` red blood; filling is now watched in ``RA``. A leak of the
    baffle is the edge ``atrial_defect``. Duct and ventricular defect are closed unless kept; a band
    comes off, any other narrowing of the left outflow stays before the lungs.

    Parameters
    ----------
    circuit : Circuit with parallel circulations
    leak_mm : float or array, shape (n,), diameter of a leak between the two venous channels
    body_channel_mm : narrowest place of the channel of the body veins; None for a wide one
    lung_channel_mm : the same of the lung veins
    keep_openings : leave duct and ventricular defect as they are

    Returns
    -------
    Circuit, topology ``"atrial_switched"``; the heart is as strong as before, and no volume is lost

    Raises
    ------
    RouteNotPossible
        the circulations are not parallel, a channel would be closed, or the leak is negative
    """
    if circuit.topology != "parallel":
        raise RouteNotPossible(
            "an atrial switch needs parallel circulations",
            code="not_parallel",
            where="atrial switch",
            value=circuit.topology,
            remedy="a circuit before any switch",
        )
    refuse_negative(leak_mm, "leak of an atrial switch")
    crossed = circuit.with_edge("body_veins", end="LA").with_edge("lung_veins", end="RA")
    crossed = with_atrial_defect(crossed, leak_mm)
    if not keep_openings:
        crossed = with_ventricular_defect(with_duct(crossed, 0.0), 0.0)
    crossed = with_narrowing(crossed, "lv_outlet", "band", OPEN_OUTFLOW_CM2)
    crossed = with_narrowing(crossed, "body_veins", "channel", _channel_cm2(body_channel_mm))
    crossed = with_narrowing(crossed, "lung_veins", "channel", _channel_cm2(lung_channel_mm))
    return replace(crossed, topology="atrial_switched", filling_part="RA")


def _channel_cm2(diameter_mm: Leaf | None) -> Leaf:
    if diameter_mm is None:
        return OPEN_OUTFLOW_CM2
    refuse_closed(diameter_mm, "channel of an atrial switch")
    return round_area_cm2(diameter_mm)
