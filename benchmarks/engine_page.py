"""The speed report as a page of the docs: its tables, its sentences, its chart."""

from __future__ import annotations

import os
from math import floor, isfinite, log10
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from engine_circuits import MEMBERS as COUNT

from inseries.draw.svg import INK, PALE, QUIET, RULE, Sheet

if TYPE_CHECKING:
    from collections.abc import Iterable

DOCS = Path(__file__).resolve().parents[1] / "docs" / "physics"
PAGE, CHART = DOCS / "speed.md", DOCS / "speed.svg"
# chosen: what is required and what is aimed at
COLD_MS, WARM_MS, OFF_MMHG, TIMES_LSODA = (2.0, 0.8), 0.5, 0.1, 100.0
A_CORE, LIMIT_TIMES = (600.0, 2000.0), 2.5
# chosen: places of the chart, drawing units; colours that differ in grey as well
WIDTH, LEFT, RIGHT, TOP, STEP = 720.0, 190.0, 690.0, 66.0, 30.0
DOTS = ("#23263a", "#b0482c", "#3f8fb5")

HEAD = """# Speed

What a repeating beat costs, measured by `benchmarks/engine.py` in one run on one machine
({machine}; load average over five minutes at the run's end {load:.1f}, of which the run itself is
about 1: what is above that is other people's work, and slows most what uses all cores). Another
machine gives other numbers; ratios move less. Times are the best of several.

An outside solver gets the engine's own right-hand side, compiled, and calls it through Python:
{call:.1f} µs a call, where the engine's own beat takes {stage:.2f} µs an evaluation. It runs at the
loosest tolerance (relative, and in mL; of 1e-2, 1e-3 … 1e-6) at which its own repeating beat is
within {off} mmHg of the reference, which is ours at 3200 steps and 1e-9 mL. An error is the worst
of mean, highest and lowest pressure of all vessels. A beat repeats when no volume changes by more
than 0.001 mL. All start cold from the same volumes.

![Time of one orbit for each solver, in powers of ten: ours leftmost](speed.svg)
"""
TAIL = """
## Where

`benchmarks/engine.py` measures; `benchmarks/engine_outside.py` has the outside solvers,
`benchmarks/engine_limit.py` the arithmetic, `benchmarks/engine_circuits.py` the circuits. The
method is in [the beat and its orbit](beat_and_orbit.md), the adult in
[somebody else's adult](adult_model.md).
"""


class Table(NamedTuple):
    """A table of the page."""

    title: str
    columns: list[str]
    rows: list[list[str]]

    def text(self) -> str:
        """The table as Markdown."""
        lines = [self.columns, ["---"] * len(self.columns), *self.rows]
        return "\n".join("| " + " | ".join(cells) + " |" for cells in lines) + "\n"


def machine() -> str:
    """The processor's name and how many cores there are."""
    lines = Path("/proc/cpuinfo").read_text(encoding="utf-8").splitlines()
    name = next(line.split(":")[1].strip() for line in lines if line.startswith("model name"))
    return f"{name}, {os.cpu_count()} cores"


def shown(value: float, digits: int = 3) -> str:
    """A number with so many digits that count; a dash where there is none."""
    if not isfinite(value) or value <= 0.0:
        return "–"
    return f"{value:,.{max(0, digits - 1 - floor(log10(value)))}f}"


def power(tolerance: float) -> str:
    """A tolerance as 1e-4."""
    return f"{tolerance:.0e}".replace("e-0", "e-")


def best_of(rows: list[Any]) -> Any:
    """Our quickest row that is near enough the reference."""
    return min((row for row in rows if row.off_mmhg <= OFF_MMHG), key=lambda row: row.cold_ms)


def our_table(beside: dict[str, Any]) -> Table:
    """Ours, cold and beside a neighbour."""
    rows = [
        [name, str(row.steps), shown(row.cold_ms), str(row.beats), f"{row.off_mmhg:.3f}",
         shown(row.warm_ms), str(row.warm_beats)]
        for name, (found, _, _) in beside.items()
        for row in found
    ]  # fmt: skip
    columns = ["circuit", "steps", "cold, ms", "beats", "mmHg off", "warm, ms", "beats"]
    return Table("ours", columns, rows)


