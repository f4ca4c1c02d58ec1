"""What a page loads: style, modules and letters that come with the package, and nothing else."""

from __future__ import annotations

import hashlib
from functools import cache
from importlib.resources import files

from inseries.base.errors import OutputError

KINDS = {
    ".css": "text/css; charset=utf-8",
    ".mjs": "text/javascript; charset=utf-8",
    ".svg": "image/svg+xml",
    ".ttf": "font/ttf",
}
LETTERS = {
    "letters.ttf": "LiberationSans-Regular.ttf",
    "letters-bold.ttf": "LiberationSans-Bold.ttf",
}


@cache
def packaged(name: str) -> tuple[bytes, str]:
    """A file of the package and its kind, by a name from a list that is made once.

    Raises
    ------
    OutputError, for any other name
    """
    kind = KINDS.get(name[name.rfind(".") :], "")
    if name in LETTERS:
        folder = files("inseries").joinpath("draw", "fonts")
        return folder.joinpath(LETTERS[name]).read_bytes(), kind
    if name not in _names():
        raise OutputError("there is no such file", code="not_found", where="desk")
    return files("inseries.serve").joinpath("static", name).read_bytes(), kind


@cache
def _names() -> frozenset[str]:
    folder = files("inseries.serve").joinpath("static")
    return frozenset(each.name for each in folder.iterdir() if each.name[-4:] in KINDS)


@cache
def edition() -> str:
    """A short name of everything that is packaged: another one wherever a letter of it is another.

    It stands in the address of each file, so a browser may keep them for good.
    """
    told = hashlib.sha256()
    for name in sorted((*LETTERS, *_names())):
        told.update(packaged(name)[0])
    return told.hexdigest()[:12]
