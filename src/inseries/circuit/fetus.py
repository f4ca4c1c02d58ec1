"""The reference newborn before birth: placenta, oval foramen, wide duct, resting lungs."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from math import pi
from types import MappingProxyType
from typing import TYPE_CHECKING

from inseries.base.numbers import Number, read_numbers
from inseries.circuit.network import Circuit, Edge, Part, Restriction, Vessel
from inseries.circuit.newborn import newborn_values, normal_newborn

if TYPE_CHECKING:
    from inseries.circuit.newborn import Values

# derived: mm to cm
MM_CM = 10.0


@lru_cache(maxsize=1)
def fetus_numbers() -> dict[str, Number]:
    """Numbers in which the fetus near term differs from the reference newborn."""
    return read_numbers("inseries.circuit", "fetus.toml")


@lru_cache(maxsize=1)
def fetus_values() -> Values:
    """The same without their origins."""
    return MappingProxyType({name: number.value for name, number in fetus_numbers().items()})


def fetus(values: Values | None = None, newborn: Values | None = None) -> Circuit:
    """The reference newborn near term, before birth.

    Blood takes up oxygen in the placenta and none in the lungs: ``Blood.lung_saturation`` is that
    of the umbilical vein. Umbilical blood joins that of the legs in ``IV``, which opens into the
    right atrium and, through the flap of the oval foramen, straight into the left; blood of arms
    and head (``SV``) reaches the right atrium only. This division is what makes the blood of
    arms and head the redder one.

    Parameters
    ----------
    values : numbers of the fetus; the packaged ones when not given
    newborn : numbers of the reference newborn; the packaged ones when not given

    Returns
    -------
    Circuit with one member, topology ``"fetal"``

    Holds near term (37 weeks), at rest. There is no coronary bed: the left ventricle's output is
    that of the ascending aorta. ``Oxygen.effective_flow_ml_s`` speaks of lungs and means nothing
    here.
    """
    f, v = values or fetus_values(), newborn or newborn_values()
    born = normal_newborn(v)
    blood = replace(
        born.blood,
        lung_saturation=f["placenta_saturation"],
        consumption_ml_min=f["oxygen_consumption"] * v["weight"],
    )
    return Circuit(
        topology="fetal",
        parts=_parts(born, f),
        edges=_edges(born, f, v),
        rate_per_min=f["heart_rate"],
        volume_ml=f["total_volume"],
        blood=blood,
    )


def _parts(born: Circuit, f: Values) -> tuple[Part, ...]:
    shared = born.with_part("LV", mass_g=f["lv_mass"]).with_part("RV", mass_g=f["rv_mass"])
    return (
        *(part for part in shared.parts if part.name != "SV"),
        Vessel(name="UV", compliance_ml_mmhg=f["umbilical_compliance"]),
        Vessel(name="IV", compliance_ml_mmhg=f["inferior_compliance"]),
        Vessel(name="SV", compliance_ml_mmhg=f["superior_compliance"]),
    )


def _edges(born: Circuit, f: Values, v: Values) -> tuple[Edge, ...]:
    duct = pi / 4.0 * (f["duct_diameter"] / MM_CM) ** 2
    kept = (
        born.with_edge("upper_body", resistance_mmhg_s_ml=f["upper_body_resistance"])
        .with_edge("lungs", resistance_mmhg_s_ml=f["lung_resistance"], lungs=False)
        .with_edge("collaterals", lungs=False)
        .with_area("duct", "opening", duct)
    )
    lower = replace(
        born.edge("lower_body"), end="IV", resistance_mmhg_s_ml=f["lower_body_resistance"]
    )
    gone = ("atrial_defect", "lower_body")
    return (
        *(edge for edge in kept.edges if edge.name not in gone),
        lower,
        *_placenta(f),
        replace(born.edge("body_veins"), name="inferior_vein", start="IV"),
        _foramen(f, v),
    )


def _placenta(f: Values) -> tuple[Edge, Edge]:
    return (
        Edge(
            name="placenta",
            start="AoD",
            end="UV",
            resistance_mmhg_s_ml=f["placenta_resistance"],
            lungs=True,
        ),
        Edge(
            name="umbilical_vein",
            start="UV",
            end="IV",
            resistance_mmhg_s_ml=f["umbilical_vein_resistance"],
        ),
    )


def _foramen(f: Values, v: Values) -> Edge:
    opening = Restriction(name="opening", area_cm2=f["foramen_area"], discharge=v["discharge"])
    return Edge(
        name="oval_foramen",
        start="IV",
        end="LA",
        resistance_mmhg_s_ml=v["atrial_defect_resistance"],
        restrictions=(opening,),
        valve=True,
    )
