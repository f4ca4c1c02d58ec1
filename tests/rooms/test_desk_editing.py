"""Changes to a case file from pages: whole, remarked, undone, never lost."""

from __future__ import annotations

import tomllib
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inseries.base.errors import CaseError, OutputError
from inseries.case import read_case
from inseries.case.positions import with_seconds
from inseries.case.rewrite import setting, with_setting, with_table, without_table
from inseries.desk.editing import Clash, Editor
from inseries.desk.shelf import INVENTED, Shelf, invented_text
from inseries.desk.typed import as_written

if TYPE_CHECKING:
    from pathlib import Path

NAME = "harbour-07"


@pytest.fixture
def editor(tmp_path: Path) -> Editor:
    """An editor of one invented case."""
    (tmp_path / f"{NAME}.toml").write_text(invented_text(NAME), encoding="utf-8")
    return Editor(Shelf.at(tmp_path))


def _weight(editor: Editor, index: int = 0) -> tuple[str, str]:
    """What a page sees of the first weight: value and anchor."""
    for entry in editor.draft(NAME).entries:
        if entry.table == "readings" and entry.index == index:
            return next(p.value for p in entry.parts if p.key == "weight_kg"), entry.anchor
    raise AssertionError


def _set(editor: Editor, typed: str, saw: str | None = None) -> None:
    value, anchor = _weight(editor)
    editor.set(
        NAME,
        ("readings", 0, "weight_kg"),
        typed,
        saw=value if saw is None else saw,
        anchor=anchor,
        who="AB",
    )


def test_one_line_changes_and_every_remark_stays(editor: Editor) -> None:
    """Of the whole file only the line of the field is another."""
    before = editor.shelf.text(NAME).splitlines()
    _set(editor, "3.6")
    after = editor.shelf.text(NAME).splitlines()
    assert len(before) == len(after)
    assert [b for a, b in zip(before, after, strict=True) if a != b] == ["weight_kg = 3.6"]


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("3.4", "3.4"),
        ("3,4", "3.4"),
        ("3.4 kg", "3.4"),
        ("3400 g", "3.4"),
        ("", None),
        ("x", '"x"'),
    ],
)
def test_a_unit_may_be_typed(typed: str, told: str | None) -> None:
    """A value is taken with its own unit or one of the same quantity; words go to the reader."""
    assert as_written("readings", "weight_kg", typed) == told


def test_a_foreign_unit_is_refused() -> None:
    """A weight in millimetres is refused, and the units that it may have are named."""
    with pytest.raises(CaseError) as caught:
        as_written("readings", "weight_kg", "3 mm")
    assert "kg" in caught.value.remedy


def test_what_cannot_be_is_refused_in_the_reader_s_words(editor: Editor) -> None:
    """The sentence is that of the command line, with the file's name; nothing is written."""
    before = editor.shelf.text(NAME)
    with pytest.raises(CaseError, match=r"07\.toml, line \d+, weight_kg: this weight is not"):
        _set(editor, "34")
    assert editor.shelf.text(NAME) == before


def test_two_pages_lose_nothing(editor: Editor) -> None:
    """Different fields both hold; the same field asks which value stands, and writes neither."""
    seen, anchor = _weight(editor)
    editor.set(NAME, ("readings", 0, "length_cm"), "51.5", saw="50", anchor=anchor, who="one")
    _set(editor, "3.5", seen)
    with pytest.raises(Clash) as caught:
        _set(editor, "3.7", seen)
    assert (caught.value.theirs, caught.value.yours) == ("3.5", "3.7")
    text = editor.shelf.text(NAME)
    assert "weight_kg = 3.5" in text
    assert "length_cm = 51.5" in text


def test_an_entry_that_moved_is_not_overwritten(editor: Editor) -> None:
    """A page that saw another time at this place is told to look again."""
    with pytest.raises(CaseError) as caught:
        editor.set(
            NAME, ("readings", 0, "weight_kg"), "3.5", saw="3.4", anchor="1999-01-01T00:00", who=""
        )
    assert caught.value.code == "gone"


def test_undo_and_redo_walk_the_changes(editor: Editor) -> None:
    """Undo gives back the very bytes; redo the change; a foreign change stops both."""
    start = editor.shelf.text(NAME)
    _set(editor, "3.5")
    changed = editor.shelf.text(NAME)
    editor.undo(NAME, "AB")
    assert editor.shelf.text(NAME) == start
    editor.redo(NAME, "AB")
    assert editor.shelf.text(NAME) == changed
    again, back, first = editor.history(NAME)
    assert (back.key, back.before, back.after) == ("undo: weight_kg", "3.5", first.before)
    assert (again.key, again.before, again.after) == ("redo: weight_kg", first.before, "3.5")
    assert again.at == back.at == first.at
    editor.shelf.write(NAME, changed + "# by hand\n")
    with pytest.raises(OutputError, match="elsewhere"):
        editor.undo(NAME, "AB")


