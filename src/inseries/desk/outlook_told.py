"""From the draws of an outlook to what is told of them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from inseries.base.findings import Estimate
from inseries.desk.outlook_plan import after_switch
from inseries.desk.outlook_records import (
    ByRepair,
    CoronaryTold,
    Crosses,
    NarrowingTold,
    RepairTold,
    RootTold,
    RootZ,
    TensionTold,
)
from inseries.desk.readouts import HIGH_PCT, LOW_PCT, estimate
from inseries.outlook import (
    crossing,
    ostium_course,
    root_courses,
    root_references,
    site_courses,
    ventricle_at,
)
from inseries.outlook.course import GROWTH_COLUMN
from inseries.outlook.root import CHILD_TABLE, WIDE_Z
from inseries.outlook.weighed import rows_by
from inseries.prior.traits import drawn

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from numpy.typing import NDArray

    from inseries.case import Case
    from inseries.desk.outlook_plan import Plan
    from inseries.outlook import OstiumCourse, RootCourse, RootReference, SiteCourse, Ventricle
    from inseries.outlook.numbers import Floats

# common practice: 3, about 3.5 and 4 m/s: mild, moderate, severe
LIMITS_MMHG = (36.0, 50.0, 64.0)
# chosen: ages of the whole circuit, years, and how many draws of each repair run in it
CIRCUIT_YEARS = (1.0, 5.0, 18.0, 40.0)
CIRCUIT_DRAWS = 16
# chosen: a body that has grown up, years
GROWN_YEARS = 18.0
# common practice: limits in adults with chest pain, by flow and by pressure wire; neither was found
# in children after a switch
RESERVE_LIMIT, PRESSURE_LIMIT = 2.0, 0.80
# chosen: reading of a velocity by Doppler, m/s, and of a root by echo, mm
VELOCITY_SD, ROOT_SD_MM = 0.2, 0.8


@dataclass(frozen=True, slots=True, kw_only=True)
class Ahead:
    """Everything computed for one child.

    Parameters
    ----------
    courses : repairs, each narrowed by later readings
    effective : draws that count, by repair and by course of the root, once later readings are in
    ventricles : by repair, by age of the circuit
    roots, references, ostia : root by published courses, its tables, the coronary opening
    """

    courses: tuple[SiteCourse, ...]
    effective: Mapping[str, float]
    ventricles: tuple[tuple[Ventricle, ...], ...]
    roots: tuple[RootCourse, ...]
    references: tuple[RootReference, ...]
    ostia: tuple[OstiumCourse, ...]


def ahead(case: Case, plan: Plan, seed: int) -> Ahead:
    """Computes it all, and narrows it by what was read after the operation."""
    frame = plan.frame
    free = site_courses(frame, plan.start, plan.tension)
    courses, effective = _narrowed(case, plan, free)
    roots, by_root = _roots(case, plan)
    traits = drawn(min(CIRCUIT_DRAWS, plan.draws), seed, case.digest, "outlook circuit")
    years = tuple(year for year in CIRCUIT_YEARS if year > frame.years[0])
    return Ahead(
        courses=courses,
        effective={**effective, **by_root},
        ventricles=ventricle_at(frame, courses, years, traits),
        roots=roots,
        references=root_references(frame),
        ostia=ostium_course(frame),
    )


def _narrowed(
    case: Case, plan: Plan, free: tuple[SiteCourse, ...]
) -> tuple[tuple[SiteCourse, ...], dict[str, float]]:
    """Each repair's draws weighed by velocities read after the operation."""
    seen = after_switch(case, plan, "pulmonary_velocity_m_s")
    if not seen:
        return tuple(each.at(np.arange(plan.draws)) for each in free), {}
    kept: list[SiteCourse] = []
    effective: dict[str, float] = {}
    for each in free:
        velocity = np.sqrt(each.site / BERNOULLI)
        predicted = np.array([_on(plan, velocity, value.age_days) for value in seen])
        sds = np.array([value.sd or VELOCITY_SD for value in seen])
        rows, count = rows_by(
            predicted, np.array([value.number for value in seen]), sds, plan.draws
        )
        kept.append(each.at(rows))
        effective[each.technique.material.value] = round(count, 1)
    return tuple(kept), effective


# common practice: mmHg per (m/s)²
BERNOULLI = 4.0


def _on(plan: Plan, by_age: Floats, age_days: float) -> Floats:
    """A quantity of shape (ages, n) at one age, straight between ages, shape (n,)."""
    years, year = plan.frame.years, age_days / 365.25
    place = float(np.interp(year, years, np.arange(years.size)))
    low = min(int(place), years.size - 2)
    return by_age[low] + (place - low) * (by_age[low + 1] - by_age[low])


def _roots(case: Case, plan: Plan) -> tuple[tuple[RootCourse, ...], dict[str, float]]:
    """Each course's draws weighed by roots read after the operation."""
    seen = after_switch(case, plan, "neoaortic_root_mm")
    free = root_courses(plan.frame, plan.start)
    if not seen:
        return tuple(each.at(np.arange(plan.draws)) for each in free), {}
    kept: list[RootCourse] = []
    effective: dict[str, float] = {}
    for each in free:
        predicted = np.array([_on(plan, each.root_mm, value.age_days) for value in seen])
        sds = np.array([value.sd or ROOT_SD_MM for value in seen])
        rows, count = rows_by(
            predicted, np.array([value.number for value in seen]), sds, plan.draws
        )
        kept.append(each.at(rows))
        effective[each.name] = round(count, 1)
    return tuple(kept), effective