def their_table(found: list[Any], theirs: list[Any]) -> Table:
    """Outside solvers over one circuit, with their ratios to ours."""
    mine = best_of(found)
    rows = [
        [f"**ours, {mine.steps} steps**", "", f"{mine.off_mmhg:.3f}", shown(mine.cold_ms), "1",
         shown(mine.cold_ms), "1", f"{mine.beats}"]
    ]  # fmt: skip
    rows += [
        [row.solver, power(row.tolerance), f"{row.off_mmhg:.3f}",
         shown(row.same_ms), shown(row.same_ms / mine.cold_ms, 2),
         shown(row.best_ms), shown(row.best_ms / mine.cold_ms, 2),
         f"{row.best_beats}, {row.way}, {power(row.best_tolerance)}"]
        for row in theirs
    ]  # fmt: skip
    columns = [
        "solver", "tolerance", "mmHg off", "(a) ms", "ratio", "(b) ms", "ratio", "(b) how",
    ]  # fmt: skip
    return Table("theirs", columns, rows)


def member_table(members: dict[str, Any]) -> Table:
    """Ensembles, on one core and on all, beside the limit."""
    cores = os.cpu_count() or 1
    rows = [
        [name, row.start, f"{row.beats:.1f}", shown(row.one_core), shown(row.all_cores / cores),
         shown(row.limit), shown(row.limit / row.one_core, 2)]
        for name, (found, *_) in members.items()
        for row in found
    ]  # fmt: skip
    columns = ["circuit", "start", "beats", "one core", "all, a core", "limit", "limit / ours"]
    return Table("members", columns, rows)


def adult_table(rows: list[Any]) -> Table:
    """The published adult."""
    cells = [
        [row.what, shown(1e3 * row.seconds), str(row.beats), f"{row.pressure_off_mmhg:.3f}"]
        for row in rows
    ]
    return Table("adult", ["", "ms", "beats", "mmHg off"], cells)


def target_table(beside: dict[str, Any], members: dict[str, Any]) -> Table:
    """What is required beside what was measured, worst case of all circuits."""
    mine = [best_of(found) for found, _, _ in beside.values()]
    lsoda = [
        [row for row in theirs if row.solver.startswith("LSODA")]
        for _, theirs, _ in beside.values()
    ]
    same_ms = [min(row.same_ms for row in rows) for rows in lsoda]
    best_ms = [min(row.best_ms for row in rows) for rows in lsoda]
    alone = [m.cold_ms for m in mine]
    abreast = [1e3 / found[0].one_core for found, *_ in members.values()]
    least = [1e3 / found[0].limit for found, *_ in members.values()]
    beat_ms = [ms / m.beats for ms, m in zip(same_ms, mine, strict=True)]
    same, best = worst(same_ms, alone), worst(best_ms, alone)
    cold, warm = max(m.cold_ms for m in mine), max(m.warm_ms for m in mine)
    rates = min(found[0].one_core for found, *_ in members.values())
    times = [max(r.limit / r.one_core for f, *_ in members.values() for r in f[i : i + 1])
             for i in (0, 1)]  # fmt: skip
    rows = [
        ["cold orbit within 0.1 mmHg, ms", "≤ 2", "0.8", shown(cold), met(cold, *COLD_MS)],
        ["warm neighbour, ms", "≤ 0.5", "", shown(warm), met(warm, WARM_MS)],
        ["LSODA over ours, as many beats", "≥ 100", "", shown(same, 2), met(-same, -TIMES_LSODA)],
        ["LSODA over ours, each its best way", "≥ 100", "", shown(best, 2),
         met(-best, -TIMES_LSODA)],
        ["LSODA over ours, one plain beat each", "", "",
         shown(worst(beat_ms, [m.plain_ms for m in mine]), 2), ""],
        ["LSODA over one of our members abreast, one plain beat each", "", "",
         shown(worst(beat_ms, [found[-1] for found in members.values()]), 2), ""],
        ["LSODA over one of our members abreast, as many beats", "", "",
         shown(worst(same_ms, abreast), 2), ""],
        ["LSODA over one of our members abreast, each its best way", "", "",
         shown(worst(best_ms, abreast), 2), ""],
        ["LSODA over the limit of arithmetic, as many beats", "", "",
         shown(worst(same_ms, least), 2), ""],
        ["ensemble, cold orbits/s a core", "≥ 600", "2,000", shown(rates),
         met(-rates, -A_CORE[0], -A_CORE[1])],
        ["limit over ensemble, cold", "≤ 2.5", "", shown(times[0], 2), met(times[0], LIMIT_TIMES)],
        ["limit over ensemble, warm", "≤ 2.5", "", shown(times[1], 2), met(times[1], LIMIT_TIMES)],
    ]  # fmt: skip
    return Table("targets", ["", "required", "aim", "measured", ""], rows)


