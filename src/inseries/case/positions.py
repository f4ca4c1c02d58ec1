"""On which line of a case file something stands: the TOML reader does not tell."""

from __future__ import annotations

import re

_HEADER = re.compile(r"^\s*\[+\s*([A-Za-z_]+)\s*\]+")
_TIME_WITHOUT_SECONDS = re.compile(
    r"((?:^|[{,])\s*(?:born|at)\s*=\s*\d{4}-\d\d-\d\d[Tt ]\d\d:\d\d)(?![:\d])", re.MULTILINE
)


def with_seconds(text: str) -> str:
    """The text with ``:00`` added to times of birth and reading written without seconds.

    TOML 1.0 asks for seconds; nobody knows them at a cot, and TOML 1.1 does without.
    """
    return _TIME_WITHOUT_SECONDS.sub(r"\1:00", text)


class Positions:
    """Lines of headers and keys.

    Parameters
    ----------
    text : str, the whole case file
    """

    def __init__(self, text: str) -> None:
        self._lines = text.splitlines()
        self._starts = self._headers()

    def line(self, table: str, index: int = 0, key: str = "") -> int | None:
        """Line, from 1, of a key in the index-th table of a name; of its header without a key.

        Falls back to the first line anywhere that sets the key, and then to the header.
        """
        spans = self._starts.get(table, [])
        inside = range(*spans[index]) if index < len(spans) else range(0)
        found = self._setting(key, inside) or self._setting(key, range(len(self._lines)))
        if found is None and inside:
            return inside.start + 1
        return found

    def _setting(self, key: str, lines: range) -> int | None:
        if not key:
            return None
        setting = re.compile(rf"(?:^|[{{,])\s*[\"']?{re.escape(key)}[\"']?\s*=")
        return next((n + 1 for n in lines if setting.search(self._lines[n])), None)

    def _headers(self) -> dict[str, list[tuple[int, int]]]:
        found = [(n, m[1]) for n, line in enumerate(self._lines) if (m := _HEADER.match(line))]
        ends = [n for n, _ in found[1:]] + [len(self._lines)]
        spans: dict[str, list[tuple[int, int]]] = {}
        for (start, name), end in zip(found, ends, strict=True):
            spans.setdefault(name, []).append((start, end))
        return spans
