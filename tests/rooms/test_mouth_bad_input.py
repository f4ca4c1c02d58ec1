"""A case that cannot be taken: one clear sentence, exit code 1, no traceback."""

from __future__ import annotations

import json
import subprocess
import sys
from typing import TYPE_CHECKING

import pytest
from click.testing import CliRunner

from inseries.cli.main import main

if TYPE_CHECKING:
    from pathlib import Path

    from click.testing import Result

GOOD = """\
[case]
id = "reef-02"
born = 2026-03-02T04:10
sex = "female"
[[readings]]
at = 2026-03-05T05:00
weight_kg = 3.4
spo2_foot_pct = 63
"""

# What is wrong with the good case, and what the sentence must name.
WRONG: dict[str, tuple[str, str, tuple[str, ...]]] = {
    "unknown key": ("weight_kg", "wieght_kg", ("line 7", "wieght_kg", "weight_kg")),
    "wrong unit": ("weight_kg = 3.4", "weight_g = 3400", ("line 7", "weight_g", "weight_kg")),
    "impossible value": ("= 63", "= 130", ("line 8", "spo2_foot_pct", "130 %")),
    "impossible weight": ("= 3.4", "= 35", ("line 7", "weight_kg", "35 kg")),
    "before birth": ("at = 2026-03-05", "at = 2026-03-01", ("line 6", "birth")),
    "naive and aware": ("at = 2026-03-05T05:00", "at = 2026-03-05T05:00Z", ("line 6", "at")),
    "a word for a number": ("= 3.4", '= "much"', ("line 7", "weight_kg", "much")),
    "no number": ("= 3.4", "= nan", ("line 7", "weight_kg", "nan")),
    "no TOML": ("= 3.4", "=", ("line 7", "TOML")),
}


def _check(path: Path | str, *words: str, text: str | bytes | None = None) -> Result:
    return CliRunner().invoke(main, ["check", str(path), *words], input=text)


def _is_one_sentence(done: Result, *named: str) -> None:
    assert done.exit_code == 1, done.output
    assert done.stdout == ""
    said = " ".join(done.stderr.split())
    assert said.startswith("✗ refused: ")
    assert "Traceback" not in said
    assert all(word in said for word in named), said
    assert "Try: " in said
    assert max(len(line) for line in done.stderr.splitlines()) <= 80


def test_the_good_case_is_taken(tmp_path: Path) -> None:
    """What the cases below have in common is right."""
    (tmp_path / "baby.toml").write_text(GOOD, "utf-8")
    assert _check(tmp_path / "baby.toml").exit_code == 0


@pytest.mark.parametrize("name", WRONG)
def test_one_thing_wrong_in_a_file(name: str, tmp_path: Path) -> None:
    """The sentence names the file, the line, the key, the value and what to try."""
    right, wrong, named = WRONG[name]
    (tmp_path / "baby.toml").write_text(GOOD.replace(right, wrong), "utf-8")
    _is_one_sentence(_check(tmp_path / "baby.toml"), "baby.toml", *named)


@pytest.mark.parametrize("name", WRONG)
def test_one_thing_wrong_on_standard_input(name: str) -> None:
    """A case on standard input is refused like a file, without a file's name."""
    right, wrong, named = WRONG[name]
    _is_one_sentence(_check("-", text=GOOD.replace(right, wrong)), *named)


@pytest.mark.parametrize("name", WRONG)
def test_one_thing_wrong_in_json(name: str, tmp_path: Path) -> None:
    """The same refusal as an object has its code, its place and what to try."""
    right, wrong, _ = WRONG[name]
    (tmp_path / "baby.toml").write_text(GOOD.replace(right, wrong), "utf-8")
    done = _check(tmp_path / "baby.toml", "--json")
    told = json.loads(done.stdout)
    assert done.exit_code == 1
    assert told["result"] is None
    assert all(told["refused"][key] for key in ("code", "where", "try", "what"))


@pytest.mark.parametrize("content", [b"", b"\n \n", b"# nothing\n"])
def test_empty(content: bytes, tmp_path: Path) -> None:
    """An empty file, or one of comments, is said to be empty, from a file and from a pipe."""
    (tmp_path / "baby.toml").write_bytes(content)
    _is_one_sentence(_check(tmp_path / "baby.toml"), "baby.toml", "empty")
    _is_one_sentence(_check("-", text=content), "empty")


def test_not_utf8(tmp_path: Path) -> None:
    """Bytes that are no text are named with their line."""
    (tmp_path / "baby.toml").write_bytes(GOOD.encode().replace(b"female", b"f\xe9male"))
    _is_one_sentence(_check(tmp_path / "baby.toml"), "baby.toml", "line 4", "UTF-8")


def test_far_too_large(tmp_path: Path) -> None:
    """A file of 50 MB is refused without being read."""
    with (tmp_path / "baby.toml").open("wb") as stream:
        stream.truncate(50_000_000)
    _is_one_sentence(_check(tmp_path / "baby.toml"), "baby.toml", "too large", "50")


def test_a_folder_and_nothing(tmp_path: Path) -> None:
    """A folder, and a file that is not there, are each said to be so."""
    (tmp_path / "babies").mkdir()
    _is_one_sentence(_check(tmp_path / "babies"), "babies", "folder")
    _is_one_sentence(_check(tmp_path / "absent.toml"), "absent.toml", "no such file")


def test_as_a_process(tmp_path: Path) -> None:
    """The real command gives exit code 1, one sentence on standard error, nothing else."""
    done = subprocess.run(
        [sys.executable, "-m", "inseries", "check", tmp_path / "absent.toml"],
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr.startswith("✗ refused: absent.toml: ")
