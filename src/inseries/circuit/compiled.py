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
    checked: object = getattr(numba.core.config, "BOUNDSCHECK", None)
    state = f"{numba.__version__} {llvmlite.__version__} {llvm.get_host_cpu_name()} {checked}"
    name = hashlib.sha256((kernel_digest() + state).encode()).hexdigest()[:16]
    return Path(base).expanduser() / "inseries" / "kernels" / name


# numba reads this name at the first compile; its stubs do not list it.
numba.core.config.CACHE_DIR = str(cache_folder())  # pyright: ignore[reportAttributeAccessIssue]

from inseries.circuit.kernels.layout import (  # noqa: E402 - after the folder
    PART_READOUTS,
    SLOTS,
    Limits,
    Network,
    new_work,
)
from inseries.circuit.kernels.orbit import find_orbits, next_beat  # noqa: E402

__all__ = [
    "PART_READOUTS",
    "SLOTS",
    "Limits",
    "Network",
    "find_orbits",
    "kernel_digest",
    "new_work",
    "next_beat",
]