def worst(theirs: list[float], ours: list[float]) -> float:
    """Smallest ratio of all circuits."""
    return min(there / here for there, here in zip(theirs, ours, strict=True))


def met(value: float, required: float, aim: float | None = None) -> str:
    """Whether a value is no more than what is required, and than the aim."""
    if value > required:
        return "**not met**"
    return "met" if aim is None else "met, and the aim" if value <= aim else "met, not the aim"


def chart(beside: dict[str, Any]) -> str:
    """Time of one orbit, a row a solver and a mark a circuit, over powers of ten."""
    lines = _chart_rows(beside)
    low, high = 0.1, 10_000.0
    sheet = Sheet("speed", WIDTH)
    sheet.text(20.0, 26.0, "Time of one orbit, ms: each its best way", size=17, face="Bold")
    _legend(sheet, list(beside))
    bottom = TOP + STEP * len(lines)

    def at(value: float) -> float:
        return LEFT + (RIGHT - LEFT) * log10(value / low) / log10(high / low)

    for power in range(-1, 5):
        x = at(10.0**power)
        sheet.add("line", x1=x, y1=TOP, x2=x, y2=bottom, stroke=RULE, stroke_width=1)
        sheet.text(x, bottom + 20, shown(10.0**power, 1), size=13, anchor="middle", fill=QUIET)
    for i, (name, values) in enumerate(lines):
        y = TOP + STEP * (i + 0.5)
        if i % 2 == 0:
            sheet.underlay("rect", x=20, y=y - 15, width=RIGHT - 20, height=STEP, fill=PALE)
        sheet.text(LEFT - 12, y + 5, name, size=14, anchor="end", fill=INK)
        for k, value in enumerate(values):
            if isfinite(value):
                _mark(sheet, k, at(value), y)
    words = "; ".join(
        f"{name} {', '.join(shown(value) for value in values)}" for name, values in lines
    )
    return sheet.finish(bottom + 34, "Time of one orbit, ms", words)


def _mark(sheet: Sheet, k: int, x: float, y: float) -> None:
    """Mark of circuit k: a round, a square or a diamond, so that colour is not the only sign."""
    look = {"fill": DOTS[k], "fill_opacity": 0.85}
    if k == 0:
        sheet.add("circle", cx=x, cy=y, r=5, **look)
    elif k == 1:
        sheet.add("rect", x=x - 4.5, y=y - 4.5, width=9, height=9, **look)
    else:
        sheet.add("path", d=f"M{x:g} {y - 6.5:g}l6.5 6.5l-6.5 6.5l-6.5 -6.5z", **look)


def _legend(sheet: Sheet, names: Iterable[str]) -> None:
    x = 20.0
    for k, name in enumerate(names):
        _mark(sheet, k, x + 5, 46)
        sheet.text(x + 16, 51, name, size=13, fill=QUIET)
        x += 44 + 6.4 * len(name)


def _chart_rows(beside: dict[str, Any]) -> list[tuple[str, list[float]]]:
    mine = [best_of(found) for found, _, _ in beside.values()]
    rows = [
        ("ours, warm neighbour", [m.warm_ms for m in mine]),
        ("ours, cold", [m.cold_ms for m in mine]),
    ]
    names = [row.solver for row in next(iter(beside.values()))[1]]
    for i, name in enumerate(names):
        rows.append((name, [theirs[i].best_ms for _, theirs, _ in beside.values()]))
    return rows


