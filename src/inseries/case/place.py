"""Where in a case file the reader stands, so that a refusal can say so."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from inseries.base.errors import CaseError
from inseries.case.slips import nearest, told, unit_word

if TYPE_CHECKING:
    from collections.abc import Sequence

    from inseries.case.positions import Positions


@dataclass(frozen=True, slots=True)
class Place:
    """One table of one file."""

    file: str
    lines: Positions
    table: str
    index: int = 0

    def where(self, key: str = "") -> str:
        """File, line and key, such as ``harbour-07.toml, line 12, spo2_foot_pct``."""
        line = self.lines.line(self.table, self.index, key)
        parts = [self.file, *([f"line {line}"] if line else []), *([key] if key else [])]
        return ", ".join(parts)

    def refuse(
        self,
        what: str,
        code: str,
        remedy: str,
        key: str = "",
        *,
        value: object = None,
        unit: str = "",
    ) -> CaseError:
        """A refusal at this place; dates and tables in ``value`` are left out."""
        return CaseError(
            what,
            code=code,
            where=self.where(key),
            value=told(value),
            unit=unit_word(unit),
            remedy=remedy,
        )

    def choice(self, value: object, choices: Sequence[str], key: str, word: str) -> str:
        """One of several words; CaseError names the nearest otherwise."""
        if isinstance(value, str) and value in choices:
            return value
        found = nearest(value, choices) if isinstance(value, str) else None
        remedy = f'"{found}", or one of: ' if found else "one of: "
        raise self.refuse(
            f"this {word} is not known",
            "unknown_word",
            remedy + ", ".join(c for c in choices if c != found) + ".",
            key,
            value=value,
        )
