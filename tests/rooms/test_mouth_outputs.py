"""Every verb's real output: schema, width, colour, and what must not be in it.

One invented case is asked once with each verb; all claims are tested on that answer. What a user
wrote beside the case (names, dates, comments, folders) stays with the user.
"""

from __future__ import annotations

import json
import re
import stat
from functools import cache
from typing import TYPE_CHECKING

import pytest
from click.testing import CliRunner
from jsonschema import Draft202012Validator
from pypdf import PdfReader

from inseries.base.sources import bibliography
from inseries.cli.main import main
from inseries.cli.screen import screen_text
from inseries.desk.schema import answer_schema
from inseries.desk.verbs import VERBS, load

if TYPE_CHECKING:
    from pathlib import Path

    from inseries.desk.answer import Answer

# Invented: no such person.
PLANTED = ("Quillabrand", "Ostermoor", "4417-0093", "2026-03-02", "02.03.2026", "04:10")
CASE = """\
# Quillabrand Ostermoor, number 4417-0093, born 02.03.2026
[case]
id = "harbour-07"
born = 2026-03-02T04:10
sex = "female"
[anatomy]
segments = "{S,D,D}"
septum = "intact"
lv_outflow = "open"
pulmonary_valve = "normal"
arch = "unobstructed"
coronary = "1LCx-2R"
gestation_weeks = 39
[[readings]]
at = 2026-03-02T05:00  # seen by Ostermoor
spo2_right_hand_pct = 58
spo2_foot_pct = 63
weight_kg = 3.4
lactate_mmol_l = 4.1
[[events]]
at = 2026-03-02T06:40
kind = "septostomy"
[[readings]]
at = 2026-03-03T05:00
spo2_right_hand_pct = 76
atrial_defect_mm = 6.5
duct_mm = 3.2
lv_mass_g = 8.9
method = "echo-2d"
"""
DATE = re.compile(r"\b(?:19|20)\d\d-\d\d-\d\d")
ON_CASE = [name for name, verb in VERBS.items() if "case" in verb.takes]
ALL = pytest.mark.parametrize("verb", list(VERBS))
# chosen: enough for an answer, few enough for a test
FEW_DRAWS = 60


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder named like a user, with the case of a named child in it."""
    home = tmp_path_factory.mktemp("home") / "Ostermoor" / "Quillabrand"
    home.mkdir(parents=True)
    (home / "baby.toml").write_text(CASE, encoding="utf-8")
    return home


@cache
def _answer(name: str, folder: Path) -> Answer:
    verb = VERBS[name]
    places = [folder / "baby.toml"] if "case" in verb.takes else []
    names: dict[str, object] = {"draws": FEW_DRAWS} if "draws" in verb.takes else {}
    if "out_path" in verb.takes:
        names["out_path"] = folder / f"{name}.out"
    if name == "band":
        names["band_day"] = 21.0  # at a day old the ventricle is at pressure and needs no band
    return load(verb)(*places, **names)


def _leaks(told: str) -> list[str]:
    return [word for word in PLANTED if word.lower() in told.lower()] + DATE.findall(told)


def _text(file: Path) -> str:
    """Everything a reader or a search finds in a file, the metadata of a PDF included."""
    if not file.read_bytes().startswith(b"%PDF"):
        return file.read_text(encoding="utf-8")
    pages = PdfReader(file)
    # The time of making is the only date that a PDF may carry.
    kept = {k: v for k, v in (pages.metadata or {}).items() if not k.endswith("Date")}
    return "\n".join([str(kept), *(page.extract_text() for page in pages.pages)])


@ALL
def test_json_obeys_the_schema(verb: str, folder: Path) -> None:
    """Each verb answers the case, and its JSON is what the published schema says."""
    told = json.loads(_answer(verb, folder).to_json())
    assert told["refused"] is None
    assert told["verb"] == verb
    Draft202012Validator(answer_schema()).validate(told)


@ALL
def test_sources_are_listed(verb: str, folder: Path) -> None:
    """Each source of an answer is a key of the bibliography, named once."""
    sources = _answer(verb, folder).sources
    assert set(sources) <= set(bibliography())
    assert len(sources) == len(set(sources))


@ALL
def test_words_fit_the_screen(verb: str, folder: Path) -> None:
    """Printed words and pictures stay within 80 columns."""
    lines = screen_text(_answer(verb, folder), colour=False).splitlines()
    assert lines
    assert max(len(line) for line in lines) <= 80


@ALL
def test_no_output_names_the_child_or_the_user(verb: str, folder: Path) -> None:
    """Names, numbers, dates, comments and folders around a case are in no output of a verb."""
    answer = _answer(verb, folder)
    assert not _leaks(screen_text(answer, colour=False).replace("2026-03-02T05:00, or", ""))
    told = json.loads(answer.to_json())
    if verb == "new":  # the skeleton shows how a time is written
        del told["result"]["skeleton"]
    assert not _leaks(json.dumps(told, ensure_ascii=False))


@pytest.mark.parametrize("verb", [name for name, v in VERBS.items() if "out_path" in v.takes])
def test_files_are_private(verb: str, folder: Path) -> None:
    """A file that a verb writes is its owner's alone, and names neither child nor user."""
    answer = _answer(verb, folder)
    file = folder / f"{answer.verb}.out"
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert not _leaks(_text(file).replace("2026-03-02T05:00, or", ""))


@pytest.mark.parametrize("form", [[], ["--json"]], ids=["words", "json"])
@pytest.mark.parametrize("verb", ON_CASE)
def test_no_refusal_names_the_child_or_the_user(verb: str, form: list[str], tmp_path: Path) -> None:
    """A refused time, and a file that is not there, are told without date and without folder."""
    home = tmp_path / "Ostermoor"
    home.mkdir()
    wrong = home / "baby.toml"
    wrong.write_text(CASE.replace("born = 2026-03-02", "born = 2026-03-09"), "utf-8")
    out = ["--out", str(home / "out")]
    for path in (wrong, home / "absent.toml"):
        done = CliRunner().invoke(main, [verb, str(path), *out, *form])
        assert done.exit_code == 1, done.output
        assert not _leaks(done.output)
    assert not (home / "out").exists()


def test_planted_words_would_be_found() -> None:
    """The search finds each planted word, and any other date."""
    assert set(PLANTED) <= set(_leaks(CASE))
    assert _leaks("seen 2019-01-31") == ["2019-01-31"]
