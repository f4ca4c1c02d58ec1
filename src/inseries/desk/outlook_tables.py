"""Tables of an outlook, the same on screen and on paper."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.desk.answer import Table
from inseries.desk.spans import signed, span
from inseries.draw.window_curve import in_fives

if TYPE_CHECKING:
    from inseries.base.findings import Estimate
    from inseries.desk.outlook_records import ByRepair, CoronaryTold, OutlookFindings, RootZ

# repairs in a few words
SHORT = {
    "direct": "Direct join",
    "autologous_fresh": "Fresh autologous patch",
    "autologous_fixed": "Fixed autologous patch",
    "xenograft_or_synthetic": "Xenograft or synthetic",
}
# chosen: ages of the tables, years
TABLE_YEARS = (1.0, 5.0, 10.0, 18.0, 40.0)
# courses of the root and its tables in a word
COURSES = {
    "z_kept": "Z kept",
    "z_rises_slow_adult": "0.31 mm/a",
    "z_rises_fast_adult": "0.63 mm/a",
}
TABLES = {"lopez2017": "child's", "devereux2012": "adult's"}


def tables(r: OutlookFindings) -> tuple[Table, ...]:
    """Every table, in reading order."""
    return (
        _gradients(r),
        _crosses(r),
        _circuit(r),
        _branches(r),
        _materials(r),
        _roots(r),
        _root_z(r.root_z),
        _coronary(r.coronary_flow_reserve),
        _narrowings(r),
        _curves(r),
        _rows(r),
    )


def _years(r: OutlookFindings) -> tuple[float, ...]:
    return tuple(year for year in TABLE_YEARS if year > r.ages_y[0])


def _gradients(r: OutlookFindings) -> Table:
    years = _years(r)
    return Table(
        title="Peak gradient above the valve, mmHg",
        columns=("repair", *(f"{year:g} y" for year in years)),
        rows=tuple(
            (words, *(span(r.pulmonary_gradient_mmhg.of(name)[r.place(year)]) for year in years))
            for name, words in SHORT.items()
        ),
    )


def _crosses(r: OutlookFindings) -> Table:
    rows: list[tuple[str, ...]] = []
    limits = tuple(dict.fromkeys(each.limit_mmhg for each in r.crosses))
    found = {(each.repair, each.limit_mmhg): each for each in r.crosses}
    for name, words in SHORT.items():
        cells: list[str] = []
        for limit in limits:
            each = found[name, limit].site_or_branch
            cells.append(", ".join(_plain(each[r.place(year)]) for year in (5.0, 18.0)))
        rows.append((words, *cells))
    return Table(
        title="Draws above a gradient, there or in a branch, by 5 y and by 18 y",
        columns=("repair", *(f"{limit:g} mmHg" for limit in limits)),
        rows=tuple(rows),
    )


def _plain(share: float) -> str:
    return in_fives(share).removeprefix("about ")


def _circuit(r: OutlookFindings) -> Table:
    rows = tuple(
        (
            f"{SHORT[name]}, {year:g} y",
            span(r.rv_systolic_mmhg.of(name)[place]),
            span(r.rv_lv_systolic_pressure_ratio.of(name)[place], 2),
            span(r.rv_mass_g_m2.of(name)[place]),
        )
        for name in SHORT
        for place, year in enumerate(r.circuit_ages_y)
    )
    return Table(
        title=f"Right ventricle by the whole circuit, {r.circuit_draws} draws",
        columns=("repair, age", "pressure, mmHg", "over the left", "wall, g/m²"),
        rows=rows,
    )


def _branches(r: OutlookFindings) -> Table:
    years = _years(r)
    common = (("Valve", r.valve_gradient_mmhg), ("Below the valve", r.below_valve_gradient_mmhg))
    return Table(
        title="Peak gradient elsewhere, mmHg",
        columns=("place", *(f"{year:g} y" for year in years)),
        rows=(
            *((words, *(span(told[r.place(year)]) for year in years)) for words, told in common),
            *(
                (
                    f"Branch, {SHORT[name].lower()}",
                    *(span(r.branch_gradient_mmhg.of(name)[r.place(year)]) for year in years),
                )
                for name in ("direct", "xenograft_or_synthetic")
            ),
        ),
    )


def _materials(r: OutlookFindings) -> Table:
    return Table(
        title="What it is closed with: growth fraction and evidence",
        columns=("repair", "grows", "evidence"),
        rows=tuple(
            (
                each.words,
                "with the body" if each.growth_fraction is None else span(each.growth_fraction, 2),
                f"{each.evidence} {each.caution}",
            )
            for each in r.repairs
        ),
    )


def _roots(r: OutlookFindings) -> Table:
    years = _years(r)
    return Table(
        title="New aortic root, mm: published courses that disagree",
        columns=("course", *(f"{year:g} y" for year in years)),
        rows=tuple(
            (each.words, *(span(each.mm[r.place(year)]) for year in years)) for each in r.root_mm
        ),
    )


def _root_z(told: tuple[RootZ, ...]) -> Table:
    years = (5.0, 15.0, 18.0, 20.0, 40.0)
    return Table(
        title="Z of that root: the table changes between 15 and 20 y",
        columns=("course, table", *(f"{year:g} y" for year in years)),
        rows=tuple(
            (
                f"{COURSES[each.growth]}, {TABLES[each.reference]}",
                *(_z(each, year) for year in years),
            )
            for each in told
        ),
    )


def _z(told: RootZ, year: float) -> str:
    for age, z in zip(told.ages_y, told.z, strict=True):
        if abs(age - year) < 0.01:
            return signed(z.value, 1)
    return "–"


def _coronary(told: tuple[CoronaryTold, ...]) -> Table:
    return Table(
        title="Left coronary opening; limits 2 and 0.80 were found in adults",
        columns=("age", "narrowed, %", "flow reserve", "pressure beyond", "below 2; 0.80"),
        rows=tuple(
            (
                f"{each.age_y:g} y",
                span(each.narrowing_pct),
                span(each.reserve, 1),
                span(each.pressure_ratio, 2),
                f"{_plain(each.reserve_below_2)}; {_plain(each.pressure_below_0_80)}",
            )
            for each in told
        ),
    )


def _narrowings(r: OutlookFindings) -> Table:
    last = max((each.age_y for each in r.coronary_by_narrowing), default=0.0)
    return Table(
        title=f"What a narrowed opening would leave at {last:g} y",
        columns=("narrowed, %", "flow reserve", "pressure beyond"),
        rows=tuple(
            (
                f"{each.narrowing_pct:.0f}",
                span(each.reserve, 1),
                span(each.pressure_ratio, 2),
            )
            for each in r.coronary_by_narrowing
            if each.age_y == last
        ),
    )


def _curves(r: OutlookFindings) -> Table:
    return Table(
        title="PUBLISHED, other children: free of, by year; no part of the simulation",
        columns=("what", "at years", "in whom; who is counted", "source"),
        rows=tuple(
            (
                each.counts,
                ", ".join(
                    f"{year:g} y {pct:g} %" for year, pct in zip(each.years, each.pct, strict=True)
                ),
                f"{each.in_whom}; {each.denominator}",
                each.source,
            )
            for each in r.published
        ),
    )


def _rows(r: OutlookFindings) -> Table:
    return Table(
        title="PUBLISHED, other children: lung artery, root, coronaries",
        columns=("what was found", "in whom", "why it may not hold", "source"),
        rows=tuple(
            (each.text, f"{each.in_whom}; {each.denominator}", each.caution, each.source)
            for each in r.published_rows
        ),
    )


def by_name(told: ByRepair) -> dict[str, tuple[Estimate, ...]]:
    """Every repair of one quantity by its key."""
    return {name: told.of(name) for name in SHORT}