def by_age(values: Floats, unit: str) -> tuple[Estimate, ...]:
    """A quantity of shape (ages, n) as one estimate an age."""
    low, middle, high = np.percentile(values, [LOW_PCT, 50.0, HIGH_PCT], axis=1)
    return tuple(
        Estimate(value=float(m), low=float(a), high=float(b), unit=unit)
        for a, m, b in zip(low, middle, high, strict=True)
    )


def by_repair(found: Ahead, of: Callable[[SiteCourse], Floats], unit: str) -> ByRepair:
    """One quantity of every repair by age."""
    told = {each.technique.material.value: by_age(of(each), unit) for each in found.courses}
    return ByRepair(**told)


def by_circuit(found: Ahead, of: Callable[[Ventricle], Floats], unit: str) -> ByRepair:
    """One read-out of the whole circuit of every repair, draws that did not settle left out."""
    told = {
        each.technique.material.value: tuple(
            estimate(of(at)[at.settled > 0.0], unit) for at in ventricles
        )
        for each, ventricles in zip(found.courses, found.ventricles, strict=True)
    }
    return ByRepair(**told)


def repairs_told(plan: Plan, found: Ahead) -> tuple[RepairTold, ...]:
    """Each repair with its growth fraction and evidence."""
    z = plan.frame.extra(GROWTH_COLUMN)
    return tuple(
        RepairTold(
            name=each.technique.material.value,
            words=each.technique.words,
            patch_share=round(each.patch_share, 3),
            growth_fraction=(
                estimate(each.technique.growth(z), "1") if each.technique.patched else None
            ),
            evidence=each.technique.evidence,
            caution=each.technique.caution,
            why_this_spread=each.technique.because,
            sources=each.technique.sources,
        )
        for each in found.courses
    )


def crosses_told(found: Ahead) -> tuple[Crosses, ...]:
    """Shares of the draws above each limit by age."""
    return tuple(
        Crosses(
            repair=each.technique.material.value,
            limit_mmhg=limit,
            above_the_valve=_shares(crossing(each.site, limit)),
            site_or_branch=_shares(crossing(each.greatest, limit)),
        )
        for each in found.courses
        for limit in LIMITS_MMHG
    )


def _shares(values: Floats) -> tuple[float, ...]:
    return tuple(round(float(value), 3) for value in values)


def tension_told(plan: Plan) -> TensionTold:
    """Gap, stretch and flattened branches of a direct join, and what comes of them."""
    t = plan.tension
    grown = plan.frame.at(GROWN_YEARS)
    high = site_courses(plan.frame, plan.start, t)[0].greatest[: grown + 1].max(axis=0)
    over, pulled = high > LIMITS_MMHG[0], t.gap_mm > 0.0
    return TensionTold(
        gap_mm=estimate(t.gap_mm, "mm"),
        stretch_pct=estimate(100.0 * t.stretch, "%"),
        branch_area_pct=estimate(100.0 * t.branch_share, "%"),
        pulled=round(float(pulled.mean()), 3),
        high_pulled=_share(over[pulled]),
        high_slack=_share(over[~pulled]),
    )


def _share(values: NDArray[np.bool_]) -> float:
    return round(float(values.mean()), 3) if values.size else 0.0


def roots_told(found: Ahead) -> tuple[RootTold, ...]:
    """Each published course of the root by age."""
    child = next(each for each in found.references if each.key == CHILD_TABLE)
    return tuple(
        RootTold(
            growth=each.name,
            words=each.words,
            in_whom=each.population,
            mm=by_age(each.root_mm, "mm"),
            wide=_shares(crossing(child.z(each.root_mm), WIDE_Z)),
            sources=each.sources,
        )
        for each in found.roots
    )


def root_z_told(plan: Plan, found: Ahead) -> tuple[RootZ, ...]:
    """Z by every course and table; both tables where both hold."""
    years = plan.frame.years
    return tuple(
        RootZ(
            growth=each.name,
            reference=table.key,
            ages_y=tuple(round(float(years[place]), 4) for place in table.places),
            z=by_age(table.z(each.root_mm), "1"),
        )
        for each in found.roots
        for table in found.references
    )


def coronary_told(found: Ahead) -> tuple[CoronaryTold, ...]:
    """The opening at each age looked at."""
    return tuple(
        CoronaryTold(
            age_y=each.year,
            narrowing_pct=estimate(each.narrowing_pct, "%"),
            reserve=estimate(each.reserve, "1"),
            pressure_ratio=estimate(each.pressure_ratio, "1"),
            reserve_below_2=round(float((each.reserve < RESERVE_LIMIT).mean()), 3),
            pressure_below_0_80=round(float((each.pressure_ratio < PRESSURE_LIMIT).mean()), 3),
        )
        for each in found.ostia
    )


def narrowings_told(plan: Plan, found: Ahead) -> tuple[NarrowingTold, ...]:
    """What each narrowing would leave, over the draws of hyperaemia."""
    factor = plan.frame.drawn("hyperaemia")
    told: list[NarrowingTold] = []
    for each in found.ostia:
        curve = each.by_narrowing
        for pct in curve.narrowing_pct:
            at = np.full(factor.size, float(pct))
            told.append(
                NarrowingTold(
                    age_y=each.year,
                    narrowing_pct=float(pct),
                    reserve=estimate(curve.at(curve.reserve, at, factor), "1"),
                    pressure_ratio=estimate(curve.at(curve.pressure_ratio, at, factor), "1"),
                )
            )
    return tuple(told)
