"""How long a user waits: whole processes of the command, each against what was asked of it.

Run: ``python benchmarks/verbs.py``. Prints the minimum and the median of a few runs; a busy machine
only adds. Nothing here is asserted: tests count steps, not seconds.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
from importlib.resources import files
from pathlib import Path

# chosen: what was asked of each verb, seconds on two quiet cores
ASKED_S = {"--help": 0.15, "check": 1.0, "now": 1.5, "window": 60.0, "demo": 90.0}
# chosen: runs of each, the first of them thrown away where it may compile
RUNS = {"--help": 9, "check": 5, "now": 5, "window": 1, "demo": 1}
COMMAND = str(Path(sys.executable).parent / "inseries")


def main() -> None:
    """Times every verb and prints a line for each."""
    with tempfile.TemporaryDirectory() as folder:
        case = Path(folder) / "harbour-07.toml"
        packaged = files("inseries.desk").joinpath("demo", "harbour-07.toml")
        case.write_text(packaged.read_text(encoding="utf-8"), encoding="utf-8")
        _once(["now", case.name], folder)
        sys.stdout.write(f"{'verb':8} {'asked':>7} {'least':>7} {'median':>7}  (s)\n")
        for verb, asked in ASKED_S.items():
            words = [verb] if verb in {"--help", "demo"} else [verb, case.name]
            taken = sorted(_once(words, folder) for _ in range(RUNS[verb]))
            middle = statistics.median(taken)
            sys.stdout.write(f"{verb:8} {asked:7.2f} {taken[0]:7.2f} {middle:7.2f}\n")


def _once(words: list[str], folder: str) -> float:
    start = time.perf_counter()
    subprocess.run([COMMAND, *words], cwd=folder, check=True, capture_output=True)
    return time.perf_counter() - start


if __name__ == "__main__":
    main()
