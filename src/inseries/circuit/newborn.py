"""The reference newborn as a circuit: normal, and with parallel circulations."""

from __future__ import annotations

from functools import lru_cache

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


@lru_cache(maxsize=1)
def newborn_numbers() -> dict[str, Number]:
    """Numbers of the reference newborn, those of tools/calibrate.py over the starting ones."""
    package = "inseries.circuit"
    return read_numbers(package, "newborn.toml") | read_numbers(package, "fitted.toml")


def value(name: str) -> float:
    """One number of the reference newborn."""
    return newborn_numbers()[name].value


def normal_newborn() -> Circuit:
    """The reference newborn in health at three days: one ring, duct and foramen closed."""
    return Circuit(
        topology="normal",
        parts=_parts(value("rv_mass"), value("active_stress")),
        edges=_edges(lv_to="AoU", rv_to="PA"),
        rate_per_min=value("heart_rate"),
        volume_ml=value("total_volume"),
        blood=_blood(),
    )


def parallel_newborn() -> Circuit:
    """The reference newborn with transposed great arteries: two loops, defects still closed.

    The left ventricle feeds the lung artery through the pulmonary valve, the right ventricle the
    aorta; the right ventricle carries the septum's share of the wall.
    """
    return Circuit(
        topology="parallel",
        parts=_parts(
            value("parallel_rv_mass"), value("active_stress") * value("parallel_rv_strength")
        ),
        edges=_edges(lv_to="PA", rv_to="AoU"),
        rate_per_min=value("heart_rate"),
        volume_ml=value("total_volume"),
        blood=_blood(),
    )


def _blood() -> Blood:
    return Blood(
        haemoglobin_g_dl=value("haemoglobin"),
        capacity_ml_g=value("oxygen_capacity"),
        consumption_ml_min=value("oxygen_consumption") * value("weight"),
        lung_saturation=value("lung_saturation"),
    )


def _parts(rv_mass_g: float, rv_active_stress_mmhg: float) -> tuple[Part, ...]:
    return (
        _atrium("LA", "la"),
        _atrium("RA", "ra"),
        _ventricle("LV", "lv", value("lv_mass"), value("active_stress")),
        _ventricle("RV", "rv", rv_mass_g, rv_active_stress_mmhg),
        Vessel(name="AoU", compliance_ml_mmhg=value("upper_aorta_compliance")),
        Vessel(name="AoD", compliance_ml_mmhg=value("lower_aorta_compliance")),
        Vessel(name="PA", compliance_ml_mmhg=value("lung_artery_compliance")),
        Vessel(name="PV", compliance_ml_mmhg=value("lung_vein_compliance")),
        Vessel(name="SV", compliance_ml_mmhg=value("body_vein_compliance")),
    )


def _atrium(name: str, prefix: str) -> Atrium:
    return Atrium(
        name=name,
        elastance_min_mmhg_ml=value(f"{prefix}_elastance_min"),
        elastance_max_mmhg_ml=value(f"{prefix}_elastance_max"),
        unloaded_volume_ml=value("atrial_unloaded_volume"),
    )


def _ventricle(name: str, prefix: str, mass_g: float, active_stress_mmhg: float) -> Ventricle:
    return Ventricle(
        name=name,
        mass_g=mass_g,
        unloaded_volume_ml=value(f"{prefix}_unloaded_volume"),
        active_stress_mmhg=active_stress_mmhg,
        passive_stress_mmhg=value(f"{prefix}_passive_stress"),
        passive_exponent=value("passive_exponent"),
    )


def _edges(*, lv_to: str, rv_to: str) -> tuple[Edge, ...]:
    return (
        _valve("mitral", "LA", "LV", _native("valve", value("mitral_area"))),
        _valve("tricuspid", "RA", "RV", _native("valve", value("tricuspid_area"))),
        _valve("lv_outlet", "LV", lv_to, *_outlet(lv_to)),
        _valve("rv_outlet", "RV", rv_to, *_outlet(rv_to)),
        *_beds(),
        _defect("duct", "AoD", "PA"),
        _defect("atrial_defect", "LA", "RA", eddy=value("eddy_speed")),
        _defect("ventricular_defect", "LV", "RV"),
    )


def _beds() -> tuple[Edge, ...]:
    share = value("upper_share_of_flow")
    total = value("systemic_resistance")
    uptake = value("upper_uptake_share")
    return (
        _bed("arch", "AoU", "AoD", value("arch_resistance"),
             restrictions=(_native("isthmus", value("arch_area")),)),
        _bed("upper_body", "AoU", "SV", total / share, uptake_share=uptake, systemic=True),
        _bed("lower_body", "AoD", "SV", total / (1 - share), uptake_share=1 - uptake,
             systemic=True),
        _bed("lungs", "PA", "PV", value("lung_resistance"), lungs=True),
        _bed("lung_veins", "PV", "LA", value("lung_vein_resistance")),
        _bed("body_veins", "SV", "RA", value("body_vein_resistance")),
    )


def _bed(name: str, start: str, end: str, resistance: float, **more: object) -> Edge:
    return Edge(name=name, start=start, end=end, resistance_mmhg_s_ml=resistance, **more)  # pyright: ignore[reportArgumentType]


def _valve(name: str, start: str, end: str, *restrictions: Restriction) -> Edge:
    return Edge(name=name, start=start, end=end, resistance_mmhg_s_ml=value("valve_resistance"),
                restrictions=restrictions, valve=True)


def _outlet(vessel: str) -> tuple[Restriction, ...]:
    own = "aortic_area" if vessel == "AoU" else "pulmonary_area"
    wide = value("open_area")
    return (
        _orifice("outflow", wide),
        _native("valve", value(own)),
        _orifice("band", wide),
    )


def _defect(name: str, start: str, end: str, eddy: float = 0.0) -> Edge:
    return Edge(
        name=name, start=start, end=end, resistance_mmhg_s_ml=value(f"{name}_resistance"),
        restrictions=(_orifice("opening", NO_DEFECT_CM2),), eddy_speed_cm_s=eddy,
    )


def _orifice(name: str, area_cm2: float) -> Restriction:
    return Restriction(name=name, area_cm2=area_cm2, discharge=value("discharge"))


def _native(name: str, area_cm2: float) -> Restriction:
    return Restriction(name=name, area_cm2=area_cm2, discharge=value("native_discharge"))
