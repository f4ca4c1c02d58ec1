"""How long a user waits: whole processes of the command, and the looks that follow a finger.

Run: ``python benchmarks/verbs.py``; with ``--write`` the table goes to ``docs/physics/waiting.md``.
The least and the median of a few runs; a busy machine only adds. Nothing here is asserted: tests
count steps, not seconds.
"""

from __future__ import annotations

import os
import platform
import statistics
import subprocess
import sys
import tempfile
import time
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

from inseries.case import read_case
from inseries.desk.criteria import tiers_of
from inseries.prior.actions import Action, Kind
from inseries.prior.forecast import forecast, some
from inseries.prior.narrow import narrowed
from inseries.prior.window import COARSE, COARSE_DRAWS, coarse_draws, coarse_outlook

if TYPE_CHECKING:
    from collections.abc import Callable

# chosen: what is asked of each verb, seconds on two quiet cores, and how often it is run
VERBS: dict[str, tuple[float | None, int]] = {
    "--help": (0.15, 9),
    "check": (1.0, 5),
    "now": (1.5, 5),
    "window": (10.0, 3),
    "routes": (15.0, 3),
    "band": (None, 3),
    "repair": (None, 3),
    "outlook": (None, 3),
    "brief": (None, 1),
}
# chosen: the same for one look within a process that is warm
LOOKS = {"coarse window": (0.2, 12), "now, one opening changed": (0.02, 40)}
HORIZON_DAY = 60.0
CASE = "harbour-07.toml"
COMMAND = str(Path(sys.executable).parent / "inseries")
PAGE = Path(__file__).parents[1] / "docs" / "physics" / "waiting.md"

Row = tuple[str, float | None, float, float]


def main() -> None:
    """Times every verb and look, prints a line for each, and with ``--write`` writes the page."""
    text = files("inseries.desk").joinpath("demo", CASE).read_text(encoding="utf-8")
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / CASE).write_text(text, encoding="utf-8")
        _once("now", folder)
        rows = [
            _row(verb, *asked, lambda v=verb: _once(v, folder)) for verb, asked in VERBS.items()
        ]
    for (name, asked), look in zip(LOOKS.items(), _looks(text), strict=True):
        rows.append(_row(name, *asked, look))
    for row in rows:
        sys.stdout.write(_line(row) + "\n")
    if "--write" in sys.argv:
        PAGE.write_text(_page(rows), encoding="utf-8")


def _row(name: str, asked: float | None, runs: int, once: Callable[[], float]) -> Row:
    taken = [once() for _ in range(runs)]
    return name, asked, min(taken), statistics.median(taken)


def _once(verb: str, folder: str) -> float:
    words = [verb] if verb == "--help" else [verb, CASE]
    start = time.perf_counter()
    subprocess.run([COMMAND, *words], cwd=folder, check=True, capture_output=True)
    return time.perf_counter() - start


def _looks(text: str) -> tuple[Callable[[], float], Callable[[], float]]:
    record = read_case(text)
    today = narrowed(record, draws=COARSE_DRAWS * 2, seed=1)

    def window() -> float:
        few = coarse_draws(today)
        start = time.perf_counter()
        coarse_outlook(few, tiers_of(), horizon_day=HORIZON_DAY, seed=1, digest=record.digest)
        return time.perf_counter() - start

    def now() -> float:
        few = some(today, COARSE_DRAWS, COARSE)
        torn = Action(kind=Kind.SEPTOSTOMY, age_days=today.age_days, size=8.0)
        start = time.perf_counter()
        ahead = forecast(few, [torn], ages_days=[today.age_days])
        ahead.days[0].readings.saturation_pct("AoU")
        return time.perf_counter() - start

    return window, now


def _line(row: Row) -> str:
    name, asked, least, median = row
    wanted = "" if asked is None else f"≤ {asked:g}"
    met = "" if asked is None else ("met" if least <= asked else "**not met**")
    return f"| {name} | {wanted} | {least:.3g} | {median:.3g} | {met} |"


def _page(rows: list[Row]) -> str:
    head = (
        "# How long a user waits\n\n"
        f"Measured by `benchmarks/verbs.py` on `{CASE}`, {os.cpu_count()} cores, Python "
        f"{platform.python_version()}:\nwhole processes with the draws that each verb takes by "
        "itself, and below them looks within a process that is warm, as a finger on a slider asks "
        f"for them ({COARSE_DRAWS} draws,\ncoarse beats). Seconds; the least and the median of a "
        "few runs. Load average over five minutes at the end: "
        f"{os.getloadavg()[1]:.1f}.\n\n"
        "| what | asked | least | median |  |\n| --- | --- | --- | --- | --- |\n"
    )
    return head + "\n".join(_line(row) for row in rows) + "\n"


if __name__ == "__main__":
    main()
