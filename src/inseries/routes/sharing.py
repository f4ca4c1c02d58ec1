"""What ventricles and chambers share, when it is to be counted: septum and sac."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from inseries.base.errors import RouteNotPossible
from inseries.circuit.network import Atrium, Pericardium, Septum, Ventricle
from inseries.routes.additions import addition_values

if TYPE_CHECKING:
    from inseries.circuit.network import Circuit, Leaf


def with_septum(
    circuit: Circuit, *, surface_ratio: Leaf = 1.0, elastance_mmhg_ml: Leaf | None = None
) -> Circuit:
    """The circuit with a septum that shifts with the difference of the two ventricles' pressures.

    Parameters
    ----------
    circuit : Circuit with ventricles ``LV`` and ``RV``
    surface_ratio : body surface over that of the reference newborn; elastance falls with it
    elastance_mmhg_ml : E_s instead; float or array, shape (n,)

    Returns
    -------
    Circuit

    Raises
    ------
    RouteNotPossible
        a size or elastance that is not above zero
    """
    numbers = addition_values()
    _refuse_none(surface_ratio, "septum")
    elastance = elastance_mmhg_ml
    if elastance is None:
        elastance = numbers["septum_elastance"] / surface_ratio
    _refuse_none(elastance, "septum")
    wall = Septum(
        left="LV",
        right="RV",
        elastance_mmhg_ml=elastance,
        viscosity_mmhg_s_ml=numbers["septum_lag"] * elastance,
    )
    return replace(circuit, septum=wall)


def with_pericardium(
    circuit: Circuit, *, surface_ratio: Leaf = 1.0, volume_ml: Leaf | None = None
) -> Circuit:
    """The circuit with a sac around all chambers of the heart.

    Parameters
    ----------
    circuit : Circuit
    surface_ratio : body surface over that of the reference newborn; the sac's volume grows with it
    volume_ml : V_c at which the sac begins to resist instead; less for a sac that is tight or
        filled; float or array, shape (n,)

    Returns
    -------
    Circuit

    Raises
    ------
    RouteNotPossible
        a size or volume that is not above zero
    """
    numbers = addition_values()
    _refuse_none(surface_ratio, "pericardium")
    volume = numbers["sac_volume"] * surface_ratio if volume_ml is None else volume_ml
    _refuse_none(volume, "pericardium")
    sac = Pericardium(
        around=tuple(part.name for part in circuit.parts if isinstance(part, Atrium | Ventricle)),
        pressure_mmhg=numbers["sac_pressure"],
        exponent=numbers["sac_exponent"],
        volume_ml=volume,
    )
    return replace(circuit, pericardium=sac)


def _refuse_none(size: Leaf, where: str) -> None:
    smallest = float(np.min(size))
    if not smallest > 0.0:
        raise RouteNotPossible(
            "a size must be above zero", code="no_size", where=where, value=smallest
        )
