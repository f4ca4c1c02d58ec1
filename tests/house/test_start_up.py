"""Help comes at once: heavy libraries load only inside the verbs that need them."""

from __future__ import annotations

import json
import subprocess
import sys

HEAVY = ("numba", "numpy", "scipy", "rich", "typst")

ASK = """
import json, sys
sys.argv = ["inseries", *{words!r}]
from inseries.cli.main import main
try:
    main()
except SystemExit as done:
    assert not done.code, done.code
print()
print(json.dumps(sorted(set(sys.modules) & set({heavy!r}))))
"""


def _loaded_after(*words: str) -> list[str]:
    done = subprocess.run(
        [sys.executable, "-c", ASK.format(words=words, heavy=HEAVY)],
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    return json.loads(done.stdout.splitlines()[-1])


def test_help_loads_nothing_heavy() -> None:
    """After ``inseries --help`` neither the compiler nor a numeric or drawing library is loaded."""
    assert _loaded_after("--help") == []


def test_help_of_a_verb_loads_nothing_heavy() -> None:
    """The help of the heaviest verb costs no more than the help of all."""
    assert _loaded_after("window", "--help") == []


def test_import_loads_nothing_heavy() -> None:
    """``import inseries`` alone loads no room that computes."""
    ask = f"import sys, inseries; print(sorted(set(sys.modules) & set({HEAVY!r})))"
    done = subprocess.run([sys.executable, "-c", ask], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
