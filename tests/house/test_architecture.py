"""The rooms keep to their floors, and each says what it is for."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from pathlib import Path

from house.tree import ROOT, SOURCE, modules

ROOM_LINES = ("Knows:", "Must not know:", "Start reading:", "Proven by:")
KERNEL_IMPORTS = {"__future__", "inseries", "math", "numba", "numpy", "typing"}
# The one kernel that tells the compiler what lanes are speaks its language.
COMPILER_IMPORTS = {"circuit/kernels/lanes.py": {"llvmlite", "operator"}}
VAGUE = {"utils", "util", "helpers", "helper", "common", "core", "manager", "misc"}


def test_contracts_hold() -> None:
    """Every contract between rooms that is written in pyproject.toml is kept."""
    linter = Path(sys.executable).with_name("lint-imports")
    done = subprocess.run(
        [linter, "--no-cache", "--no-logo"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr


def test_kernels_import_only_arithmetic() -> None:
    """A kernel imports numpy, numba, math and other kernels, nothing else."""
    found = {
        f"{name} imports {target}"
        for name, tree in modules().items()
        if name.startswith("circuit/kernels/")
        for target in _imports(tree)
        if target.split(".")[0] not in KERNEL_IMPORTS | COMPILER_IMPORTS.get(name, set())
        or (target.startswith("inseries") and not target.startswith("inseries.circuit.kernels"))
    }
    assert not found


def _imports(tree: ast.Module) -> list[str]:
    plain = [name.name for n in ast.walk(tree) if isinstance(n, ast.Import) for name in n.names]
    return plain + [n.module or "" for n in ast.walk(tree) if isinstance(n, ast.ImportFrom)]


def test_packages_hold_names_only() -> None:
    """An ``__init__`` holds a docstring, imports, ``__all__``; the top one may look names up."""
    found = [
        f"{name}:{node.lineno}"
        for name, tree in modules().items()
        if name.endswith("__init__.py")
        for node in tree.body[1:]
        if not isinstance(node, ast.Import | ast.ImportFrom)
        and not _assigns(node, "__all__")
        and not (name == "__init__.py" and _looks_up(node))
    ]
    assert not found


def _assigns(node: ast.stmt, name: str) -> bool:
    targets = node.targets if isinstance(node, ast.Assign) else []
    targets = [node.target] if isinstance(node, ast.AnnAssign) else targets
    return any(isinstance(target, ast.Name) and target.id == name for target in targets)


def _looks_up(node: ast.stmt) -> bool:
    """The lazy front door: ``__getattr__``, ``__dir__``, its table, and imports for checkers."""
    if isinstance(node, ast.FunctionDef):
        return node.name in {"__getattr__", "__dir__"}
    guard = isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING"
    return guard or isinstance(node, ast.Assign | ast.AnnAssign)


def test_rooms_say_what_they_are_for() -> None:
    """Each room says what it knows, must not know, where to start reading and what proves it."""
    rooms = [path.parent for path in SOURCE.glob("*/__init__.py")]
    assert rooms
    for room in rooms:
        said = ast.get_docstring(modules()[f"{room.name}/__init__.py"]) or ""
        missing = [line for line in ROOM_LINES if line not in said]
        assert not missing, f"{room.name} does not say: {missing}"


def test_rooms_point_at_files_that_exist() -> None:
    """Where a room says to start reading, there is a file."""
    for room in SOURCE.glob("*/__init__.py"):
        said = ast.get_docstring(modules()[f"{room.parent.name}/__init__.py"]) or ""
        line = next(row for row in said.splitlines() if row.startswith("Start reading:"))
        named = re.findall(r"[\w/]+\.py\b", line)
        assert named, f"{room.parent.name} names no file"
        for word in named:
            assert (room.parent / word).is_file(), f"{room.parent.name}: {word}"


def test_names_say_what_is_inside() -> None:
    """No module is called by what could be in any."""
    assert not {name for name in modules() if VAGUE & set(Path(name).with_suffix("").parts)}


def test_public_names_exist_and_are_described() -> None:
    """Each function that a room offers in ``__all__`` has a docstring where it is written."""
    described = {
        node.name: bool(ast.get_docstring(node))
        for tree in modules().values()
        for node in tree.body
        if isinstance(node, ast.FunctionDef | ast.ClassDef)
    }
    bare = [
        f"{name}: {public}"
        for name, tree in modules().items()
        for node in tree.body
        if isinstance(node, ast.Assign) and _assigns(node, "__all__")
        for public in ast.literal_eval(node.value)
        if not described.get(public, True)
    ]
    assert not bare
