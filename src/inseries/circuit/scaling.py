"""A circuit carried to another body size."""

from __future__ import annotations

from inseries.circuit.compiled import EDGE_LAWS
from inseries.circuit.network import Circuit, Leaf, mapped

# chosen: powers of the ratio of body surfaces; areas ~ BSA and diameters ~ BSA^0.5 as published in
# sluysmans2005, compliance with volume, the rest so that pressures stay
SIZE_POWERS = {
    "resistance_mmhg_s_ml": -1.0,
    "inertance_mmhg_s2_ml": -1.0,
    "eddy_speed_cm_s": 0.0,
    "area_cm2": 1.0,
    "leak_area_cm2": 1.0,
    "compliance_ml_mmhg": 1.0,
    "elastance_min_mmhg_ml": -1.0,
    "elastance_max_mmhg_ml": -1.0,
    "unloaded_volume_ml": 1.0,
    "mass_g": 1.0,
    "active_stress_mmhg": 0.0,
    "passive_stress_mmhg": 0.0,
    "passive_exponent": 0.0,
    "elastance_mmhg_ml": -1.0,
    "viscosity_mmhg_s_ml": -1.0,
    "pressure_mmhg": 0.0,
    "exponent": 0.0,
    "volume_ml": 1.0,
}


def scaled(circuit: Circuit, surface_ratio: Leaf) -> Circuit:
    """The circuit of a body with that ratio of body surface; stresses and pressures stay.

    Parameters
    ----------
    circuit : Circuit
    surface_ratio : float or array, shape (n,), new body surface over the old

    Returns
    -------
    Circuit; heart rate, haemoglobin and oxygen need per member are left as they are
    """
    factors = {power: surface_ratio**power for power in (-1.0, 1.0)}

    def larger(name: str, value: Leaf) -> Leaf:
        power = _power(name)
        if power == 0.0:
            return value
        return value * (factors[power] if power in factors else surface_ratio**power)

    return mapped(circuit, larger).with_numbers(volume_ml=circuit.volume_ml * surface_ratio)


def _power(name: str) -> float:
    """Power of body surface with which a number grows; an edge's own law knows its own."""
    if name in SIZE_POWERS:
        return SIZE_POWERS[name]
    law, symbol = name.split(".")
    return EDGE_LAWS[law].GROWS[symbol]
