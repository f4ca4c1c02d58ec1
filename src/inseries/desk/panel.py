"""The bedside panel of the left ventricle: what was measured, how, and against whom."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from inseries.base.findings import Estimate
from inseries.case.record import Case, Method, Value
from inseries.case.words import method_words
from inseries.desk.sizes import Size, sizes
from inseries.norms.surface import body_surface_m2
from inseries.norms.thresholds import thresholds
from inseries.norms.zscores import echo_z

if TYPE_CHECKING:
    from inseries.desk.readouts import Readouts

# Quantities that thresholds speak of, by the key of the measurement.
_QUANTITIES = {
    "lv_mass_g": "lv_mass_g_m2",
    "lv_wall_mm": "lv_wall_mm",
    "lv_rv_systolic_pressure_ratio": "lv_rv_systolic_pressure_ratio",
}
_SHOWN_POPULATIONS = ("primary_neonatal", "prepared_after_band")
_SEPTUM = {
    "toward_left": "bowed toward the left",
    "flat": "flat",
    "toward_right": "bowed toward the right",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelRow:
    """One line: the value as measured or computed, its Z or why there is none, thresholds.

    Parameters
    ----------
    name, what : key and plain word
    value : None for a position, or where nothing was measured
    text : value as printed
    method : how it was measured, or ``computed``
    z, z_reference, z_reason : Z against the same method, its source, or why there is none
    thresholds : each with its population and method
    """

    name: str
    what: str
    value: Estimate | None
    text: str
    method: str
    z: float | None
    z_reference: str | None
    z_reason: str | None
    thresholds: tuple[str, ...]


def panel(case: Case, now: Readouts) -> tuple[PanelRow, ...]:
    """Mass, wall, mass to volume, cavity, septal position, pressure ratio.

    Parameters
    ----------
    case : the readings
    now : computed read-outs, for what was not measured

    Returns
    -------
    tuple of PanelRow, always six
    """
    sized = {size.name: size for size in sizes(case)}
    return (
        _sized(case, sized, "lv_mass_g", "Mass", now.lv_mass_g),
        _sized(case, sized, "lv_wall_mm", "Wall", now.lv_wall_mm),
        _mass_to_volume(case),
        _sized(case, sized, "lv_edv_ml", "Cavity", None),
        _septum(case),
        _ratio(case, now),
    )


def _sized(
    case: Case, sized: dict[str, Size], name: str, what: str, computed: Estimate | None
) -> PanelRow:
    seen = case.latest(name)
    if seen is None:
        return _unmeasured(name, what, computed)
    size = sized.get(name)
    return PanelRow(
        name=name,
        what=what,
        value=Estimate(value=seen.number, unit=seen.unit),
        text=_with_index(case, seen),
        method=method_words(seen.method),
        z=size.z if size else None,
        z_reference=size.reference if size else None,
        z_reason=size.reason if size else "no reference of this method",
        thresholds=_thresholds(name),
    )


def _unmeasured(name: str, what: str, computed: Estimate | None) -> PanelRow:
    text = "not measured" if computed is None else f"{computed.value:.1f} {computed.unit}"
    return PanelRow(
        name=name,
        what=what,
        value=computed,
        text=text,
        method="computed" if computed else "not measured",
        z=None,
        z_reference=None,
        z_reason="no reference for a computed value",
        thresholds=_thresholds(name),
    )


def _with_index(case: Case, seen: Value) -> str:
    surface = _surface(case, seen.age_days)
    unit = {"lv_mass_g": "g", "lv_edv_ml": "mL", "lv_wall_mm": "mm"}[seen.key]
    text = f"{seen.number:.3g} {unit}"
    if seen.key == "lv_wall_mm" or surface is None:
        return text
    return f"{text}; {seen.number / surface:.0f} {unit}/m²"


def _surface(case: Case, age_days: float) -> float | None:
    weight, length = (case.latest(key, age_days) for key in ("weight_kg", "length_cm"))
    if weight is None or length is None:
        return None
    return body_surface_m2(weight.number, length.number)


def _mass_to_volume(case: Case) -> PanelRow:
    name, what = "lv_mass_to_volume_g_ml", "Mass to volume"
    mass, volume = case.latest("lv_mass_g"), case.latest("lv_edv_ml")
    if mass is None or volume is None or mass.method != volume.method:
        reason = "needs mass and cavity by the same method"
        return PanelRow(
            name=name,
            what=what,
            value=None,
            text="not measured",
            method="not measured",
            z=None,
            z_reference=None,
            z_reason=reason,
            thresholds=(),
        )
    ratio = mass.number / volume.number
    by_echo = mass.method in (Method.ECHO_2D, Method.ECHO_3D)
    surface = _surface(case, mass.age_days)
    score = (
        echo_z("lv_mass_to_volume_g_ml", ratio, surface, str(mass.method))
        if by_echo and surface
        else None
    )
    return PanelRow(
        name=name,
        what=what,
        value=Estimate(value=ratio, unit="g/mL"),
        text=f"{ratio:.2f} g/mL",
        method=method_words(mass.method),
        z=score.z if score else None,
        z_reference=score.reference_key if score else None,
        z_reason=None if score else "no reference of this method",
        thresholds=(),
    )


def _septum(case: Case) -> PanelRow:
    seen = case.latest("septum_position")
    return PanelRow(
        name="septum_position",
        what="Septum",
        value=None,
        text=_SEPTUM[str(seen.value)] if seen else "not recorded",
        method=method_words(seen.method) if seen else "not recorded",
        z=None,
        z_reference=None,
        z_reason="a position has no Z",
        thresholds=(),
    )


def _ratio(case: Case, now: Readouts) -> PanelRow:
    name, what = "lv_rv_systolic_pressure_ratio", "Pressure, left to right"
    left = case.latest("lv_systolic_mmhg")
    right = case.latest("rv_systolic_mmhg") or case.latest("systolic_mmhg")
    measured = left is not None and right is not None
    value = (
        Estimate(value=left.number / right.number, unit="1")
        if left is not None and right is not None
        else now.lv_rv_systolic_pressure_ratio
    )
    span = "" if value.low is None else f" ({value.low:.2f} to {value.high:.2f})"
    return PanelRow(
        name=name,
        what=what,
        value=value,
        text=f"{value.value:.2f}{span}",
        method=method_words(left.method) if measured and left is not None else "computed",
        z=None,
        z_reference=None,
        z_reason="no reference for a ratio",
        thresholds=_thresholds(name),
    )


def _thresholds(name: str) -> tuple[str, ...]:
    quantity = _QUANTITIES.get(name)
    return tuple(
        item.text
        for item in thresholds()
        if item.quantity == quantity and item.population in _SHOWN_POPULATIONS
    )
