"""The pieces of a repair computed: buttons over all readings, ends, lung artery, sites."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from inseries.desk.repair_records import (
    ButtonTold,
    MismatchTold,
    PatternTold,
    PlaceTold,
    SiteTold,
    WayTold,
)
from inseries.outlook.numbers import number as outlook_number
from inseries.prior.traits import normals
from inseries.repair import (
    Courses,
    FirstCourse,
    Pattern,
    Reading,
    Search,
    SeenFrom,
    TwoRoots,
    Way,
    clock_hour,
    courses,
    estimate,
    forward_reach_mm,
    join,
    mismatch,
    number,
    pooled,
    reading_of,
    spread,
    two_roots,
)
from inseries.repair.landing import nearness_to_concern

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from inseries.base.findings import Estimate
    from inseries.desk.repair_plan import Plan
    from inseries.prior.traits import Floats
    from inseries.repair import Button, Join, Landing, LungArtery

# chosen: streams of draws of the lengths of the lung artery
LENGTHS = ("branch_length", "hilar_width", "resected", "trunk_left")
# chosen: no length is drawn shorter than this share of its middle
LEAST_SHARE = 0.2
INTRAMURAL = "runs in the wall: no simple button; unroofing or another technique"


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """Sizes in every draw: arrays of shape (n,) by name, and how many."""

    mm: Mapping[str, Floats]
    lengths: Mapping[str, Floats]
    draws: int


def drawn(plan: Plan, *, draws: int, seed: int, digest: str) -> Drawn:
    """Sizes and lengths as uncertain as they are, keyed by case and seed."""
    names = tuple(plan.sizes)
    z = normals((draws, len(names) + len(LENGTHS)), seed, digest, "repair")
    mm = {
        name: np.maximum(0.4 * size.mm.value, size.mm.value + size.sd_mm * z[:, i])
        for i, (name, size) in enumerate(plan.sizes.items())
    }
    usual = {
        "branch_length": plan.lung.branch_mm,
        "hilar_width": plan.lung.hilar_mm,
        "resected": plan.lung.resected_mm,
        "trunk_left": plan.lung.trunk_mm,
    }
    lengths: dict[str, Floats] = {}
    for i, name in enumerate(LENGTHS, len(names)):
        middle = usual[name]
        sd = spread(name) / number(name) * max(middle, number(name))
        lengths[name] = np.maximum(LEAST_SHARE * middle, middle + sd * z[:, i])
    return Drawn(mm=mm, lengths=lengths, draws=draws)


# --- buttons ------------------------------------------------------------------------------------


def readings_of(plan: Plan) -> tuple[Reading, ...]:
    """Every plausible reading on every variant of the roots, the stated pattern first."""
    return tuple(
        reading_of(weight * share, plan.buttons(pattern, roots), roots, pattern)
        for pattern, weight in plan.weighed
        if weight >= number("least_weight")
        for roots, share in plan.variants
    )


def patterns_told(found: tuple[Reading, ...]) -> tuple[PatternTold, ...]:
    """Patterns with their weights over all roots, the stated one first."""
    weights: dict[str, float] = {}
    after: dict[str, str | None] = {}
    total = sum(reading.weight for reading in found)
    for reading in found:
        code = reading.pattern.code
        weights[code] = weights.get(code, 0.0) + reading.weight / total
        after.setdefault(code, reading.code_after)
    return tuple(
        PatternTold(code=code, weight=weight, code_after=after[code])
        for code, weight in weights.items()
    )


def shares_of(found: tuple[Reading, ...], draws: int) -> tuple[int, ...]:
    """Draws for each reading by its weight, none without any; all of them together ``draws``."""
    total = sum(reading.weight for reading in found)
    rest = tuple(max(1, round(draws * reading.weight / total)) for reading in found[1:])
    return (max(1, draws - sum(rest)), *rest)


def buttons_told(
    plan: Plan, found: tuple[Reading, ...], *, draws: int, seed: int
) -> tuple[ButtonTold, ...]:
    """The buttons of the stated pattern, each averaged over the readings."""
    counts = shares_of(found, draws)
    cache: dict[tuple[int, str], Courses] = {}

    def drawn_course(i: int, each: Search) -> Courses:
        key = (i, each.button.name)
        if key not in cache:
            cache[key] = courses(
                each, found[i].roots, draws=counts[i], seed=seed + i, doubt=plan.doubt
            )
        return cache[key]

    stated = found[0]
    moved = tuple(_button_told(each, found, drawn_course) for each in stated.searches)
    return (*moved, *(_fixed_told(each) for each in stated.fixed))


def _button_told(
    each: Search, found: tuple[Reading, ...], drawn_course: Callable[[int, Search], Courses]
) -> ButtonTold:
    """One button of the stated pattern, with its artery in every other reading."""
    artery = each.button.arteries[0]
    parts = tuple(
        drawn_course(i, other)
        for i, reading in enumerate(found)
        for other in reading.searches
        if artery in other.button.arteries
    )
    made = pooled(parts)
    best = each.best
    return ButtonTold(
        artery=each.button.name,
        course=str(each.button.course),
        opening_mm=round(each.button.diameter_mm, 3),
        path_mm=made.path_mm,
        rotation_deg=made.rotation_deg,
        stretch_pct=made.stretch_pct,
        kink_index=made.kink_index,
        kinks=round(made.kinks, 3),
        in_region=round(made.in_region, 3),
        best=_place(each, best),
        runner_up=None if each.runner_up is None else _place(each, each.runner_up),
        flat_deg=round(each.flat_deg, 1),
        flat_mm=round(each.flat_mm, 2),
        positions=each.tried,
        concern=best.concerns,
    )


def _fixed_told(each: Button) -> ButtonTold:
    return ButtonTold(
        artery=each.name,
        course=str(each.course),
        opening_mm=round(each.diameter_mm, 3),
        path_mm=None,
        rotation_deg=None,
        stretch_pct=None,
        kink_index=None,
        kinks=None,
        in_region=None,
        best=None,
        runner_up=None,
        flat_deg=None,
        flat_mm=None,
        positions=0,
        concern=(INTRAMURAL,),
    )


def _place(of: Search, at: Landing) -> PlaceTold:
    return PlaceTold(
        angle_deg=round(at.angle_deg, 2),
        clock_hour=round(clock_hour(at.angle_deg, SeenFrom.FEET), 2),
        height_mm=round(at.height_mm, 3),
        opening=str(at.opening),
        swing_deg=round(at.swing_deg, 1),
        take_off_deg=round(at.take_off_deg, 1),
        to_hinge_mm=round(at.to_hinge_mm, 2),
        to_commissure_mm=round(at.to_commissure_mm, 2),
        to_lung_artery_mm=round(at.to_lung_artery_mm, 2),
        near_region=bool(nearness_to_concern(of.button, np.array(at.angle_deg)) > 0.0),
        cost=round(at.cost, 3),
    )


# --- ends ---------------------------------------------------------------------------------------


def neoaortic_end_mm(sizes: Mapping[str, Floats] | Mapping[str, float]) -> Floats:
    """Upper end of the new aortic root: as wide against its sinuses as an aorta's is."""
    return np.asarray(
        sizes["pulmonary_root_mm"] * sizes["sinotubular_junction_mm"] / sizes["aortic_root_mm"]
    )


