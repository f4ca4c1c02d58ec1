"""What stands in the files under version control, and what must not."""

from __future__ import annotations

import re

import pytest
from house.tree import ROOT, SOURCE, lines, modules, tracked

from inseries.circuit.kernels.lanes import COMPILED, FLAGS, INLINED

# An absolute path of somebody's machine, at the start of a word.
MACHINE_PATH = re.compile(r"(?:^|[^\w.])/(?:work|tmp|root|home|Users|mnt)/\w")
# Hosts that packages are fetched from: an address belongs to whoever installs, not to the tree.
PACKAGE_HOST = re.compile(r"\b(?:pypi|pythonhosted|npmjs|anaconda|deb\.debian)\.(?:org|com)\b")
UNFINISHED = re.compile("|".join(["TO" + "DO", "FIX" + "ME", "X" * 3, "NotImplemented" + "Error"]))
LOCKS_WITH_ADDRESSES = {"uv.lock", "poetry.lock", "pdm.lock", "Pipfile.lock"}


def _found(pattern: re.Pattern[str]) -> list[str]:
    return [
        f"{path.relative_to(ROOT)}:{number}"
        for path in tracked()
        for number, row in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1)
        if pattern.search(row)
    ]


def test_no_path_of_a_machine() -> None:
    """No tracked file names a folder of the machine it was written on."""
    assert not _found(MACHINE_PATH)


def test_no_package_host() -> None:
    """No tracked file names a host that packages come from; the lock holds hashes only."""
    assert not _found(PACKAGE_HOST)
    assert not {path.name for path in tracked()} & LOCKS_WITH_ADDRESSES


def test_every_locked_package_has_a_hash() -> None:
    """Each package of the lock is pinned and carries at least one hash."""
    lock = (ROOT / "requirements.lock").read_text(encoding="utf-8")
    blocks = re.split(r"\n(?=[a-z])", "\n".join(lock.splitlines()[1:]))
    assert blocks
    assert not [each[:60] for each in blocks if "==" not in each or "--hash=sha256:" not in each]
    assert "://" not in lock


def test_nothing_is_left_unfinished() -> None:
    """The package holds no reminder of work that is still to do."""
    found = [
        f"{name}:{number}"
        for name in modules()
        for number, row in enumerate(lines(name), start=1)
        if UNFINISHED.search(row)
    ]
    assert not found


def test_no_fast_math_but_fused_products() -> None:
    """Kernels fuse products into sums; nothing makes ``isnan`` lie or reorders a sum."""
    word = "fast" + "math"
    assert [name for name in modules() if word in "\n".join(lines(name))] == [
        "circuit/kernels/lanes.py"
    ]
    assert set(FLAGS) == COMPILED[word] == INLINED[word] == {"contract", "nsz"}


@pytest.mark.parametrize("word", ["prange", "parallel=True"])
def test_sums_keep_their_order(word: str) -> None:
    """No kernel splits a sum between threads, which would change last digits with their number."""
    kernels = [name for name in modules() if name.startswith("circuit/")]
    assert kernels
    assert not [name for name in kernels if word in "\n".join(lines(name))]


def test_kernel_folder_exists() -> None:
    """The rules for kernels look where the kernels are."""
    assert any((SOURCE / "circuit" / "kernels").glob("*.py"))
