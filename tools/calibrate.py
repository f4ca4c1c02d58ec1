"""Refits the free constants to the published figures marked as used to fit.

Writes the fitted tables of circuit, course and prior, the supposed inputs of the experiments, and
docs/physics/calibration.md. Deterministic: same code, same tables. One stage after the other, each
on its own figures, later ones over earlier ones:

1. the healthy newborn at three days; from it, the set points of both growth laws, the output that
   filling rises to, and the fall of lung resistance through that day;
2. the left ventricle after weeks, under both laws at once;
3. septostomy pairs, under both laws at once;
4. a lung artery band, under each law for itself.

What belongs to the body and not to a law (lungs, mixing, a duct's size) is one number for both
laws: it is fitted under both, each figure counting once.

Figures kept to judge are never read here.
"""

from __future__ import annotations

import argparse
import math
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
from scipy.optimize import least_squares

from inseries.base.numbers import Number, Provenance, read_numbers
from inseries.course.laws import LAWS
from inseries.desk.experiments.band import band
from inseries.desk.experiments.late_left_ventricle import late_left_ventricle
from inseries.desk.experiments.normal_newborn import healthy_newborn
from inseries.desk.experiments.septostomy import septostomy
from inseries.desk.targets import Target, targets
from inseries.prior.constants import Constants

if TYPE_CHECKING:
    from collections.abc import Callable

ROOT = Path(__file__).resolve().parents[1]
SOURCE = ROOT / "src" / "inseries"
PAGE = ROOT / "docs" / "physics" / "calibration.md"
FILES = {
    "newborn": SOURCE / "circuit" / "fitted.toml",
    "cavity": SOURCE / "course" / "fitted_cavity.toml",
    "strength": SOURCE / "course" / "fitted_strength.toml",
    "mean_stress": SOURCE / "course" / "fitted_mean_stress.toml",
    "emptied_stretch": SOURCE / "course" / "fitted_emptied_stretch.toml",
    "rules": SOURCE / "prior" / "fitted.toml",
    "inputs": SOURCE / "desk" / "experiments" / "fitted.toml",
}
# Package and starting table of each kind of constant; the fitted table stands beside it.
TABLES = {
    "newborn": ("inseries.circuit", "newborn.toml"),
    "cavity": ("inseries.course", "cavity.toml"),
    "strength": ("inseries.course", "strength.toml"),
    "mean_stress": ("inseries.course", "mean_stress.toml"),
    "emptied_stretch": ("inseries.course", "emptied_stretch.toml"),
    "rules": ("inseries.prior", "regulation.toml"),
    "inputs": ("inseries.desk.experiments", "scenarios.toml"),
}
# What tells the pace of growth after a band, by law.
PACES = {"mean_stress": "gain_time", "emptied_stretch": "gain_rate"}
# What laws are called in a table.
SPOKEN_LAWS = {"": "", "mean_stress": "mean stress", "emptied_stretch": "emptied stretch"}
# Health: two arteries share one scale, so that their ratio stays as chosen.
ARTERIES = ("upper_aorta_compliance", "lower_aorta_compliance")
# The reference newborn's age; lung resistance at birth, Wood units m2 (textbook, from memory);
# mmHg s/mL in a Wood unit.
NEWBORN_DAY, BIRTH_INDEX, WOOD = 3.0, 10.0, 0.06
# A trial's relative step: large against what a walk's own steps scatter.
STEP = 0.02
# How well the late lung resistance is known without the figures, spread of its logarithm.
LUNG_SPREAD = 0.3
# Digits that are written down.
DIGITS = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Free:
    """A constant a stage may move, between factors of its starting value.

    ``spread`` is how far its logarithm may lie from the start before that counts as much as a
    figure missed by half a width; wide where nothing but the figures is known.
    """

    kind: str
    name: str
    why: str
    low: float = 0.4
    high: float = 2.5
    spread: float = 10.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Left:
    """A figure after a stage: before and after, under which law ("" where none plays a part)."""

    target: Target
    law: str
    before: float
    after: float


@dataclass(slots=True)
class Bench:
    """All constants under trial, what moved and why, and what each stage left over."""

    values: dict[str, dict[str, float]]
    start: dict[str, dict[str, Number]]
    fitted: dict[str, dict[str, str]] = field(default_factory=dict)
    stages: list[tuple[str, list[Free], list[Left]]] = field(default_factory=list)

    def constants(self) -> Constants:
        """As the experiments take them."""
        return Constants(
            newborn=self.values["newborn"],
            rules=self.values["rules"],
            laws={law: self._shared() | self.values[law] for law in LAWS},
        )

    def _shared(self) -> dict[str, float]:
        return self.values["cavity"] | self.values["strength"]

    def set(self, kind: str, name: str, value: float, why: str) -> None:
        """A constant from now on, rounded as it will be written."""
        self.values[kind][name] = rounded(value)
        self.fitted.setdefault(kind, {})[name] = why