def middles(plan: Plan) -> dict[str, float]:
    """The middle of every size, mm."""
    return {name: size.mm.value for name, size in plan.sizes.items()}


def mismatch_told(plan: Plan, sizes: Drawn, buttons: int) -> tuple[Estimate, MismatchTold]:
    """Ratio of the two aortic ends and how the difference is taken up."""
    usual = middles(plan)
    # The junction is a share of the aortic root's, so both are drawn from the same error.
    end = sizes.mm["pulmonary_root_mm"] * (
        usual["sinotubular_junction_mm"] / usual["aortic_root_mm"]
    )
    upper = sizes.mm["ascending_aorta_mm"]
    lower_middle, upper_middle = float(neoaortic_end_mm(usual)), usual["ascending_aorta_mm"]
    made = mismatch(
        upper_middle, lower_middle, buttons=buttons if lower_middle < upper_middle else 0
    )
    larger = "new aortic root" if lower_middle >= upper_middle else "ascending aorta"
    signed = end / upper if lower_middle >= upper_middle else upper / end
    surplus = np.pi * (end - upper) * (1.0 if lower_middle >= upper_middle else -1.0)
    return estimate(signed, "1"), MismatchTold(
        larger=larger,
        surplus_mm=estimate(surplus, "mm"),
        oblique_deg=round(made.oblique_deg, 1),
        sensible_deg=made.sensible_deg,
        gather=round(made.gather, 3),
        inset_mm=round(made.inset_mm, 2),
        left_mm=round(made.left_mm, 2),
        dart_deg=round(made.dart_deg, 1),
    )


def lung_ratio(sizes: Drawn) -> Estimate:
    """Lung artery trunk over the native aorta that it is joined to."""
    return estimate(sizes.mm["pulmonary_trunk_mm"] / sizes.mm["sinotubular_junction_mm"], "1")


# --- lung artery --------------------------------------------------------------------------------


def usual_way(relation_deg: float) -> Way:
    """The way that is usual for a relation: in front, beside, behind."""
    away = abs(relation_deg)
    if away <= number("lecompte_to"):
        return Way.LECOMPTE
    return Way.SHIFTED if away <= number("shifted_to") else Way.SPIRAL


