"""The bedside panel of the left ventricle: what was measured, how, and against whom."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from inseries.base.ages import age_words
from inseries.base.errors import NormsError
from inseries.base.findings import Estimate
from inseries.case.record import Case, Method, Value
from inseries.case.words import method_words
from inseries.desk.sizes import Size, SizeZ, sizes
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
# chosen: readings closer than this were taken together, days
TOGETHER_DAYS = 1.0
NO_REFERENCE = "no reference of this method"
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
    z_others : what further references of the same method say, never averaged
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
    z_others: tuple[SizeZ, ...] = ()


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
        method=_method(case, seen),
        z=size.z if size else None,
        z_reference=size.reference if size else None,
        z_reason=size.reason if size else NO_REFERENCE,
        thresholds=_thresholds(name),
        z_others=size.others if size else (),
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
        z_reason="no reference for a computed value" if computed else "not measured",
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


def _method(case: Case, seen: Value) -> str:
    """How it was measured, and when where that was not of today."""
    old = case.age_days - seen.age_days > TOGETHER_DAYS
    return method_words(seen.method) + (f", at {age_words(seen.age_days)}" if old else "")


def _together(case: Case, *keys: str) -> tuple[Value, ...] | None:
    """The last values of some keys, where they were taken within a day; else None."""
    seen = [value for key in keys if (value := case.latest(key)) is not None]
    ages = [value.age_days for value in seen]
    if len(seen) < len(keys) or max(ages) - min(ages) > TOGETHER_DAYS:
        return None
    return tuple(seen)


def _mass_to_volume(case: Case) -> PanelRow:
    pair = _together(case, "lv_mass_g", "lv_edv_ml")
    if pair is None or pair[0].method != pair[1].method:
        return _mass_to_volume_row("not measured", "needs mass and cavity by the same method")
    mass, volume = pair
    ratio = mass.number / volume.number
    value = Estimate(value=ratio, unit="g/mL")
    text, method = f"{ratio:.2f} g/mL", _method(case, mass)
    if mass.method is None:
        return _mass_to_volume_row(text, "no method is stated", method, value)
    surface = _surface(case, mass.age_days)
    if mass.method not in (Method.ECHO_2D, Method.ECHO_3D) or surface is None:
        reason = "needs weight and length by then" if surface is None else NO_REFERENCE
        return _mass_to_volume_row(text, reason, method, value)
    try:
        score = echo_z("lv_mass_to_volume_g_ml", ratio, surface, str(mass.method))
    except NormsError as error:
        return _mass_to_volume_row(text, error.what, method, value)
    row = _mass_to_volume_row(text, None, method, value)
    return replace(row, z=score.z, z_reference=score.reference_key)


def _mass_to_volume_row(
    text: str, reason: str | None, method: str = "not measured", value: Estimate | None = None
) -> PanelRow:
    return PanelRow(
        name="lv_mass_to_volume_g_ml",
        what="Mass to volume",
        value=value,
        text=text,
        method=method,
        z=None,
        z_reference=None,
        z_reason=reason,
        thresholds=(),
    )


def _septum(case: Case) -> PanelRow:
    seen = case.latest("septum_position")
    return PanelRow(
        name="septum_position",
        what="Septum",
        value=None,
        text=_SEPTUM[str(seen.value)] if seen else "not recorded",
        method=_method(case, seen) if seen else "not recorded",
        z=None,
        z_reference=None,
        z_reason="a position has no Z",
        thresholds=(),
    )


def _ratio(case: Case, now: Readouts) -> PanelRow:
    name, what = "lv_rv_systolic_pressure_ratio", "Pressure, left to right"
    pair = _together(case, "lv_systolic_mmhg", "rv_systolic_mmhg") or _together(
        case, "lv_systolic_mmhg", "systolic_mmhg"
    )
    value = (
        now.lv_rv_systolic_pressure_ratio
        if pair is None
        else Estimate(value=pair[0].number / pair[1].number, unit="1")
    )
    span = "" if value.low is None else f" ({value.low:.2f} to {value.high:.2f})"
    return PanelRow(
        name=name,
        what=what,
        value=value,
        text=f"{value.value:.2f}{span}",
        method=_method(case, pair[0]) if pair else "computed",
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
