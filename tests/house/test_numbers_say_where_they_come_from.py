"""No number without its origin: in packaged tables and in constants."""

from __future__ import annotations

import ast
import re
from typing import TYPE_CHECKING

import pytest
from house.tree import bibliography, lines, modules, tables

from inseries.base.numbers import Provenance

if TYPE_CHECKING:
    from collections.abc import Iterator

ORIGINS = {origin.value for origin in Provenance}
CONSTANT = re.compile(r"_?[A-Z][A-Z0-9_]*")
# Signs, identities and halves explain themselves, as does a per cent.
TRIVIAL = {-1.0, 0.0, 0.5, 1.0, 2.0, 100.0}
ORIGIN = re.compile(
    r"#\s*(published: (?P<key>[\w.-]+)|(common practice|memory|derived|chosen): \S)"
)

Place = tuple[str, int, int]


def _rows(table: object, where: str) -> Iterator[tuple[str, dict[str, object]]]:
    """Every row that holds a value or an origin, at any depth."""
    if isinstance(table, dict):
        if "provenance" in table or isinstance(table.get("value"), int | float):
            yield where, table
        for key, inner in table.items():
            yield from _rows(inner, f"{where}.{key}")
    elif isinstance(table, list):
        for number, inner in enumerate(table):
            yield from _rows(inner, f"{where}[{number}]")


def _all_rows() -> list[tuple[str, dict[str, object]]]:
    return [row for name, table in tables().items() for row in _rows(table, name)]


def test_rows_of_tables_have_an_origin() -> None:
    """Each row of numbers says where it comes from, or names its source."""
    bare = [
        where
        for where, row in _all_rows()
        if row.get("provenance") not in ORIGINS and not row.get("source")
    ]
    assert not bare


def test_rows_of_tables_give_a_reason() -> None:
    """Each row with an origin says why, and a published one names a source that is listed."""
    for where, row in _all_rows():
        if "provenance" not in row:
            continue
        because = str(row.get("because", "")).strip()
        assert because, f"{where} gives no reason"
        if row["provenance"] == Provenance.PUBLISHED:
            assert because in bibliography(), f"{where}: {because} is not in the bibliography"


def test_sources_named_in_tables_are_listed() -> None:
    """Every source that a packaged row names is a key of the bibliography."""
    unlisted = [
        f"{where}: {key}"
        for where, row in _all_rows()
        for column in ("source", "sources")
        for key in _keys(row.get(column, []))
        if key not in bibliography()
    ]
    assert not unlisted


def _keys(source: object) -> list[str]:
    return [str(key) for key in source] if isinstance(source, list) else [str(source)]


def _constants(tree: ast.Module) -> Iterator[ast.Assign | ast.AnnAssign]:
    """Module-level constants and defaults of record fields whose value is made of numbers."""
    classes = [node for node in tree.body if isinstance(node, ast.ClassDef)]
    fields = [node for each in classes for node in each.body if isinstance(node, ast.AnnAssign)]
    for node in [*tree.body, *fields]:
        if not isinstance(node, ast.Assign | ast.AnnAssign) or node.value is None:
            continue
        target = node.targets[0] if isinstance(node, ast.Assign) else node.target
        named = node in fields or (
            isinstance(target, ast.Name) and CONSTANT.fullmatch(target.id) is not None
        )
        if named and _speaks(node.value):
            yield node


def _speaks(value: ast.expr) -> bool:
    """Whether an expression is made of numbers and one of them needs a reason."""
    found = list(_numbers(value))
    whole = len(found) == 1
    return bool(found) and not (whole and abs(found[0]) in TRIVIAL)


def _numbers(value: ast.expr) -> Iterator[float]:
    """The numbers of a literal, of arithmetic on literals, or of a collection of them."""
    if isinstance(value, ast.Constant) and type(value.value) in (int, float):
        yield float(value.value)
    elif isinstance(value, ast.UnaryOp):
        yield from _numbers(value.operand)
    elif isinstance(value, ast.BinOp):
        yield from _numbers(value.left)
        yield from _numbers(value.right)
    elif isinstance(value, ast.Tuple | ast.List | ast.Set):
        for inner in value.elts:
            yield from _numbers(inner)
    elif isinstance(value, ast.Dict):
        for inner in value.values:
            yield from _numbers(inner)
    elif isinstance(value, ast.Call):
        for inner in value.args:
            yield from _numbers(inner)


def _comment(rows: list[str], node: ast.stmt) -> str:
    """What is said inside a statement, and in the comment above its unbroken block."""
    end = node.end_lineno or node.lineno
    said = [row[row.index("#") :] for row in rows[node.lineno - 1 : end] if "#" in row]
    above = node.lineno - 2
    while above >= 0 and rows[above].strip() and not rows[above].lstrip().startswith("#"):
        above -= 1
    while above >= 0 and rows[above].lstrip().startswith("#"):
        said.append(rows[above].strip())
        above -= 1
    return "\n".join(said)


@pytest.mark.parametrize("name", sorted(modules()))
def test_constants_have_an_origin(name: str) -> None:
    """Each numeric constant of a module carries a comment that says where it comes from."""
    rows = lines(name)
    bare = [
        f"{name}:{node.lineno}"
        for node in _constants(modules()[name])
        if ORIGIN.search(_comment(rows, node)) is None
    ]
    assert not bare


def test_published_constants_name_a_listed_source() -> None:
    """A constant said to be published names a key of the bibliography."""
    unknown = [
        f"{name}: {match['key']}"
        for name in modules()
        for row in lines(name)
        if (match := ORIGIN.search(row)) and match["key"] and match["key"] not in bibliography()
    ]
    assert not unknown


def test_a_bare_constant_would_be_found() -> None:
    """The check sees a constant without origin, and is content with one that has it."""
    bare = ast.parse("LIMIT = 37.5\n")
    assert [node.lineno for node in _constants(bare)] == [1]
    assert ORIGIN.search(_comment(["LIMIT = 37.5"], bare.body[0])) is None
    said = "LIMIT = 37.5  # chosen: it had to be something"
    assert ORIGIN.search(_comment([said], ast.parse(said).body[0]))