def test_history_tells_who_and_what_before(editor: Editor) -> None:
    """Each change is kept with its hand, both values, and in a private file."""
    _set(editor, "3.5")
    editor.add(NAME, "readings", (("age_h", "13 d"), ("weight_kg", "3.5")), "CD")
    last, first = editor.history(NAME)
    assert (first.who, first.key, first.after) == ("AB", "weight_kg", "3.5")
    assert (last.who, last.after) == ("CD", "age_h = 312, weight_kg = 3.5")
    place = editor.shelf.folder / f"{NAME}.history.jsonl"
    assert place.stat().st_mode & 0o777 == 0o600


def test_an_entry_is_added_and_taken_away(editor: Editor) -> None:
    """What was added can be taken away again, and the rest is as before."""
    before = tomllib.loads(with_seconds(editor.shelf.text(NAME)))
    editor.add(NAME, "events", (("age_h", "300"), ("kind", "band")), "AB")
    entry = max(
        (e for e in editor.draft(NAME).entries if e.table == "events"), key=lambda e: e.index
    )
    editor.drop(NAME, "events", entry.index, anchor=entry.anchor, who="AB")
    assert tomllib.loads(with_seconds(editor.shelf.text(NAME))) == before


@pytest.mark.parametrize("name", INVENTED)
def test_every_field_of_every_invented_case_can_be_set_alone(name: str) -> None:
    """Setting any key to what it holds leaves the text as it is, and taking it away only that."""
    text = invented_text(name)
    told = tomllib.loads(with_seconds(text))
    for table in ("readings", "events"):
        for index, row in enumerate(told[table]):
            for key in row:
                held = setting(text, table, index, key)
                assert held is not None
                assert with_setting(text, table, index, key, held) == text
                gone = tomllib.loads(with_seconds(with_setting(text, table, index, key, None)))
                assert gone[table][index] == {k: v for k, v in row.items() if k != key}


@given(st.text(min_size=1, max_size=40))
def test_no_word_breaks_out_of_its_line(word: str) -> None:
    """Whatever is typed into a text field stays one TOML string of one line."""
    told = as_written("readings", "source", word)
    text = with_table("[case]\nid = 'a'\n", "readings", (("age_h", "1"), ("weight_kg", "3")))
    after = with_setting(text, "readings", 0, "source", told)
    held = tomllib.loads(after)["readings"][0]
    assert set(held) <= {"age_h", "weight_kg", "source"}
    assert without_table(after, "readings", 0).count("[[") == 0


def test_a_file_that_cannot_be_changed_alone_is_left(tmp_path: Path) -> None:
    """A reading written as one inline table is refused, not rewritten."""
    text = "[case]\nid = 'a'\n\nreadings = [{age_h = 1, weight_kg = 3}]\n"
    with pytest.raises(CaseError):
        with_setting(text, "readings", 0, "weight_kg", "4")


@pytest.mark.parametrize("name", INVENTED)
@pytest.mark.parametrize("typed", ["abc", "-7", "1e12"])
def test_every_field_refuses_in_the_words_of_the_command_line(
    tmp_path: Path, name: str, typed: str
) -> None:
    """What a field refuses, a file with the same line is refused for; nothing is written."""
    text = invented_text(name)
    (tmp_path / f"{name}.toml").write_text(text, encoding="utf-8")
    editor = Editor(Shelf.at(tmp_path))
    refused = 0
    for entry in editor.draft(name).entries:
        for part in entry.parts:
            where = (entry.table, entry.index, part.key)
            words = _by_hand(tmp_path, where, typed, text)
            if words is None:
                continue
            with pytest.raises(CaseError) as caught:
                editor.set(name, where, typed, saw=part.value, anchor=entry.anchor, who="AB")
            assert str(caught.value) == words
            refused += 1
    assert editor.shelf.text(name) == text
    assert refused >= len(editor.draft(name).entries)


def _by_hand(folder: Path, where: tuple[str, int, str], typed: str, text: str) -> str | None:
    """What the reader says of a file of the same name with the same line; None where nothing."""
    by_hand = folder / "by-hand" / f"{tomllib.loads(with_seconds(text))['case']['id']}.toml"
    by_hand.parent.mkdir(exist_ok=True)
    try:
        told = as_written(where[0], where[2], typed)
    except CaseError:
        return None
    by_hand.write_text(with_setting(text, *where, told), encoding="utf-8")
    try:
        read_case(by_hand)
    except CaseError as error:
        return str(error)
    return None
