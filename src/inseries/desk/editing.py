"""Changes to a case file from several pages at once: each whole, none lost, all written down.

A page says what it saw in a field. Where the file holds something else by now, nothing is written
and both are handed back: which one holds is a question for a person.
"""

from __future__ import annotations

import json
from collections import defaultdict
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from threading import Lock
from typing import TYPE_CHECKING

from inseries.base.errors import CaseError, OutputError
from inseries.base.files import append_private
from inseries.case.rewrite import (
    SEVERAL,
    setting,
    with_setting,
    with_table,
    without_table,
)
from inseries.desk.draft import Draft, Entry, Part, draft
from inseries.desk.record import opened
from inseries.desk.typed import as_written

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from inseries.desk.shelf import Shelf

# chosen: changes of one case that can be taken back
MOST_UNDONE = 200
WHO = 40  # chosen: letters of initials or a role


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One change as the history keeps it."""

    when: str
    who: str
    table: str
    index: int
    at: str
    key: str
    before: str
    after: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One change that can be taken back: the whole file before and after it."""

    before: str
    after: str
    change: Change


class Clash(Exception):
    """Somebody else wrote another value meanwhile."""

    def __init__(self, theirs: str, yours: str) -> None:
        super().__init__("this was changed elsewhere meanwhile")
        self.theirs = theirs
        self.yours = yours


class Editor:
    """Every case of a shelf, changed one at a time.

    Parameters
    ----------
    shelf : where the files are
    """

    def __init__(self, shelf: Shelf) -> None:
        self.shelf = shelf
        self._one_at_a_time = Lock()
        self._past: defaultdict[str, list[Step]] = defaultdict(list)
        self._undone: defaultdict[str, list[Step]] = defaultdict(list)

    def draft(self, name: str) -> Draft:
        """A case laid out for editing."""
        return draft(name, self.shelf.text(name))

    def can(self, name: str) -> tuple[bool, bool]:
        """Whether there is something to undo, and to redo."""
        return bool(self._past[name]), bool(self._undone[name])

    def set(
        self, name: str, where: tuple[str, int, str], typed: str, *, saw: str, anchor: str, who: str
    ) -> Draft:
        """One field changed, in the file.

        Parameters
        ----------
        name : of the case
        where : table, index and key
        typed : as it stands in the field; empty takes the field away
        saw : what the page saw in the field before
        anchor : the time of the reading or event as the page saw it
        who : initials or role, for the history

        Raises
        ------
        CaseError : in the words of the command line; nothing is written
        Clash : the file holds neither what was seen nor what was typed
        """
        table, index, key = where
        with self._one_at_a_time:
            text = self.shelf.text(name)
            now = draft(name, text)
            _still_there(now, table, index, anchor)
            holds = _held(now, table, index, key)
            told = as_written(table, key, typed)
            if holds not in (saw, typed.strip()):
                raise Clash(holds, typed)
            after = with_setting(text, table, index, key, told)
            before = setting(text, table, index, key) or ""
            change = _change(who, (table, index, key), anchor, before, told or "")
            return self._write(name, text, after, change)

    def add(self, name: str, table: str, typed: tuple[tuple[str, str], ...], who: str) -> Draft:
        """One more reading or event.

        Parameters
        ----------
        name : of the case
        table : readings or events
        typed : keys with what was typed, time first
        who : for the history
        """
        if table not in SEVERAL:
            raise _no_table(table)
        settings = tuple(
            (key, told) for key, text in typed if (told := as_written(table, key, text)) is not None
        )
        with self._one_at_a_time:
            text = self.shelf.text(name)
            after = with_table(text, table, settings)
            told = ", ".join(f"{key} = {value}" for key, value in settings)
            change = _change(who, (table, -1, ""), typed[0][1] if typed else "", "", told)
            return self._write(name, text, after, change)

    def drop(self, name: str, table: str, index: int, *, anchor: str, who: str) -> Draft:
        """A reading or event taken away; its values stay in the history."""
        with self._one_at_a_time:
            text = self.shelf.text(name)
            now = draft(name, text)
            _still_there(now, table, index, anchor)
            parts = _entry(now, table, index).parts
            before = ", ".join(f"{part.key} = {part.value}" for part in parts)
            after = without_table(text, table, index)
            change = _change(who, (table, index, ""), anchor, before, "")
            return self._write(name, text, after, change)

    def undo(self, name: str, who: str) -> Draft:
        """The last change taken back, unless the file was changed elsewhere since."""
        return self._step(name, who, self._past[name], self._undone[name], "undo")

    def redo(self, name: str, who: str) -> Draft:
        """The last change that was taken back, made again."""
        return self._step(name, who, self._undone[name], self._past[name], "redo")

    def history(self, name: str) -> tuple[Change, ...]:
        """Every change that a desk made to a case, the last first."""
        place = _history(self.shelf.path(name))
        if not place.is_file():
            return ()
        return tuple(_lines(place))[::-1]

    def _step(
        self,
        name: str,
        who: str,
        source: list[Step],
        other: list[Step],
        word: str,
    ) -> Draft:
        with self._one_at_a_time:
            text = self.shelf.text(name)
            if not source:
                raise _nothing(word)
            step, back = source[-1], word == "undo"
            wanted, found = (step.before, step.after) if back else (step.after, step.before)
            if text != found:
                raise OutputError(
                    "the file was changed elsewhere since",
                    code="changed",
                    where=name,
                    remedy="the fields themselves.",
                )
            self.shelf.write(name, wanted)
            self._keep(name, _again(who, step.change, word, back=back))
            other.append(source.pop())
            return draft(name, wanted)

    def _write(self, name: str, before: str, after: str, change: Change) -> Draft:
        if after != before:
            _taken(name, after)
            self.shelf.write(name, after)
            self._keep(name, change)
            step = Step(before=before, after=after, change=change)
            self._past[name] = [*self._past[name], step][-MOST_UNDONE:]
            self._undone[name].clear()
        return draft(name, after)

    def _keep(self, name: str, change: Change) -> None:
        """One line at the end of the history, in one step."""
        line = json.dumps(asdict(change), ensure_ascii=False) + "\n"
        append_private(_history(self.shelf.path(name)), line.encode())


