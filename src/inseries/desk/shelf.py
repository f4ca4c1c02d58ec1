"""The case files that a desk may open: one folder, by name, and nothing outside it."""

from __future__ import annotations

from dataclasses import dataclass, field
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

from inseries.base.errors import CaseError
from inseries.base.files import write_private
from inseries.case import read_case
from inseries.case.scalars import ID
from inseries.case.source import file_text

if TYPE_CHECKING:
    from collections.abc import Mapping

ENDING = ".toml"
INVENTED = ("harbour-07", "ridge-03", "tight-01", "brook-05")


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    """A folder of case files.

    Parameters
    ----------
    folder : where they are, and where new ones go
    first : name of the case that is opened first, or None
    given : a case file with a name of its own, by the name it has here
    """

    folder: Path
    first: str | None = None
    given: Mapping[str, Path] = field(default_factory=dict[str, Path])

    @classmethod
    def at(cls, place: Path) -> Shelf:
        """The shelf that a path means: a folder, or the folder of a case file.

        Raises
        ------
        CaseError, where the file is not there or is no case
        """
        if place.is_dir():
            return cls(folder=place.resolve())
        file_text(place)
        name = place.stem if ID.match(place.stem) else "case"
        return cls(folder=place.resolve().parent, first=name, given={name: place.resolve()})

    def names(self) -> tuple[str, ...]:
        """Every file of the folder that looks like a case, by name."""
        found = {
            path.stem
            for path in self.folder.glob(f"*{ENDING}")
            if path.is_file() and ID.match(path.stem) and _is_case(path)
        }
        return tuple(sorted(found | set(self.given)))

    def path(self, name: str) -> Path:
        """Where a case is; CaseError for a name that is none of this folder's."""
        if name in self.given:
            return self.given[name]
        path = self.folder / f"{name}{ENDING}"
        if not ID.match(name) or path.is_symlink() or not path.is_file():
            raise _no_case(name)
        return path

    def text(self, name: str) -> str:
        """The text of a case."""
        return file_text(self.path(name))

    def write(self, name: str, text: str) -> None:
        """Put a case back, whole or not at all."""
        write_private(self.path(name), text.encode(), replace=True)

    def add(self, name: str, text: str) -> str:
        """A new case file; refuses a name in use and a text that is no case.

        Returns
        -------
        str, its name
        """
        if not ID.match(name) or name in self.given:
            raise CaseError(
                "an id is at most 64 letters, digits, dots, dashes and spaces, and not in use",
                code="wrong_type",
                where="id",
                value=name,
                remedy="a label of your own, such as harbour-07.",
            )
        read_case(text if "\n" in text else text + "\n")
        write_private(self.folder / f"{name}{ENDING}", text.encode(), replace=False)
        return name


def invented_text(name: str) -> str:
    """The file of an invented baby that comes with the package."""
    if name not in INVENTED:
        raise _no_case(name)
    return files("inseries.desk").joinpath("demo", f"{name}{ENDING}").read_text(encoding="utf-8")


def _is_case(path: Path) -> bool:
    try:
        return "[case]" in file_text(path)
    except CaseError:
        return False


def _no_case(name: str) -> CaseError:
    return CaseError(
        "there is no case of this name here",
        code="not_found",
        where="desk",
        value=name[:64],
        remedy="a name from the list of cases.",
    )
