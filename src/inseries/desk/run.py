"""The record of a run: what would be needed to get the same answer again."""

from __future__ import annotations

import hashlib
import platform
from functools import cache
from importlib.metadata import version as installed
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

from inseries.desk.answer import Criteria, Run

if TYPE_CHECKING:
    from collections.abc import Iterator
    from importlib.resources.abc import Traversable

_KERNELS = ("circuit", "kernels")
_CPU_FILE = Path("/proc/cpuinfo")


def run_record(
    input_hash: str | None,
    *,
    seed: int | None = None,
    draws: int | None = None,
    effective_draws: float | None = None,
    criteria: Criteria | None = None,
) -> Run:
    """The record of a run on this machine with this edition.

    Parameters
    ----------
    input_hash : str or None, sha256 of the case's content
    seed : int or None, where random numbers were drawn from
    draws : int or None, how many circuits were drawn
    effective_draws : float or None, how many remain after weighing by the readings
    criteria : mapping or None, what each tier asked for

    Returns
    -------
    Run, with the hashes of kernels and tables, the edition of the compiler and the kind of
    processor; never the name of the machine or of its user
    """
    return Run(
        seed=seed,
        draws=draws,
        effective_draws=effective_draws,
        criteria={} if criteria is None else criteria,
        input_hash=input_hash,
        kernel_hash=kernel_hash(),
        table_hash=table_hash(),
        numba=compiler(),
        cpu=cpu_name(),
    )


@cache
def kernel_hash() -> str:
    """The sha256 of all kernel sources, in the order of their names."""
    return _hash(files("inseries").joinpath(*_KERNELS), ".py")


@cache
def table_hash() -> str:
    """The sha256 of all packaged tables of numbers, in the order of their names."""
    return _hash(files("inseries"), ".toml")


@cache
def compiler() -> str:
    """The edition of the compiler."""
    return installed("numba")


@cache
def cpu_name() -> str:
    """The kind of processor, as it describes itself."""
    if _CPU_FILE.is_file():
        for line in _CPU_FILE.read_text(encoding="utf-8", errors="replace").splitlines():
            key, _, value = line.partition(":")
            if key.strip() == "model name" and value.strip():
                return value.strip()
    return platform.processor() or platform.machine()


def _hash(folder: Traversable, suffix: str) -> str:
    digest = hashlib.sha256()
    for name, content in sorted(_contents(folder, suffix)):
        digest.update(f"{name}\0{len(content)}\0".encode())
        digest.update(content)
    return digest.hexdigest()


def _contents(folder: Traversable, suffix: str, inside: str = "") -> Iterator[tuple[str, bytes]]:
    for item in folder.iterdir():
        name = f"{inside}/{item.name}"
        if item.is_dir():
            yield from _contents(item, suffix, name)
        elif item.name.endswith(suffix):
            yield name, item.read_bytes()
