"""Read-outs of many draws as estimates, under the names that others rely on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from inseries.base.findings import Estimate
from inseries.circuit.readouts import MINUTE_S, Readings

if TYPE_CHECKING:
    from inseries.course.walls import Walls
    from inseries.prior.baby import Baby
    from inseries.prior.narrow import Narrowed
    from inseries.prior.traits import Floats

# derived: a 90 % interval lies between these percentiles
LOW_PCT, HIGH_PCT = 5.0, 95.0
SHARES = np.array([LOW_PCT, 50.0, HIGH_PCT]) / 100.0
# published: jhaveri2023, density of heart muscle, g/mL
WALL_DENSITY_G_ML = 1.05
# published: nakazawa1988, factor of meridional stress with mmHg and cm giving 10³ dyn/cm²
STRESS_FACTOR = 0.334
# derived: mL/s to L/min
L_MIN = 0.06
CM_MM = 10.0  # derived: cm to mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Readouts:
    """What one reads off the circulation; each with its 90 % interval over the draws."""

    sao2_upper_pct: Estimate
    sao2_lower_pct: Estimate
    sao2_pulmonary_artery_pct: Estimate
    svo2_upper_pct: Estimate
    svo2_lower_pct: Estimate
    po2_upper_mmhg: Estimate
    po2_lower_mmhg: Estimate
    aortic_systolic_mmhg: Estimate
    aortic_diastolic_mmhg: Estimate
    aortic_mean_mmhg: Estimate
    pulmonary_artery_mean_mmhg: Estimate
    pulmonary_artery_systolic_mmhg: Estimate
    lv_systolic_mmhg: Estimate
    rv_systolic_mmhg: Estimate
    lv_rv_systolic_pressure_ratio: Estimate
    la_mean_mmhg: Estimate
    ra_mean_mmhg: Estimate
    atrial_gradient_mmhg: Estimate
    systemic_flow_ml_min_kg: Estimate
    pulmonary_flow_ml_min_kg: Estimate
    effective_flow_ml_min_kg: Estimate
    qp_qs: Estimate
    cardiac_index_l_min_m2: Estimate
    oxygen_need_met_pct: Estimate
    lv_mass_g: Estimate
    lv_mass_g_m2: Estimate
    rv_mass_g_m2: Estimate
    lv_wall_mm: Estimate
    lv_edv_ml_m2: Estimate
    lv_ef_pct: Estimate
    rv_edv_ml_m2: Estimate
    rv_ef_pct: Estimate
    lv_wall_stress_kdyn_cm2: Estimate
    heart_rate_per_min: Estimate


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """Size of the body the read-outs are indexed to."""

    weight_kg: float
    surface_m2: float


def estimate(values: Floats, unit: str) -> Estimate:
    """Median and 90 % interval over draws."""
    finite = np.sort(values[np.isfinite(values)])
    # straight between ordered draws, as NumPy's percentile has it, which takes ten times as long
    places = np.interp(SHARES * (finite.size - 1), np.arange(finite.size), finite)
    low, middle, high = places.tolist()
    return Estimate(value=middle, low=low, high=high, unit=unit)


def body_at(baby: Baby, age_days: float) -> Body:
    """Size of a baby at an age."""
    return Body(
        weight_kg=baby.story.weight_kg(age_days), surface_m2=baby.story.surface_m2(age_days)
    )


def readouts_today(today: Narrowed) -> Readouts:
    """Read-outs of narrowed draws at their age, from one beat."""
    baby, age = today.baby, today.age_days
    readings = baby.beat(age, today.walls).readings
    return readouts(readings, today.walls, baby.traits["echo_over_cmr"], body_at(baby, age))


def readouts(readings: Readings, walls: Walls, echo_over_cmr: Floats, body: Body) -> Readouts:
    """Every read-out of n draws as estimates.

    Parameters
    ----------
    readings : of the draws' orbits
    walls : masses on the CMR scale
    echo_over_cmr : array, shape (n,), carries masses to the echo scale
    body : size that flows and masses are indexed to

    Returns
    -------
    Readouts; masses and wall on the echo scale, since echo is the bedside method
    """
    return Readouts(
        **_oxygen(readings),
        **_pressures(readings),
        **_flows(readings, body),
        **_ventricles(readings, walls, echo_over_cmr, body),
    )


def _oxygen(r: Readings) -> dict[str, Estimate]:
    return {
        "sao2_upper_pct": estimate(r.saturation_pct("AoU"), "%"),
        "sao2_lower_pct": estimate(r.saturation_pct("AoD"), "%"),
        "sao2_pulmonary_artery_pct": estimate(r.saturation_pct("PA"), "%"),
        "svo2_upper_pct": estimate(r.venous_pct("upper_body"), "%"),
        "svo2_lower_pct": estimate(r.venous_pct("lower_body"), "%"),
        "po2_upper_mmhg": estimate(r.po2_mmhg("AoU"), "mm[Hg]"),
        "po2_lower_mmhg": estimate(r.po2_mmhg("AoD"), "mm[Hg]"),
        "oxygen_need_met_pct": estimate(100.0 * r.oxygen.need_met, "%"),
    }


def _pressures(r: Readings) -> dict[str, Estimate]:
    unit = "mm[Hg]"
    return {
        "aortic_systolic_mmhg": estimate(r.systolic_mmhg("AoU"), unit),
        "aortic_diastolic_mmhg": estimate(r.diastolic_mmhg("AoU"), unit),
        "aortic_mean_mmhg": estimate(r.mean_mmhg("AoU"), unit),
        "pulmonary_artery_mean_mmhg": estimate(r.mean_mmhg("PA"), unit),
        "pulmonary_artery_systolic_mmhg": estimate(r.systolic_mmhg("PA"), unit),
        "lv_systolic_mmhg": estimate(r.systolic_mmhg("LV"), unit),
        "rv_systolic_mmhg": estimate(r.systolic_mmhg("RV"), unit),
        "lv_rv_systolic_pressure_ratio": estimate(r.pressure_ratio, "1"),
        "la_mean_mmhg": estimate(r.mean_mmhg("LA"), unit),
        "ra_mean_mmhg": estimate(r.mean_mmhg("RA"), unit),
        "atrial_gradient_mmhg": estimate(r.atrial_gradient_mmhg, unit),
    }


def _flows(r: Readings, body: Body) -> dict[str, Estimate]:
    per_kg = MINUTE_S / body.weight_kg
    unit = "mL/min/kg"
    rate = np.broadcast_to(
        np.asarray(r.circuit.rate_per_min, dtype=np.float64), r.orbit.status.shape
    )
    return {
        "systemic_flow_ml_min_kg": estimate(r.systemic_flow_ml_s * per_kg, unit),
        "pulmonary_flow_ml_min_kg": estimate(r.lung_flow_ml_s * per_kg, unit),
        "effective_flow_ml_min_kg": estimate(r.oxygen.effective_flow_ml_s * per_kg, unit),
        "qp_qs": estimate(r.lung_flow_ml_s / r.systemic_flow_ml_s, "1"),
        "cardiac_index_l_min_m2": estimate(
            r.systemic_flow_ml_s * L_MIN / body.surface_m2, "L/min/m2"
        ),
        "heart_rate_per_min": estimate(rate, "/min"),
    }


def _ventricles(
    r: Readings, walls: Walls, echo_over_cmr: Floats, body: Body
) -> dict[str, Estimate]:
    mass = walls.left.mass_g * echo_over_cmr
    filled = r.end_diastolic_ml("LV")
    wall = shell_thickness_mm(mass, filled)
    return {
        "lv_mass_g": estimate(mass, "g"),
        "lv_mass_g_m2": estimate(mass / body.surface_m2, "g/m2"),
        "rv_mass_g_m2": estimate(walls.right.mass_g / body.surface_m2, "g/m2"),
        "lv_wall_mm": estimate(wall, "mm"),
        "lv_edv_ml_m2": estimate(filled / body.surface_m2, "mL/m2"),
        "lv_ef_pct": estimate(r.ejection_pct("LV"), "%"),
        "rv_edv_ml_m2": estimate(r.end_diastolic_ml("RV") / body.surface_m2, "mL/m2"),
        "rv_ef_pct": estimate(r.ejection_pct("RV"), "%"),
        "lv_wall_stress_kdyn_cm2": estimate(
            predicted_stress_kdyn_cm2(r.diastolic_mmhg("AoU"), filled, wall), "kdyn/cm2"
        ),
    }


def shell_thickness_mm(mass_g: Floats, cavity_ml: Floats) -> Floats:
    """Thickness of a spherical shell of that mass around that cavity."""
    inner = np.cbrt(3.0 * cavity_ml / (4.0 * np.pi))
    outer = np.cbrt(3.0 * (cavity_ml + mass_g / WALL_DENSITY_G_ML) / (4.0 * np.pi))
    return CM_MM * (outer - inner)


def predicted_stress_kdyn_cm2(diastolic_mmhg: Floats, cavity_ml: Floats, wall_mm: Floats) -> Floats:
    """Stress the present wall would bear under the body's diastolic pressure.

    0.334 P D / (h (1 + h/D)), with D the short axis of an ellipsoid twice as long as wide.
    *Source* nakazawa1988
    """
    axis = np.cbrt(3.0 * cavity_ml / np.pi)
    wall = wall_mm / CM_MM
    return STRESS_FACTOR * diastolic_mmhg * axis / (wall * (1.0 + wall / axis))
