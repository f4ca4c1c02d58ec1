"""Days, chances and published rows of routes as records."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from inseries.base.findings import Estimate
from inseries.desk.published import Published, PublishedCurve, published, published_curves
from inseries.desk.readouts import HIGH_PCT, L_MIN, LOW_PCT, estimate
from inseries.desk.routes_result import ChanceAt, RouteDay
from inseries.evidence.rows import Topic, rows_on

if TYPE_CHECKING:
    from collections.abc import Mapping

    from inseries.desk.routes_result import RouteName
    from inseries.desk.routes_walks import Looked
    from inseries.prior.operation import Carrying
    from inseries.prior.traits import Floats

_ROWS: dict[RouteName, tuple[Topic, ...]] = {
    "wait": (Topic.COST_OF_WAITING, Topic.UNTREATED),
    "primary_switch": (
        Topic.NEONATAL_SWITCH,
        Topic.RULE_OF_PRACTICE,
        Topic.LATE_SWITCH,
        Topic.LATE_PRIMARY,
    ),
    "band_then_switch": (Topic.TWO_STAGE,),
    "conditioning_then_switch": (Topic.CONDITIONING,),
    "atrial_switch": (Topic.ATRIAL_SWITCH, Topic.ARTERIAL_AGAINST_ATRIAL),
}
_CURVES: dict[RouteName, str] = {
    "primary_switch": "arterial_switch",
    "band_then_switch": "arterial_switch",
    "conditioning_then_switch": "arterial_switch",
    "atrial_switch": "atrial_switch",
}


def route_day(looked: Looked) -> RouteDay:
    """One day of a route with its intervals."""
    day, r = looked.day, looked.day.readings
    mass = day.walls.left.mass_g * looked.baby.traits["echo_over_cmr"]
    unit = "mm[Hg]"
    return RouteDay(
        age_days=round(day.age_days, 2),
        loops=looked.loops,
        draws=looked.baby.traits.members,
        lv_mass_g=estimate(mass, "g"),
        lv_mass_g_m2=estimate(mass / day.surface_m2, "g/m2"),
        lv_systolic_mmhg=estimate(r.systolic_mmhg("LV"), unit),
        rv_systolic_mmhg=estimate(r.systolic_mmhg("RV"), unit),
        lv_rv_systolic_pressure_ratio=estimate(r.pressure_ratio, "1"),
        aortic_mean_mmhg=estimate(r.mean_mmhg("AoU"), unit),
        filling_mmhg=estimate(r.mean_mmhg(r.circuit.filling_part), unit),
        sao2_upper_pct=estimate(r.saturation_pct("AoU"), "%"),
        cardiac_index_l_min_m2=estimate(r.systemic_flow_ml_s * L_MIN / day.surface_m2, "L/min/m2"),
        lv_ef_pct=estimate(r.ejection_pct("LV"), "%"),
        rv_ef_pct=estimate(r.ejection_pct("RV"), "%"),
    )


def route_days(looked: tuple[Looked, ...]) -> tuple[RouteDay, ...]:
    """Days of a route in order."""
    return tuple(route_day(item) for item in looked)


def chance_at(age: float, carrying: Mapping[str, Carrying]) -> ChanceAt:
    """Both tiers at one age."""
    return ChanceAt(
        age_days=round(age, 2),
        survivable=mean_chance(carrying["survivable"].chance),
        comfortable=mean_chance(carrying["comfortable"].chance),
    )


def mean_chance(chance: Floats) -> Estimate:
    """Mean chance with its 90 % interval over the draws."""
    low, high = np.percentile(chance, [LOW_PCT, HIGH_PCT])
    return Estimate(
        value=round(float(chance.mean()), 4),
        low=round(float(low), 4),
        high=round(float(high), 4),
        unit="1",
    )


def rows_of(name: RouteName) -> tuple[Published, ...]:
    """What was published of a route."""
    return tuple(published(row) for topic in _ROWS[name] for row in rows_on(topic))


def support_rows() -> tuple[Published, ...]:
    """What was published of support after a late switch."""
    return tuple(published(row) for row in rows_on(Topic.SUPPORT))


def curves_of(name: RouteName) -> tuple[PublishedCurve, ...]:
    """Long-term series after a route's operation; the root's only where a band comes first."""
    kind = _CURVES.get(name)
    if kind is None:
        return ()
    return published_curves(kind)