def members_words(members: dict[str, Any]) -> str:
    """What the table of ensembles shows."""
    multiple = [times for _, _, times, _ in members.values()]
    return MEMBERS.format(
        members=COUNT,
        settled=min(row.settled for found, *_ in members.values() for row in found),
        beat=max(times for _, times, *_ in members.values()),
        low=min(multiple),
        high=max(multiple),
    )


def page(
    beside: dict[str, Any],
    members: dict[str, Any],
    parts: Table,
    adult: list[Any],
    compiled: tuple[float, float],
    each_us: tuple[float, float],
) -> str:
    """The whole page."""
    head = HEAD.format(
        machine=machine(), call=each_us[0], stage=each_us[1], off=OFF_MMHG, load=os.getloadavg()[1]
    )
    sections = [head, "## Required and measured\n", REQUIRED, target_table(beside, members).text()]
    sections += ["## One circulation\n", OURS, our_table(beside).text(), THEIRS]
    for name, (found, theirs, _) in beside.items():
        sections += [f"### {name[0].upper()}{name[1:]}\n", their_table(found, theirs).text()]
    sections += [
        "## Over the number of parts\n", PARTS, parts.text(),
        "## Many members\n",
members_words(members),
        member_table(members).text(),
        "## The published adult\n", ADULT, adult_table(adult).text(),
        "## The first call\n", FIRST.format(first=compiled[0], later=compiled[1]),
    ]  # fmt: skip
    return "\n".join(sections) + TAIL


REQUIRED = """Worst of the three circuits. What is not met stays in this table until it is. LSODA is
its quicker kind. Every answer takes its orbits as members abreast, so rows without a requirement
set LSODA beside one of those, and beside a core that did nothing but the slow arithmetic of our
steps: what a single orbit could gain at the very most. Why steps cannot be fewer is in
[decision 13](../decisions/0013-corners-stay.md).
"""
OURS = """Ours: cold, of a circuit whose numbers were not seen before, and from the orbit of a
neighbour whose lungs resist 2 % less.
"""
THEIRS = """Outside: column (a) takes as many beats as ours, one of which carries tangents; column
(b) goes its best way to a beat that repeats: plain beats or a hybrid Newton (MINPACK) after eight
of them, at that tolerance or a tenth of it, whichever is quickest. Column (a) compares plain speed,
(b) the whole way. LSODA comes twice: `odeint` loops in Fortran, `solve_ivp` in Python, as RK45, BDF
and Radau do. CVODE loops in C.
"""
PARTS = """Five parts are a left heart with its body; more than nine are the normal newborn with its
lower body in compartments. Cold, at 150 steps.
"""
MEMBERS = """{members} members of each circuit, lung resistance and left ventricular mass spread
log-normally (0.3 and 0.15 in ln), at 150 steps; at least {settled} of them settled. Orbits a
second. The limit is what one core could do if a beat were only its square roots, divisions and the
polynomials of its ventricles, eight abreast on numbers in the nearest cache, for as many beats an
orbit: one beat more is counted for reading out, which ours spares where the last one was watched
(so the limit is a little low), and of a cold search's beats one is counted as carrying tangents,
which costs {low:.1f} to {high:.1f} plain beats. A plain beat alone takes at most {beat:.1f} times
its slow arithmetic: the rest is sums of flows, pressures of vessels, and the method's loads
and stores.
"""
ADULT = """A loop in Python against a compiled one; read [its page](adult_model.md) first.
Outside times were taken once.
"""
FIRST = """In an empty folder the first orbit takes {first:.0f} s, nearly all of it the compiler's;
in the next process {later:.1f} s, imports included.
"""


def write(*what: Any, keep: bool) -> None:
    """Prints the page, and with ``keep`` writes it and its chart."""
    text, picture = page(*what), chart(what[0])
    print(text)
    if keep:
        PAGE.write_text(text, encoding="utf-8")
        CHART.write_text(picture, encoding="utf-8")
