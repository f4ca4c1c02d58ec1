"""The source tree as the house tests see it."""

from __future__ import annotations

import ast
import subprocess
import tomllib
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SOURCE = ROOT / "src" / "inseries"
# Folder of the invented cases: what was seen of a baby has a method, not an origin.
CASES = "demo"


@cache
def modules() -> dict[str, ast.Module]:
    """Every module of the package, parsed, by its path below ``src/inseries``."""
    return {
        path.relative_to(SOURCE).as_posix(): ast.parse(path.read_text(encoding="utf-8"))
        for path in sorted(SOURCE.rglob("*.py"))
    }


def lines(name: str) -> list[str]:
    """The lines of a module."""
    return (SOURCE / name).read_text(encoding="utf-8").splitlines()


@cache
def tables() -> dict[str, dict[str, object]]:
    """Every packaged table, read, by its path below ``src/inseries``; cases are no tables."""
    return {
        path.relative_to(SOURCE).as_posix(): _table(path)
        for path in sorted(SOURCE.rglob("*.toml"))
        if path.parent.name != CASES
    }


def _table(path: Path) -> dict[str, object]:
    try:
        return tomllib.loads(path.read_text(encoding="utf-8"))
    except tomllib.TOMLDecodeError as error:
        error.add_note(f"in {path.relative_to(ROOT)}")
        raise


@cache
def bibliography() -> frozenset[str]:
    """The keys of the bibliography."""
    return frozenset(tables()["base/bibliography.toml"])


@cache
def tracked() -> tuple[Path, ...]:
    """Every text file that is kept, or would be kept, under version control."""
    listed = subprocess.run(
        ["git", "-c", "safe.directory=*", "ls-files", "-z", "--cached", "--others",
         "--exclude-standard"],
        cwd=ROOT, check=True, capture_output=True, text=True,
    ).stdout  # fmt: skip
    paths = (ROOT / name for name in listed.split("\0") if name)
    return tuple(path for path in paths if path.is_file() and not _binary(path))


def _binary(path: Path) -> bool:
    return b"\0" in path.read_bytes()[:4096]


def functions(tree: ast.Module) -> list[ast.FunctionDef | ast.AsyncFunctionDef]:
    """Every function and method of a module."""
    return [
        node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
    ]


def length(function: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Lines of a function without its decorators and its docstring."""
    first = function.body[0]
    said = ast.get_docstring(function, clean=False) is not None
    docstring = (first.end_lineno or first.lineno) - first.lineno + 1 if said else 0
    return (function.end_lineno or function.lineno) - function.lineno + 1 - docstring
