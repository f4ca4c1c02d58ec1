"""The command: what is printed, where, and with which exit code."""

from __future__ import annotations

import json
import stat
from typing import TYPE_CHECKING

import pytest
from click.testing import CliRunner
from rooms.fake_verbs import FAKES

from inseries.base.errors import CaseError
from inseries.cli import screen
from inseries.cli.main import main
from inseries.cli.progress import Teller
from inseries.cli.screen import screen_text
from inseries.desk import verbs
from inseries.desk.answer import refuse

if TYPE_CHECKING:
    from pathlib import Path

    from click.testing import Result

WIDTH = 80


@pytest.fixture(autouse=True)
def fake_verbs(monkeypatch: pytest.MonkeyPatch) -> None:
    """The verbs of this file beside the real ones, and a bibliography of one."""
    monkeypatch.setattr(screen, "citation", lambda key: f"Somebody et al. 2023 ({key})")
    for name, verb in FAKES.items():
        monkeypatch.setitem(verbs.VERBS, name, verb)


def _run(*words: str, text: str | bytes | None = None) -> Result:
    return CliRunner().invoke(main, words, input=text)


def test_help_lists_the_questions() -> None:
    """The list of verbs shows each with the question it answers."""
    shown = _run("--help")
    assert shown.exit_code == 0
    for verb in FAKES.values():
        assert verb.name in shown.stdout
        assert verb.question in shown.stdout


def test_help_of_a_verb_names_its_question_and_options() -> None:
    """The help of a verb opens with its question and lists what it takes and no more."""
    shown = _run("guess", "--help").stdout
    assert "what would guess say?" in shown
    assert all(word in shown for word in ("CASE", "--seed", "--json", "--out", "--debug"))
    assert "--draws" not in shown


@pytest.mark.parametrize("words", [["--help"], ["guess", "--help"], ["guess", "a.toml"]])
def test_everything_fits_80_columns(words: list[str]) -> None:
    """No printed line is wider than 80 columns, however long a sentence or a cell is."""
    shown = _run(*words)
    assert shown.exit_code == 0
    assert max(len(line) for line in shown.stdout.splitlines()) <= WIDTH


def test_answer_is_printed_in_order() -> None:
    """Sentences come first, then tables, the picture, the cautions, the sources."""
    shown = _run("guess", "a.toml").stdout
    marks = ["The colour is", "Parts", "▁▂▃▄", "! caution:", "Sources", "Somebody et al. 2023"]
    places = [shown.index(mark) for mark in marks]
    assert places == sorted(places)


def test_text_is_printed_as_it_is() -> None:
    """Brackets and colons in a sentence are text, not instructions to the printer."""
    assert "[bold]pink[/bold] :baby:" in _run("guess", "a.toml").stdout


def test_a_number_keeps_its_unit() -> None:
    """No line ends between a number and the unit that follows it, wherever the line breaks."""
    for filler in range(60, 82):
        answer = refuse("x", CaseError("a" * filler + " at 130 mmHg after 12 days", code="x"))
        lines = screen_text(answer, colour=False).splitlines()
        assert max(len(line) for line in lines) <= WIDTH
        assert not any(line[-1:].isdigit() for line in lines)


def test_plain_output_has_no_escape_codes() -> None:
    """Output that is piped holds no colour codes."""
    assert "\x1b" not in _run("guess", "a.toml").stdout


def test_colour_repeats_what_words_say() -> None:
    """With colour the same characters are printed, so nothing is said by colour alone."""
    import re

    from rooms.fake_verbs import guess

    coloured = screen_text(guess("x"), colour=True)
    assert "\x1b" in coloured
    bare = re.sub(r"\x1b\[[0-9;]*m", "", coloured)
    assert [line.rstrip() for line in bare.splitlines()] == screen_text(
        guess("x"), colour=False
    ).splitlines()


def test_json_is_one_object_on_standard_output() -> None:
    """With --json the whole of standard output is one JSON object."""
    shown = _run("guess", "a.toml", "--json", "--seed", "11")
    assert shown.exit_code == 0
    told = json.loads(shown.stdout)
    assert told["verb"] == "guess"
    assert told["run"]["seed"] == 11


def test_dash_reads_the_case_from_standard_input() -> None:
    """A dash in place of the file takes the text of the case from standard input."""
    shown = _run("guess", "-", "--json", text="reef-02\n")
    assert json.loads(shown.stdout)["case"] == "reef-02"


@pytest.mark.parametrize(
    ("text", "sentence"),
    [(b"one\n\xff\xfe", "Line 2 is not UTF-8"), (b"#" * 1_000_001, "too large")],
)
def test_bad_standard_input_is_refused(text: bytes, sentence: str) -> None:
    """Bytes that are no text, or too many of them, are refused in one sentence."""
    shown = _run("guess", "-", text=text)
    assert shown.exit_code == 1
    assert sentence in shown.stderr