def _taken(name: str, text: str) -> None:
    """Refuse what the reader of cases refuses, naming the file and not a text."""
    try:
        opened(text)
    except CaseError as error:
        error.where = error.where.replace("case text", f"{name}.toml")
        raise


def _history(path: Path) -> Path:
    return path.with_name(f"{path.stem}.history.jsonl")


def _lines(place: Path) -> Iterator[Change]:
    for line in place.read_text(encoding="utf-8").splitlines():
        try:
            yield Change(**json.loads(line))
        except (ValueError, TypeError):
            continue  # a line cut short by a power failure is passed over


def _change(who: str, where: tuple[str, int, str], at: str, before: str, after: str) -> Change:
    table, index, key = where
    return Change(
        **moment(who),
        table=table,
        index=index,
        at=at,
        key=key,
        before=before,
        after=after,
    )


def _again(who: str, change: Change, word: str, *, back: bool) -> Change:
    """A change taken back or made again, as the history keeps it: which, and what stands now."""
    before, after = (change.after, change.before) if back else (change.before, change.after)
    where = (change.table, change.index, f"{word}: {change.key or change.table}")
    return _change(who, where, change.at, before, after)


def moment(who: str) -> dict[str, str]:
    """Now, and who writes: what each line beside a case begins with."""
    name = "".join(letter for letter in who if letter.isprintable()).strip()[:WHO]
    return {"when": datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ"), "who": name or "not told"}


def _entry(now: Draft, table: str, index: int) -> Entry:
    for entry in now.entries:
        if (entry.table, entry.index) == (table, index):
            return entry
    raise _gone(table, index)


def _still_there(now: Draft, table: str, index: int, anchor: str) -> None:
    if table in SEVERAL and _entry(now, table, index).anchor != anchor:
        raise _gone(table, index)


def _held(now: Draft, table: str, index: int, key: str) -> str:
    parts: tuple[Part, ...] = _entry(now, table, index).parts if table in SEVERAL else now.head
    return next((p.value for p in parts if (p.table, p.key) == (table, key)), "")


def _gone(table: str, index: int) -> CaseError:
    return CaseError(
        "this entry was moved or taken away elsewhere meanwhile",
        code="gone",
        where=table,
        value=index,
        remedy="the page again; what was typed stays in its field.",
    )


def _no_table(table: str) -> CaseError:
    return CaseError(
        "there are no such entries", code="unknown_key", where="desk", value=table[:32],
        remedy="readings or events.",
    )  # fmt: skip


def _nothing(word: str) -> OutputError:
    return OutputError(f"there is nothing to {word}", code="nothing", where="desk")