def rounded(value: float) -> float:
    """A value with the digits that are written down."""
    return float(f"{value:.{DIGITS}g}")


def starting() -> Bench:
    """Starting tables only: what was fitted before plays no part."""
    start = {kind: read_numbers(*table) for kind, table in TABLES.items()}
    values = {kind: {n: v.value for n, v in rows.items()} for kind, rows in start.items()}
    return Bench(values=values, start=start)


def fit(
    bench: Bench,
    title: str,
    free: list[Free],
    wanted: list[str],
    run: Callable[[Bench, str], dict[str, float]],
    laws: tuple[str, ...] = ("",),
) -> None:
    """One stage: moves the free constants until the wanted figures lie closest, in their spreads.

    Under several laws each figure is asked under each and counts once. A pull toward the starting
    values keeps what the figures do not say where it was.
    """
    chosen = [target for target in targets() if target.name in wanted]
    assert len(chosen) == len(wanted), set(wanted) - {target.name for target in chosen}
    assert all(target.role == "calibrated" for target in chosen), title
    first = np.array([bench.values[f.kind][f.name] for f in free])
    spreads = np.array([f.spread for f in free])
    before = {law: run(bench, law) for law in laws}
    share = len(laws) ** -0.5

    def put(x: np.ndarray) -> None:
        for f, value in zip(free, first * np.exp(x - 1.0), strict=True):
            bench.values[f.kind][f.name] = float(value)

    def residuals(x: np.ndarray) -> np.ndarray:
        put(x)
        ours = {law: run(bench, law) for law in laws}
        missed = [miss(t, ours[law][t.measure]) * share for law in laws for t in chosen]
        return np.array([*missed, *((x - 1.0) / spreads)])

    # Around 1 and not 0: the search takes its trial steps relative to where it is.
    found = least_squares(
        residuals,
        np.ones(len(free)),
        bounds=([1.0 + math.log(f.low) for f in free], [1.0 + math.log(f.high) for f in free]),
        diff_step=np.full(len(free), STEP),
        xtol=1e-4,
        ftol=1e-4,
        max_nfev=40,
    )
    put(found.x)
    for f in free:
        bench.set(f.kind, f.name, bench.values[f.kind][f.name], f.why)
    after = {law: run(bench, law) for law in laws}
    left = [
        Left(target=t, law=law, before=before[law][t.measure], after=after[law][t.measure])
        for t in chosen
        for law in laws
    ]
    bench.stages.append((title, free, left))
    print(f"{title}: {found.nfev} trials, sum of squares {2 * found.cost:.2f}", flush=True)
    for row in left:
        print(f"   {row.target.measure:28s} {row.law:16s} {middle(row.target):8.3g} "
              f"{row.before:8.3g} -> {row.after:8.3g}")  # fmt: skip
    for f in free:
        print(f"   {f.name:36s} {bench.start[f.kind][f.name].value:8.4g} -> "
              f"{bench.values[f.kind][f.name]:8.4g}")  # fmt: skip


def middle(target: Target) -> float:
    """The figure to come close to: as printed, else the middle of its interval."""
    if target.published is not None:
        return target.published
    low, high = ends(target)
    return 0.5 * (low + high)


def ends(target: Target) -> tuple[float, float]:
    """Both ends of an interval that has them; a direction cannot be fitted to."""
    low, high = target.interval.low, target.interval.high
    assert low is not None
    assert high is not None
    return low, high


def miss(target: Target, ours: float) -> float:
    """Distance in half widths of the interval."""
    low, high = ends(target)
    return (ours - middle(target)) / (0.5 * (high - low))


def newborn_stage(bench: Bench) -> None:
    """Ten constants on eleven figures; then what follows from the newborn."""
    names = (
        "systemic_resistance", "lung_resistance", "total_volume", "lv_unloaded_volume",
        "rv_unloaded_volume", "active_stress", "lv_passive_stress", "rv_passive_stress",
        "upper_aorta_compliance", "lung_artery_compliance",
    )  # fmt: skip
    ratio = bench.values["newborn"][ARTERIES[1]] / bench.values["newborn"][ARTERIES[0]]

    def run(trial: Bench, _: str) -> dict[str, float]:
        newborn = trial.values["newborn"]
        newborn[ARTERIES[1]] = ratio * newborn[ARTERIES[0]]
        return healthy_newborn(trial.constants())

    health = "volumes, output and pressures of the healthy newborn at 72 h, fitted together"
    wanted = [
        target.name
        for target in targets()
        if target.situation == "normal_newborn" and target.role == "calibrated"
    ]
    free = [Free(kind="newborn", name=name, why=health) for name in names]
    fit(bench, "The healthy newborn at 72 h", free, wanted, run)
    second = ratio * bench.values["newborn"][ARTERIES[0]]
    bench.set("newborn", ARTERIES[1], second, "one scale with the upper aorta")
    _follow(bench, healthy_newborn(bench.constants()))


