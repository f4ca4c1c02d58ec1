"""What the docs name exists, and what exists is named."""

from __future__ import annotations

import ast
import re
from typing import TYPE_CHECKING

import click
import pytest
from house.tree import ROOT, SOURCE, bibliography, modules, tables

if TYPE_CHECKING:
    from pathlib import Path

DOCS = ROOT / "docs"
HEADING = re.compile(r"^## `(?P<name>[\w-]+)`", re.MULTILINE)


def _identifiers() -> set[str]:
    """Every name that the package defines, uses as a field, or writes in a table or as a key."""
    found: set[str] = set()
    for name, tree in modules().items():
        found.update(re.findall(r"\w+", name))
        for node in ast.walk(tree):
            if isinstance(node, ast.Name):
                found.add(node.id)
            elif isinstance(node, ast.Attribute):
                found.add(node.attr)
            elif isinstance(node, ast.arg):
                found.add(node.arg)
            elif isinstance(node, ast.FunctionDef | ast.ClassDef):
                found.add(node.name)
            elif isinstance(node, ast.Constant) and isinstance(node.value, str):
                found.add(node.value)
    for table in tables().values():
        found |= set(table)
    return found


def _word_rows() -> list[list[str]]:
    text = (DOCS / "words.md").read_text(encoding="utf-8")
    rows = [row.strip().strip("|").split("|") for row in text.splitlines() if row.startswith("|")]
    return [[cell.strip() for cell in row] for row in rows if "---" not in row[0]]


def test_words_name_things_that_exist() -> None:
    """Each code name of the word list is a name in the package."""
    known = _identifiers()
    rows = [row for row in _word_rows() if row[1] != "code name"]
    assert rows
    named = {name for row in rows for name in re.findall(r"`([^`]+)`", row[1])}
    assert not {name for name in named if not set(re.split(r"[./:]", name)) <= known}


def test_every_room_is_on_the_map() -> None:
    """The map has a paragraph for each room of the package, and for no other."""
    text = (DOCS / "map.md").read_text(encoding="utf-8")
    rooms = {path.parent.name for path in SOURCE.glob("*/__init__.py")}
    assert set(re.findall(r"^\*\*`(\w+)`\*\*", text, re.MULTILINE)) == rooms


def test_files_named_in_docs_exist() -> None:
    """Each path of the source tree that a page names is there."""
    pattern = re.compile(r"`((?:src|tests|tools|docs|demo|benchmarks)/[\w./*-]+)`")
    pages = [*DOCS.rglob("*.md"), ROOT / "README.md"]
    missing = [
        f"{page.relative_to(ROOT)}: {name}"
        for page in pages
        if "_build" not in page.parts
        for name in pattern.findall(page.read_text(encoding="utf-8"))
        if not list(ROOT.glob(name.rstrip("/")))
    ]
    assert not missing


LAW_FILES = sorted(
    path
    for folder in ("edges", "parts", "between")
    for path in (SOURCE / "circuit" / "kernels" / folder).glob("*.py")
    if path.stem != "__init__"
)


@pytest.mark.parametrize("law", LAW_FILES, ids=lambda path: path.stem)
def test_a_law_has_its_page_with_its_symbols(law: Path) -> None:
    """A page of physics names the file of a law, and its table has every symbol of the law."""
    named = f"`{law.relative_to(ROOT).as_posix()}`"
    pages = [page.read_text(encoding="utf-8") for page in (DOCS / "physics").glob("*.md")]
    theirs = [text for text in pages if named in text]
    assert theirs
    tree = ast.parse(law.read_text(encoding="utf-8"))
    slots = [
        ast.literal_eval(node.value)
        for node in tree.body
        if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "SLOTS"
    ]
    assert len(slots) == 1
    assert any(set(slots[0]) <= _table_names(text) for text in theirs)


def _table_names(text: str) -> set[str]:
    """What the last column of a page's tables names in code."""
    rows = [row.rstrip().rstrip("|").split("|") for row in text.splitlines() if row.startswith("|")]
    return {name for row in rows for name in re.findall(r"`([^`]+)`", row[-1])}


def _verbs() -> set[str]:
    from inseries.cli import main as mouth

    groups = [each for each in vars(mouth).values() if isinstance(each, click.Group)]
    assert groups, "the command line has no group of verbs"
    return {name for each in groups for name in each.list_commands(click.Context(each))}


def test_every_verb_is_explained() -> None:
    """Each verb of the command line has its section in the how-to, and no other has one."""
    text = (DOCS / "how-to" / "verbs.md").read_text(encoding="utf-8")
    assert set(HEADING.findall(text)) == _verbs()


def test_sources_in_code_are_listed() -> None:
    """A bibliography key written where sources are given is in the bibliography."""
    keys = {
        value.value
        for tree in modules().values()
        for node in ast.walk(tree)
        if isinstance(node, ast.keyword) and node.arg in {"source", "sources", "because"}
        for value in ast.walk(node.value)
        if isinstance(value, ast.Constant)
        and isinstance(value.value, str)
        and re.fullmatch(r"[a-z]+\d{4}[a-z]?", value.value)
    }
    assert not keys - bibliography()


@pytest.mark.parametrize("page", sorted((DOCS / "decisions").glob("0*.md")), ids=lambda p: p.stem)
def test_decisions_are_half_a_page(page: Path) -> None:
    """A decision says what, why and what would reverse it, on half a page."""
    text = page.read_text(encoding="utf-8")
    assert "## Why" in text
    assert "## What would reverse it" in text
    assert len(text.split()) <= 300
