"""Short notes tied to a page and, where one is marked, to a day: beside the case, in no answer.

Each line of the file is a note or its taking away, and no line is ever changed; so what was taken
away can still be read. Nothing is printed, and no verb sees them.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from threading import Lock
from typing import TYPE_CHECKING

from inseries.base.errors import CaseError
from inseries.base.files import append_private
from inseries.desk.editing import WHO, moment
from inseries.desk.handles import pages
from inseries.desk.verbs import VERBS

if TYPE_CHECKING:
    from pathlib import Path

    from inseries.desk.shelf import Shelf

LONGEST = 400  # chosen: letters of one note
MOST = 200  # chosen: notes that stand of one case
LAST_DAY = 14_610.0  # derived: forty years


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """One note; ``away`` tells when and by whom it was taken away, and is empty while it stands."""

    number: int
    when: str
    who: str
    page: str
    day: float | None
    text: str
    away: str = ""


class Notes:
    """The notes of every case of a shelf.

    Parameters
    ----------
    shelf : where the files are
    """

    def __init__(self, shelf: Shelf) -> None:
        self.shelf = shelf
        self._one_at_a_time = Lock()

    def standing(self, name: str, page: str) -> tuple[Note, ...]:
        """The notes of one page of a case, the oldest first."""
        return tuple(n for n in self.all(name) if n.page == page and not n.away)

    def all(self, name: str) -> tuple[Note, ...]:
        """Every note of a case, those that were taken away too."""
        place = _place(self.shelf.path(name))
        return _read(place) if place.is_file() else ()

    def add(self, name: str, page: str, day: str, text: str, who: str) -> None:
        """One more note.

        Parameters
        ----------
        name : of the case
        page : name of the verb whose page it is tied to
        day : of age as typed; empty where none is marked
        text : of the note
        who : initials or role

        Raises
        ------
        CaseError, and nothing is written
        """
        if page not in {VERBS["check"].name, *(verb.name for verb in pages())}:
            raise _refused("there is no such page", "page", page, "the name of a page.")
        told = {"page": page, "day": _day(day), "text": _text(text)}
        with self._one_at_a_time:
            if sum(not note.away for note in self.all(name)) >= MOST:
                raise _refused("there are too many notes", "note", MOST, "take some away first.")
            self._keep(name, {"do": "note", **told}, who)

    def take_away(self, name: str, number: int, who: str) -> None:
        """A note taken away from its page; it stays in the file."""
        with self._one_at_a_time:
            if not any(note.number == number and not note.away for note in self.all(name)):
                raise _refused("this note is not there any more", "note", number, "the page again.")
            self._keep(name, {"do": "away", "number": number}, who)

    def _keep(self, name: str, told: dict[str, object], who: str) -> None:
        line = {**told, **moment(who)}
        place = _place(self.shelf.path(name))
        append_private(place, (json.dumps(line, ensure_ascii=False) + "\n").encode())


def _place(path: Path) -> Path:
    return path.with_name(f"{path.stem}.notes.jsonl")


def _read(place: Path) -> tuple[Note, ...]:
    """Notes in order of their lines; a line that is none, such as one cut short, is passed over."""
    found: dict[int, Note] = {}
    for number, line in enumerate(place.read_text(encoding="utf-8").splitlines(), start=1):
        try:
            told = json.loads(line)
            if told["do"] == "note":
                keys = ("when", "who", "page", "day", "text")
                found[number] = Note(number=number, **{key: told[key] for key in keys})
            elif told["number"] in found:
                away = f"{told['when']} {told['who']}"
                found[told["number"]] = replace(found[told["number"]], away=away)
        except (ValueError, TypeError, KeyError):
            continue
    return tuple(found.values())


def _text(typed: str) -> str:
    text = typed.strip()
    if not text:
        raise _refused("a note needs words", "note", None, "a short sentence.")
    if len(text) > LONGEST:
        raise _refused("this is too long for a note", "note", len(text), f"{LONGEST} letters.")
    if not text.isprintable():
        raise _refused("a note is one line of letters", "note", None, "the same in one line.")
    return text


def _day(typed: str) -> float | None:
    if not typed.strip():
        return None
    try:
        day = float(typed.replace(",", "."))
    except ValueError:
        day = -1.0
    if not 0.0 <= day <= LAST_DAY:
        raise _refused("a day is a number of days of age", "day", typed[:WHO], "0 to 14610.")
    return day


def _refused(what: str, where: str, value: object, remedy: str) -> CaseError:
    return CaseError(what, code="note_refused", where=where, value=value, remedy=remedy)
