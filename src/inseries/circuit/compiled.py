"""Kernels, compiled once per machine and per state of their sources.

The compiler's own cache does not notice a change in a kernel that another kernel calls, so the
folder is named by a hash of every kernel source, the versions, the processor and the checks.
"""

from __future__ import annotations

import hashlib
import logging
import os
from functools import cache
from importlib import import_module
from importlib.resources import files
from pathlib import Path
from pkgutil import iter_modules
from typing import TYPE_CHECKING

import llvmlite
import llvmlite.binding as llvm
import numba
import numba.core.config

if TYPE_CHECKING:
    from types import ModuleType


def kernel_digest() -> str:
    """Hash of all kernel sources."""
    digest = hashlib.sha256()
    folder = Path(str(files("inseries.circuit.kernels")))
    for path in sorted(folder.rglob("*.py")):
        digest.update(path.relative_to(folder).as_posix().encode())
        digest.update(path.read_bytes())
    return digest.hexdigest()


def cache_folder() -> Path:
    """Folder of compiled kernels for this state of sources, compiler, processor and checks."""
    base = os.environ.get("XDG_CACHE_HOME") or "~/.cache"
    checked: object = getattr(numba.core.config, "BOUNDSCHECK", None)
    state = f"{numba.__version__} {llvmlite.__version__} {llvm.get_host_cpu_name()} {checked}"
    name = hashlib.sha256((kernel_digest() + state).encode()).hexdigest()[:16]
    return Path(base).expanduser() / "inseries" / "kernels" / name


def announce_first_compile() -> None:
    """Says once, where kernels are not yet compiled for this state of things, that they will be."""
    if not any(cache_folder().rglob("search.search_block*.nbi")) and not _disabled():
        logging.getLogger(__name__).warning(
            "Compiling the engine for this computer: once, for a minute or two …"
        )


@cache
def announced() -> bool:
    """Announces a first compile, once a process."""
    announce_first_compile()
    return True


def _disabled() -> bool:
    return bool(getattr(numba.core.config, "DISABLE_JIT", False))


# numba reads this name at the first compile; its stubs do not list it.
numba.core.config.CACHE_DIR = str(cache_folder())  # pyright: ignore[reportAttributeAccessIssue]

from inseries.circuit.kernels import edges, layout, parts  # noqa: E402 - after the folder
from inseries.circuit.kernels.activation import activated  # noqa: E402
from inseries.circuit.kernels.beats import Crew  # noqa: E402
from inseries.circuit.kernels.between import pericardium, septum  # noqa: E402
from inseries.circuit.kernels.lanes import WIDTH  # noqa: E402
from inseries.circuit.kernels.layout import (  # noqa: E402
    BED_FLOW,
    BODY_FLOW,
    CLOSED,
    PART_READOUTS,
    REGULATION,
    Limits,
    Network,
)
from inseries.circuit.kernels.regulate import next_own, next_tone, next_total, pressed  # noqa: E402
from inseries.circuit.kernels.search import (  # noqa: E402
    NOTES,
    Search,
    new_crew,
    search_block,
    watch_one,
)
from inseries.circuit.kernels.single import beat_with_slopes, instant, single_beat  # noqa: E402
from inseries.circuit.kernels.watched import CORNER  # noqa: E402


def _laws(folder: ModuleType) -> dict[str, ModuleType]:
    """Laws of a folder by the names of their files."""
    names = [item.name for item in iter_modules(folder.__path__)]
    return {name: import_module(f"{folder.__name__}.{name}") for name in names}


EDGE_LAWS = _laws(edges)
PART_LAWS = _laws(parts)

__all__ = [
    "BED_FLOW",
    "BODY_FLOW",
    "CLOSED",
    "CORNER",
    "EDGE_LAWS",
    "NOTES",
    "PART_LAWS",
    "PART_READOUTS",
    "REGULATION",
    "WIDTH",
    "Crew",
    "Limits",
    "Network",
    "Search",
    "activated",
    "announced",
    "beat_with_slopes",
    "instant",
    "kernel_digest",
    "layout",
    "new_crew",
    "next_own",
    "next_tone",
    "next_total",
    "pericardium",
    "pressed",
    "search_block",
    "septum",
    "single_beat",
    "watch_one",
]