def _follow(bench: Bench, newborn: dict[str, float]) -> None:
    """What the fitted newborn settles beside itself: set points, output, lungs on the third day."""
    bench.set(
        "mean_stress", "set_stress", newborn["lv_mean_stress_mmhg"],
        "mean fibre stress of the left ventricle of the fitted newborn, which bears its lasting "
        "load by then; the right one's free wall leaves out the septum, so that its stress is "
        "overstated, and its load is still falling",
    )  # fmt: skip
    for side, name in (("left", "lv"), ("right", "rv")):
        bench.set(
            "strength", f"set_emptied_{side}", newborn[f"{name}_emptied_stretch"],
            f"emptied stretch of the {side} ventricle of the fitted newborn",
        )  # fmt: skip
    bench.set(
        "cavity", "set_stretch", newborn["lv_filled_stretch"],
        "filled stretch of the left ventricle of the fitted newborn",
    )  # fmt: skip
    bench.set(
        "rules", "output_index", newborn["output_l_min_m2"],
        "output of the fitted newborn, so that filling rises to what its walls are used to",
    )  # fmt: skip
    _lungs(bench)


def _lungs(bench: Bench) -> None:
    """The fall of lung resistance through the fitted newborn's on day 3, from 10 at birth."""
    rules, newborn = bench.values["rules"], bench.values["newborn"]
    index = newborn["lung_resistance"] * newborn["body_surface"] / WOOD
    fast = math.exp(-NEWBORN_DAY / rules["lung_first_days"])
    slow = math.exp(-NEWBORN_DAY / rules["lung_second_days"])
    late = rules["lung_index_late"]
    second = (index - late - (BIRTH_INDEX - late) * fast) / (slow - fast)
    why = "10 at birth (textbook value, from memory) and on day 3 that of the fitted newborn"
    bench.set("rules", "lung_index_second", second, why)
    bench.set("rules", "lung_index_first", BIRTH_INDEX - late - second, why)


def late_stage(bench: Bench) -> None:
    """One constant, the late lung resistance, on the unprepared left ventricle's pressure."""

    def run(trial: Bench, law: str) -> dict[str, float]:
        _lungs(trial)
        return late_left_ventricle(trial.constants(), law=law)

    why = (
        "pressure of the unprepared left ventricle after weeks, held near the textbook value below "
        "3 at six to eight weeks that healthy lungs share"
    )
    free = [Free(kind="rules", name="lung_index_late", why=why, spread=LUNG_SPREAD)]
    wanted = ("lv_systolic_mmhg_30_d", "lv_systolic_mmhg_60_d", "pressure_ratio_30_d")
    names = [f"late_left_ventricle.{name}" for name in wanted]
    fit(bench, "The left ventricle after weeks", free, names, run, LAWS)
    _lungs(bench)


def septostomy_stage(bench: Bench) -> None:
    """Mixing speed, with the foramen and the duct supposed."""

    def run(trial: Bench, law: str) -> dict[str, float]:
        return septostomy(trial.constants(), trial.values["inputs"], law=law)

    why = "saturation, left atrial pressure and gradient before and after septostomy"
    free = [
        Free(kind="newborn", name="eddy_speed", why=f"{why}; trades against the defect's size"),
        Free(kind="inputs", name="septostomy_foramen", why=f"scenario input: {why}"),
        Free(kind="inputs", name="septostomy_duct", why=f"scenario input: {why}"),
    ]
    wanted = [target.name for target in targets() if target.situation == "septostomy"]
    fit(bench, "Septostomy pairs", free, wanted, run, LAWS)