def test_refusal_is_one_sentence_with_everything() -> None:
    """A refusal names file, line, key, value with unit, and what to try; exit code 1."""
    shown = _run("never", "a.toml")
    assert shown.exit_code == 1
    assert shown.stdout == ""
    assert " ".join(shown.stderr.split()) == (
        "✗ refused: baby.toml line 4, spo2_foot_pct: The saturation is impossible (got 130 %). "
        "Try: a value from 0 to 100."
    )


def test_refusal_in_json_goes_to_standard_output() -> None:
    """A program reads a refusal where it reads an answer; the exit code tells them apart."""
    shown = _run("never", "a.toml", "--json")
    assert shown.exit_code == 1
    refused = json.loads(shown.stdout)["refused"]
    assert (refused["code"], refused["value"], refused["unit"]) == ("out_of_range", 130, "%")


@pytest.mark.parametrize(
    "words",
    [["unheard"], ["guess"], ["guess", "a", "b"], ["guess", "a", "--seed", "-1"], ["never", "--x"]],
)
def test_wrong_calls_give_2(words: list[str]) -> None:
    """A call that cannot be understood gives exit code 2 and says how to call."""
    shown = _run(*words)
    assert shown.exit_code == 2
    assert "Usage" in shown.stderr


def test_unexpected_error_is_one_sentence() -> None:
    """A mistake of ours gives exit code 70, one sentence, and none of the error's own words."""
    shown = _run("broken")
    assert shown.exit_code == 70
    assert len(shown.stderr.splitlines()) == 1
    assert "LookupError" in shown.stderr
    assert "maria" not in shown.output
    assert "Traceback" not in shown.output


def test_debug_shows_the_error() -> None:
    """With --debug the unexpected error itself comes out."""
    assert isinstance(_run("broken", "--debug").exception, LookupError)


def test_interrupt_is_one_sentence() -> None:
    """Ctrl-C gives exit code 130 and one sentence."""
    shown = _run("stopped")
    assert shown.exit_code == 130
    assert shown.stderr.count("\n") == 1


def test_out_writes_a_private_file(tmp_path: Path) -> None:
    """--out writes what would have been printed, for the owner only, and prints no answer."""
    target = tmp_path / "answer.json"
    shown = _run("guess", "a.toml", "--json", "--out", str(target))
    assert shown.exit_code == 0
    assert shown.stdout == ""
    assert json.loads(target.read_text(encoding="utf-8"))["verb"] == "guess"
    assert stat.S_IMODE(target.stat().st_mode) == 0o600


def test_out_keeps_what_is_there(tmp_path: Path) -> None:
    """--out refuses to replace a file unless --replace is given; a refusal writes nothing."""
    target = tmp_path / "answer.txt"
    target.write_text("mine", encoding="utf-8")
    assert _run("guess", "a.toml", "--out", str(target)).exit_code == 1
    assert _run("never", "a.toml", "--out", str(target), "--replace").exit_code == 1
    assert target.read_text(encoding="utf-8") == "mine"
    assert _run("guess", "a.toml", "--out", str(target), "--replace").exit_code == 0
    assert "The colour is" in target.read_text(encoding="utf-8")
    assert [path.name for path in tmp_path.iterdir()] == ["answer.txt"]


@pytest.mark.parametrize("name", ["there.json", "absent/answer.json"])
def test_out_is_refused_before_computing(name: str, tmp_path: Path) -> None:
    """A file that exists, or a folder that does not, is refused before the verb is asked."""
    (tmp_path / "there.json").touch()
    shown = _run("broken", "--out", str(tmp_path / name))
    assert shown.exit_code == 1
    assert name.rsplit("/", maxsplit=1)[-1] in shown.stderr
    assert str(tmp_path) not in shown.stderr


def test_progress_is_told_beside_the_answer() -> None:
    """What takes over a second names its stages, once each, on standard error only."""
    shown = _run("slow", "--json")
    assert json.loads(shown.stdout)["verb"] == "slow"
    assert shown.stderr == "second stage …\n"


def test_quick_answers_are_silent() -> None:
    """What is done within a second tells no progress."""
    assert _run("guess", "a.toml").stderr == ""


def test_moving_progress_goes_away(capsys: pytest.CaptureFixture[str]) -> None:
    """The moving bar writes to standard error alone and takes each stage in turn."""
    teller = Teller(moving=True, quiet_s=0.0)
    for stage in ("one", "two"):
        for fraction in (0.0, 0.5, 1.0):
            teller(stage, fraction)
    teller.close()
    assert capsys.readouterr().out == ""


def test_a_criterion_is_a_name_and_a_number(tmp_path: Path) -> None:
    """A criterion without a number is a wrong call; an unknown one is refused with the nearest."""
    case = tmp_path / "case.toml"
    case.write_text('[case]\nid = "x"\n[[readings]]\nage_h = 5\nweight_kg = 3.4\n')
    wrong = _run("window", str(case), "--criterion", "survivable_la_mean_max")
    assert wrong.exit_code == 2
    assert "NAME=VALUE" in wrong.output
    unknown = _run("window", str(case), "--criterion", "survivable_la_men_max=16")
    assert unknown.exit_code == 1
    assert "survivable_la_mean_max" in unknown.output
