"""Kernels, compiled once per machine and per state of their sources.

The compiler's own cache does not notice a change in a kernel that another kernel calls, so the
folder is named by a hash of every kernel source, the versions, the processor and the checks.
"""

from __future__ import annotations

import hashlib
import os
from importlib.resources import files
from pathlib import Path

import llvmlite
import llvmlite.binding as llvm
import numba
import numba.core.config


def kernel_digest() -> str:
    """Hash of all kernel sources."""
    digest = hashlib.sha256()
    folder = files("inseries.circuit.kernels")
    for name in sorted(item.name for item in folder.iterdir() if item.name.endswith(".py")):
        digest.update(name.encode())
        digest.update(folder.joinpath(name).read_bytes())
    return digest.hexdigest()


def cache_folder() -> Path:
    """Folder of compiled kernels for this state of sources, compiler, processor and checks."""
    base = os.environ.get("XDG_CACHE_HOME") or "~/.cache"
    state = f"{numba.__version__} {llvmlite.__version__} {llvm.get_host_cpu_name()} " + (
        f"{numba.core.config.BOUNDSCHECK}"
    )
    name = hashlib.sha256((kernel_digest() + state).encode()).hexdigest()[:16]
    return Path(base).expanduser() / "inseries" / "kernels" / name


numba.core.config.CACHE_DIR = str(cache_folder())

from inseries.circuit.kernels.beat import PART_READOUTS, SLOTS  # noqa: E402 - after the folder
from inseries.circuit.kernels.orbit import find_orbits, next_beat  # noqa: E402

__all__ = ["PART_READOUTS", "SLOTS", "find_orbits", "kernel_digest", "next_beat"]