def ways_told(plan: Plan, sizes: Drawn) -> tuple[WayTold, ...]:
    """Every way over the draws, the usual one for this relation first."""
    lungs = [_lung(plan, sizes, i) for i in range(sizes.draws)]
    roots = [_roots(plan, sizes, i) for i in range(sizes.draws)]
    gained = np.array([forward_reach_mm(_freed(each)) - forward_reach_mm(each) for each in lungs])
    first = usual_way(plan.relation_deg)
    order = (first, *(way for way in Way if way is not first))
    return tuple(_way_told(plan, way, lungs, roots, gained) for way in order)


def _way_told(
    plan: Plan, way: Way, lungs: list[LungArtery], roots: list[TwoRoots], gained: Floats
) -> WayTold:
    made = [
        join(_freed(lung), root, way, measured_gap_mm=plan.gap_mm)
        for lung, root in zip(lungs, roots, strict=True)
    ]
    gap = np.array([each.gap_mm for each in made])
    return WayTold(
        way=str(way),
        gap_mm=estimate(gap, "mm"),
        gained_mm=estimate(gained, "mm"),
        tension=estimate(np.array([each.tension for each in made]), "1"),
        branch_area_pct=estimate(100.0 * np.array(_branch_areas(made, lungs, roots, way)), "%"),
        bronchus_mm=estimate(np.array([each.bronchus_mm for each in made]), "mm"),
        meets=round(float((gap <= 0.0).mean()), 3),
    )


def _branch_areas(
    made: list[Join], lungs: list[LungArtery], roots: list[TwoRoots], way: Way
) -> list[float]:
    """Area left to a branch once no more is tied down than one would, as shares."""
    least = outlook_number("least_branch_share")
    if way is not Way.LECOMPTE:
        return [each.area_share for each in made]
    found: list[float] = []
    for each, lung, root in zip(made, lungs, roots, strict=True):
        most = 2.0 * lung.branch_mm * outlook_number("greatest_tension")
        tied = each if each.gap_mm <= most else join(_freed(lung), root, way, measured_gap_mm=most)
        found.append(max(least, tied.area_share))
    return found


def _freed(lung: LungArtery) -> LungArtery:
    return replace(lung, mobilisation=outlook_number("greatest_mobilisation"))


def _lung(plan: Plan, sizes: Drawn, i: int) -> LungArtery:
    hila = float(sizes.lengths["hilar_width"][i])
    branches = (sizes.mm[f"{side}_pulmonary_artery_mm"][i] for side in ("right", "left"))
    return replace(
        plan.lung,
        mobilisation=0.0,
        branch_mm=max(float(sizes.lengths["branch_length"][i]), hila / 2.0),
        hilar_mm=hila,
        resected_mm=float(sizes.lengths["resected"][i]),
        trunk_mm=float(sizes.lengths["trunk_left"][i]),
        branch_diameter_mm=float(sum(branches)) / 2.0,
    )


def _roots(plan: Plan, sizes: Drawn, i: int) -> TwoRoots:
    return two_roots(
        aortic_mm=float(sizes.mm["aortic_root_mm"][i]),
        pulmonary_mm=float(sizes.mm["pulmonary_root_mm"][i]),
        relation_deg=plan.relation_deg,
        gap_mm=plan.roots.gap_mm,
    )


# --- sites --------------------------------------------------------------------------------------


def button_widths_mm(plan: Plan, pattern: Pattern) -> tuple[float, ...]:
    """Widths of the holes that the buttons leave: opening and a rim to each side."""
    return tuple(
        each.diameter_mm + 2.0 * number("rim") for each in plan.buttons(pattern, plan.roots)
    )


def sites_told(
    plan: Plan, sizes: Drawn, way: WayTold, widths: tuple[float, ...], waist_mm: float | None
) -> tuple[SiteTold, ...]:
    """The repaired sites of the lung artery on the day of the operation."""
    root, junction = sizes.mm["aortic_root_mm"], sizes.mm["sinotubular_junction_mm"]
    end = np.minimum(sizes.mm["pulmonary_trunk_mm"], junction)
    none = estimate(np.zeros(sizes.draws), "1")
    holes = np.minimum(1.0, sum(widths) / (np.pi * root))
    found = [
        SiteTold(
            name="root of the lung artery, holes of the buttons closed with separate pieces",
            diameter_mm=estimate(root, "mm"),
            inert_share=estimate(holes, "1"),
            tension=None,
        ),
        SiteTold(
            name="join of the lung artery, direct",
            diameter_mm=estimate(end, "mm"),
            inert_share=none,
            tension=way.tension,
        ),
    ]
    if waist_mm is not None:
        found.insert(
            1,
            SiteTold(
                name="join of the lung artery, a patch in one piece let in",
                diameter_mm=estimate(junction, "mm"),
                inert_share=estimate(np.minimum(1.0, waist_mm / (np.pi * junction)), "1"),
                tension=None,
            ),
        )
    return tuple(found)


def is_single(plan: Plan) -> bool:
    """Whether one button carries every artery."""
    return any(each.course is FirstCourse.SINGLE for each in plan.buttons(plan.pattern, plan.roots))