def band_stage(bench: Bench) -> None:
    """Pace of growth under each law, with the lumen of the band supposed."""

    def run(trial: Bench, law: str) -> dict[str, float]:
        return band(trial.constants(), trial.values["inputs"], law=law)

    why = "mass, ejection and pressure ratio after a band"
    wanted = (
        "mass_gain_9_d_pct", "share_of_gain_by_7_d_pct", "ef_change_3_5_d_pct", "ratio_9_d",
    )  # fmt: skip
    for law in LAWS:
        free = [
            Free(kind=law, name=PACES[law], why=why),
            Free(
                kind="inputs",
                name=f"band_lumen_{law}",
                low=0.7,
                high=1.4,
                why=f"scenario input: {why}",
            ),
        ]
        title = f"A lung artery band, by {SPOKEN_LAWS[law]}"
        fit(bench, title, free, [f"band.{name}" for name in wanted], run, (law,))


STAGES = (newborn_stage, late_stage, septostomy_stage, band_stage)


def written(bench: Bench, kind: str) -> str:
    """A fitted table."""
    rows = [f"# Fitted constants, over those of {TABLES[kind][1]}. Written by tools/calibrate.py."]
    for name, why in bench.fitted.get(kind, {}).items():
        value, unit = bench.values[kind][name], bench.start[kind][name].unit
        rows.append(
            f'{name} = {{value = {value:g}, unit = "{unit}", '
            f'provenance = "{Provenance.FITTED}", because = "{why}"}}'
        )
    return "\n".join(rows) + "\n"


def page(bench: Bench) -> str:
    """docs/physics/calibration.md: what was fitted to what, and what is left over."""
    return "\n".join(
        [HEAD, *(_stage_words(bench, *stage) for stage in bench.stages), _moved(bench)]
    )


HEAD = """# Calibration

Written by `tools/calibrate.py`, which refits the free constants to the published figures marked as
used to fit, one stage after the other, and writes the tables that the package carries. Same code,
same tables. Figures kept to judge are never read by it; [Limits](limits.md) has both lists.

The distance of a figure is counted in half widths of its interval: one published standard
deviation, half a printed range, or a tolerance of ours where a mean was printed without spread. A
weak pull toward the starting value (a tenth of a half width for a factor of e; for the late lung
resistance a whole one for a factor of 1.35) keeps what the figures do not say where it was. What
belongs to the body and not to a growth law (lungs, mixing) is one number for both laws, fitted
under both, each figure counting once. Inputs that a publication leaves open, such as the size of a
foramen, are fitted with the rest and named as supposed.
"""


def _stage_words(bench: Bench, title: str, free: list[Free], left: list[Left]) -> str:
    columns = "| figure | law | published | before | after | half widths | source |"
    rows = [f"## {title}", "", columns, "| --- | --- | --- | --- | --- | --- | --- |"]
    for row in left:
        target = row.target
        rows.append(
            f"| {target.what} | {SPOKEN_LAWS[row.law]} | {middle(target):.4g} "
            f"{spoken(target.unit)} | {row.before:.3g} | {row.after:.3g} "
            f"| {miss(target, row.after):+.2f} | {target.source or 'common practice'} |"
        )
    rows += ["", "| constant | start | fitted | unit |", "| --- | --- | --- | --- |"]
    for f in free:
        start = bench.start[f.kind][f.name]
        supposed = " (supposed input)" if f.kind == "inputs" else ""
        rows.append(
            f"| {f.name}{supposed} | {start.value:g} | {bench.values[f.kind][f.name]:g} "
            f"| {spoken(start.unit)} |"
        )
    return "\n".join(rows) + "\n"


def _moved(bench: Bench) -> str:
    rows = ["## What follows from them", "", "| constant | start | now | unit | how |"]
    rows.append("| --- | --- | --- | --- | --- |")
    free = {(f.kind, f.name) for _, named, _ in bench.stages for f in named}
    for kind, names in bench.fitted.items():
        for name, why in names.items():
            start = bench.start[kind][name]
            if (kind, name) not in free:
                now = bench.values[kind][name]
                unit = spoken(start.unit)
                rows.append(f"| {name} | {start.value:g} | {now:g} | {unit} | {why} |")
    return "\n".join(rows) + "\n"


def spoken(unit: str) -> str:
    """A unit as a reader says it."""
    return {"1": "", "[wood'U].m2": "WU m²"}.get(unit, unit.replace("mm[Hg]", "mmHg"))


def main() -> None:
    """Runs every stage and writes, or with ``--dry`` only tells."""
    parser = argparse.ArgumentParser(description="Refit the free constants.")
    parser.add_argument("--dry", action="store_true", help="write nothing")
    dry = parser.parse_args().dry
    bench = starting()
    for stage in STAGES:
        stage(bench)
    if dry:
        return
    for kind, file in FILES.items():
        file.write_text(written(bench, kind), encoding="utf-8")
    PAGE.write_text(page(bench), encoding="utf-8")


if __name__ == "__main__":
    main()
