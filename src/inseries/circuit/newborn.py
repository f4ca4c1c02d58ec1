"""The reference newborn as a circuit: normal, and with parallel circulations."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType
from typing import TypeAlias

from inseries.base.numbers import Number, read_numbers
from inseries.circuit.network import (
    Atrium,
    Blood,
    Circuit,
    Edge,
    Part,
    Restriction,
    Ventricle,
    Vessel,
)

NO_DEFECT_CM2 = 0.0


Values: TypeAlias = Mapping[str, float]


@lru_cache(maxsize=1)
def newborn_numbers() -> dict[str, Number]:
    """Numbers of the reference newborn, those of tools/calibrate.py over the starting ones."""
    package = "inseries.circuit"
    return read_numbers(package, "newborn.toml") | read_numbers(package, "fitted.toml")


@lru_cache(maxsize=1)
def newborn_values() -> Values:
    """The same without their origins."""
    return MappingProxyType({name: number.value for name, number in newborn_numbers().items()})


def normal_newborn(values: Values | None = None) -> Circuit:
    """The reference newborn in health at three days: one ring, duct and foramen closed.

    Parameters
    ----------
    values : numbers of the reference newborn; the packaged ones when not given

    Returns
    -------
    Circuit with one member
    """
    v = values or newborn_values()
    return _circuit(v, "normal", v["rv_mass"], v["active_stress"])


def parallel_newborn(values: Values | None = None) -> Circuit:
    """The reference newborn with transposed great arteries: two loops, defects still closed.

    The left ventricle feeds the lung artery through the pulmonary valve, the right ventricle the
    aorta; the right ventricle carries the septum's share of the wall.

    Parameters
    ----------
    values : numbers of the reference newborn; the packaged ones when not given

    Returns
    -------
    Circuit with one member
    """
    v = values or newborn_values()
    strength = v["active_stress"] * v["parallel_rv_strength"]
    return _circuit(v, "parallel", v["parallel_rv_mass"], strength)


def _circuit(v: Values, topology: str, rv_mass_g: float, rv_stress_mmhg: float) -> Circuit:
    lv_to, rv_to = ("AoU", "PA") if topology == "normal" else ("PA", "AoU")
    return Circuit(
        topology=topology,
        parts=_parts(v, rv_mass_g, rv_stress_mmhg),
        edges=_edges(v, lv_to=lv_to, rv_to=rv_to),
        rate_per_min=v["heart_rate"],
        volume_ml=v["total_volume"],
        blood=_blood(v),
    )


def _blood(v: Values) -> Blood:
    return Blood(
        haemoglobin_g_dl=v["haemoglobin"],
        capacity_ml_g=v["oxygen_capacity"],
        consumption_ml_min=v["oxygen_consumption"] * v["weight"],
        lung_saturation=v["lung_saturation"],
    )


def _parts(v: Values, rv_mass_g: float, rv_active_stress_mmhg: float) -> tuple[Part, ...]:
    return (
        _atrium(v, "LA", "la"),
        _atrium(v, "RA", "ra"),
        _ventricle(v, "LV", "lv", v["lv_mass"], v["active_stress"]),
        _ventricle(v, "RV", "rv", rv_mass_g, rv_active_stress_mmhg),
        Vessel(name="AoU", compliance_ml_mmhg=v["upper_aorta_compliance"]),
        Vessel(name="AoD", compliance_ml_mmhg=v["lower_aorta_compliance"]),
        Vessel(name="PA", compliance_ml_mmhg=v["lung_artery_compliance"]),
        Vessel(name="PV", compliance_ml_mmhg=v["lung_vein_compliance"]),
        Vessel(name="SV", compliance_ml_mmhg=v["body_vein_compliance"]),
    )


def _atrium(v: Values, name: str, prefix: str) -> Atrium:
    return Atrium(
        name=name,
        elastance_min_mmhg_ml=v[f"{prefix}_elastance_min"],
        elastance_max_mmhg_ml=v[f"{prefix}_elastance_max"],
        unloaded_volume_ml=v["atrial_unloaded_volume"],
    )


def _ventricle(
    v: Values, name: str, prefix: str, mass_g: float, active_stress_mmhg: float
) -> Ventricle:
    return Ventricle(
        name=name,
        mass_g=mass_g,
        unloaded_volume_ml=v[f"{prefix}_unloaded_volume"],
        active_stress_mmhg=active_stress_mmhg,
        passive_stress_mmhg=v[f"{prefix}_passive_stress"],
        passive_exponent=v["passive_exponent"],
    )


def _edges(v: Values, *, lv_to: str, rv_to: str) -> tuple[Edge, ...]:
    return (
        _valve(v, "mitral", "LA", "LV", _native(v, "valve", v["mitral_area"])),
        _valve(v, "tricuspid", "RA", "RV", _native(v, "valve", v["tricuspid_area"])),
        _valve(v, "lv_outlet", "LV", lv_to, *_outlet(v, lv_to)),
        _valve(v, "rv_outlet", "RV", rv_to, *_outlet(v, rv_to)),
        *_beds(v),
        _collaterals(v, "collateral_share" if lv_to == "AoU" else "parallel_collateral_share"),
        _defect(v, "duct", "AoD", "PA"),
        _defect(v, "atrial_defect", "LA", "RA", eddy=v["eddy_speed"]),
        _defect(v, "ventricular_defect", "LV", "RV"),
    )


def _beds(v: Values) -> tuple[Edge, ...]:
    share = v["upper_share_of_flow"]
    total = v["systemic_resistance"]
    uptake = v["upper_uptake_share"]
    return (
        _bed(
            "arch",
            "AoU",
            "AoD",
            v["arch_resistance"],
            restrictions=(_native(v, "isthmus", v["arch_area"]),),
        ),
        _bed("upper_body", "AoU", "SV", total / share, uptake_share=uptake, systemic=True),
        _bed(
            "lower_body", "AoD", "SV", total / (1 - share), uptake_share=1 - uptake, systemic=True
        ),
        _bed("lungs", "PA", "PV", v["lung_resistance"], lungs=True),
        _bed("lung_veins", "PV", "LA", v["lung_vein_resistance"]),
        _bed("body_veins", "SV", "RA", v["body_vein_resistance"]),
    )


def _collaterals(v: Values, share: str) -> Edge:
    """From the aorta to the lung veins: the share of output at the reference resistance."""
    resistance = v["systemic_resistance"] / v[share]
    return _bed("collaterals", "AoD", "PV", resistance, lungs=True)


def _bed(name: str, start: str, end: str, resistance: float, **more: object) -> Edge:
    return Edge(name=name, start=start, end=end, resistance_mmhg_s_ml=resistance, **more)  # pyright: ignore[reportArgumentType]


def _valve(v: Values, name: str, start: str, end: str, *restrictions: Restriction) -> Edge:
    return Edge(
        name=name,
        start=start,
        end=end,
        resistance_mmhg_s_ml=v["valve_resistance"],
        restrictions=restrictions,
        valve=True,
    )


def _outlet(v: Values, vessel: str) -> tuple[Restriction, ...]:
    own = "aortic_area" if vessel == "AoU" else "pulmonary_area"
    wide = v["open_area"]
    return (
        _orifice(v, "outflow", wide),
        _native(v, "valve", v[own]),
        _orifice(v, "band", wide),
    )


def _defect(v: Values, name: str, start: str, end: str, eddy: float = 0.0) -> Edge:
    return Edge(
        name=name,
        start=start,
        end=end,
        resistance_mmhg_s_ml=v[f"{name}_resistance"],
        restrictions=(_orifice(v, "opening", NO_DEFECT_CM2),),
        eddy_speed_cm_s=eddy,
    )


def _orifice(v: Values, name: str, area_cm2: float) -> Restriction:
    return Restriction(name=name, area_cm2=area_cm2, discharge=v["discharge"])


def _native(v: Values, name: str, area_cm2: float) -> Restriction:
    return Restriction(name=name, area_cm2=area_cm2, discharge=v["native_discharge"])
