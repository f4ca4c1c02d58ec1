"""Notes beside a case: kept whole, taken away without being lost, refused like other input."""

from __future__ import annotations

import json
import stat
from typing import TYPE_CHECKING

import pytest

from inseries.base.errors import CaseError, OutputError
from inseries.desk.glance import full
from inseries.desk.notes import LONGEST, Notes
from inseries.desk.record import opened
from inseries.desk.shelf import Shelf, invented_text

if TYPE_CHECKING:
    from pathlib import Path

NAME = "harbour-07"


@pytest.fixture
def notes(tmp_path: Path) -> Notes:
    """The notes of one invented case."""
    (tmp_path / f"{NAME}.toml").write_text(invented_text(NAME), encoding="utf-8")
    return Notes(Shelf.at(tmp_path))


def _file(notes: Notes) -> Path:
    return notes.shelf.folder / f"{NAME}.notes.jsonl"


def test_a_note_stands_on_its_page_alone(notes: Notes) -> None:
    """Page, day, words and initials are kept; another page does not show it; only we may read."""
    notes.add(NAME, "window", "21,5", "  ask again <b>then</b>  ", "AB\x00")
    (note,) = notes.standing(NAME, "window")
    assert (note.day, note.text, note.who) == (21.5, "ask again <b>then</b>", "AB")
    assert notes.standing(NAME, "now") == ()
    assert stat.S_IMODE(_file(notes).stat().st_mode) == 0o600


def test_what_is_taken_away_stays_in_the_file(notes: Notes) -> None:
    """Taken away once, by whom and when is kept; a second time is refused."""
    notes.add(NAME, "now", "", "first", "AB")
    notes.add(NAME, "now", "", "second", "AB")
    first = notes.standing(NAME, "now")[0]
    notes.take_away(NAME, first.number, "CD")
    assert [note.text for note in notes.standing(NAME, "now")] == ["second"]
    assert [note.away.endswith("CD") for note in notes.all(NAME)] == [True, False]
    with pytest.raises(CaseError):
        notes.take_away(NAME, first.number, "CD")


@pytest.mark.parametrize(
    ("page", "day", "text"),
    [
        ("window", "", " "),
        ("window", "", "a" * (LONGEST + 1)),
        ("window", "", "two\nlines"),
        ("window", "", "a\u202eb"),
        ("window", "soon", "words"),
        ("window", "nan", "words"),
        ("window", "-1", "words"),
        ("verify", "", "words"),
        ("../window", "", "words"),
    ],
)
def test_what_is_no_note_is_refused(notes: Notes, page: str, day: str, text: str) -> None:
    """Nothing is written of what is refused."""
    with pytest.raises(CaseError):
        notes.add(NAME, page, day, text, "AB")
    assert not _file(notes).exists()


def test_a_line_cut_short_hides_no_other(notes: Notes) -> None:
    """A torn line is passed over, and the next note still stands alone on its own number."""
    notes.add(NAME, "now", "", "first", "AB")
    _file(notes).write_text(_file(notes).read_text() + '{"do": "no\n[]\n"text"\n')
    notes.add(NAME, "now", "", "second", "AB")
    assert [note.text for note in notes.standing(NAME, "now")] == ["first", "second"]
    assert len({note.number for note in notes.standing(NAME, "now")}) == 2


def test_no_note_goes_through_a_link(notes: Notes, tmp_path: Path) -> None:
    """Where a link lies in the place of the file, what it leads to is not touched."""
    other = tmp_path / "other"
    other.write_text("kept")
    _file(notes).symlink_to(other)
    with pytest.raises(OutputError):
        notes.add(NAME, "now", "", "words", "AB")
    assert other.read_text() == "kept"


def test_no_answer_knows_a_note(notes: Notes) -> None:
    """The answer about the case is the same to the letter, with a note and without."""
    before = full("check", opened(notes.shelf.text(NAME)), {}).to_json()
    notes.add(NAME, "check", "", "nobody else reads this", "AB")
    after = full("check", opened(notes.shelf.text(NAME)), {}).to_json()
    assert "nobody" not in after
    told = [json.loads(text)["result"] for text in (before, after)]
    assert told[0] == told[1]
