"""Every way in which a case file can be wrong is answered by one clear refusal."""

from __future__ import annotations

import os
import pickle
from pathlib import Path

import pytest

from inseries.base.errors import CaseError
from inseries.case import read_case
from inseries.case.source import LARGEST_BYTES

HEAD = '[case]\nid = "x"\nborn = 2026-03-02T04:10\nsex = "female"\n'
READING = HEAD + "[[readings]]\nage_h = 1\nweight_kg = 3.4\n\n[[readings]]\nage_h = 72\n"
EVENT = HEAD + "[[events]]\nage_h = 1\n"

# text, code, line and key, what the remedy names
BAD = {
    "nearest key": (READING + "spo2_rigth_hand_pct = 58", "unknown_key", 11, "spo2_right_hand_pct"),
    "other spelling": (READING + "hemoglobin_g_dl = 15", "unknown_key", 11, "haemoglobin_g_dl"),
    "grams": (READING + "weight_g = 3400", "wrong_unit", 11, "weight_kg = 3.4"),
    "per litre": (READING + "haemoglobin_g_l = 160", "wrong_unit", 11, "haemoglobin_g_dl = 16"),
    "kilopascal": (READING + "pco2_kpa = 5.3", "wrong_unit", 11, "pco2_mmhg = 39.75"),
    "no unit": (READING + "weight = 3.4", "wrong_unit", 11, "weight_kg"),
    "age in days": (HEAD + "[[readings]]\nage_days = 3\nweight_kg = 3", "wrong_unit", 6, "age_h"),
    "wrong table": (HEAD + "gestation_weeks = 39", "unknown_key", 5, "[anatomy]"),
    "no table": ("gestation_weeks = 39\n" + HEAD, "unknown_key", 1, "[anatomy]"),
    "unknown table": (HEAD + "[anatmoy]\n", "unknown_key", 5, "[anatomy]"),
    "one bracket": (HEAD + "[readings]\nage_h = 2\n", "wrong_type", 5, "[[readings]]"),
    "above 100 %": (READING + "spo2_foot_pct = 130", "impossible_value", 11, "5 to 100 %"),
    "a fraction": (READING + "spo2_foot_pct = 0.58", "impossible_value", 11, "= 58"),
    "35 kg at day 3": (READING + "weight_kg = 35", "impossible_value", 11, "weight_kg = 3.5"),
    "a share of grams": (READING + "haemoglobin_g_dl = 160", "impossible_value", 11, "= 16, if"),
    "negative": (READING + "weight_kg = -3.4", "impossible_value", 11, "a value from"),
    "nan": (READING + "weight_kg = nan", "impossible_value", 11, "leave the line out"),
    "infinite": (READING + "weight_kg = inf", "impossible_value", 11, "leave the line out"),
    "huge": (READING + "weight_kg = " + "9" * 400, "impossible_value", 11, "leave the line out"),
    "micrograms": (READING + "prostaglandin_ng_kg_min = 0.05", "unit_slip", 11, "= 50"),
    "thousandfold": (READING + "prostaglandin_ng_kg_min = 50000", "unit_slip", 11, "= 50,"),
    "quoted": (READING + 'weight_kg = "3.4"', "wrong_type", 11, "without quotes"),
    "flag": (READING + "weight_kg = true", "wrong_type", 11, "decimal point"),
    "date as weight": (READING + "weight_kg = 2026-03-02T05:00:00", "wrong_type", 11, "decimal"),
    "two times": (READING + "at = 2026-03-02T05:00\nweight_kg = 3", "two_times", 11, "either"),
    "no time": (HEAD + "[[readings]]\nweight_kg = 3.4", "missing_time", 5, "age_h"),
    "no value": (READING, "empty_reading", 9, "weight_kg"),
    "no birth": ('[case]\nid = "x"\n[[readings]]\nat = 2026-03-02T05:00\nweight_kg = 3',
                 "missing_birth", 4, "age_h"),
    "no id": ("[case]\nsex = 'male'\n", "missing_key", 1, "id"),
    "before birth": (HEAD + "[[readings]]\nat = 2026-03-01T05:00\nweight_kg = 3", "before_birth", 6,
                     "time of birth"),
    "switch before birth": (HEAD + '[[events]]\nkind = "switch"\nat = 2026-03-01T05:00',
                            "before_birth", 7, "time of birth"),
    "negative age": (HEAD + "[[readings]]\nage_h = -1\nweight_kg = 3", "before_birth", 6, "birth"),
    "wrong year": (HEAD + "[[readings]]\nat = 2206-03-01T05:00\nweight_kg = 3",
                   "impossible_value", 6, "year"),
    "zone in reading": (HEAD + "[[readings]]\nat = 2026-03-02T05:00Z\nweight_kg = 3",
                        "mixed_times", 6, "time zone"),
    "date without time": ('[case]\nid = "x"\nborn = 2026-03-02\n', "wrong_type", 3, "born = "),
    "unknown method": (READING + 'lv_mass_g = 8\nmethod = "echo2d"', "unknown_word", 12, "echo-2d"),
    "method of another": (READING + 'lv_mass_g = 8\nlv_mass_method = "oximeter"',
                          "unknown_word", 12, "echo-2d"),
    "method of nothing": (READING + 'weight_kg = 3.4\nmethod = "cmr"', "unknown_word", 12, "scale"),
    "method alone": (READING + 'weight_kg = 3.4\nlv_mass_method = "cmr"', "missing_key", 12,
                     "lv_mass_g"),
    "method twice": (READING + 'lv_mass_g = 8\nlv_mass_method = "cmr"\nlv_mass_g_method = "cmr"',
                     "said_twice", 12, "keep one"),
    "sd of 0": (READING + "lv_mass_g = 8\nlv_mass_sd = 0", "impossible_value", 12, "lv_mass_g"),
    "sd of a word": (READING + 'septum_position = "flat"\nseptum_position_sd = 1',
                     "wrong_type", 12, "leave"),
    "unknown event": (EVENT + 'kind = "septostmy"', "unknown_word", 7, '"septostomy"'),
    "event without kind": (EVENT, "missing_key", 5, "kind"),
    "detail of another": (EVENT + 'kind = "switch"\nband_circumference_mm = 22', "unknown_key", 8,
                          "skeleton"),
    "segments": (HEAD + '[anatomy]\nsegments = "SDD"', "unknown_word", 6, "{S,D,D}"),
    "coronary": (HEAD + '[anatomy]\ncoronary = "usual"', "unknown_word", 6, "1LCx-2R"),
    "flag in quotes": (HEAD + '[anatomy]\ncoronary_intramural = "no"', "wrong_type", 6, "= true"),
    "id as a path": ('[case]\nid = "../x"\n', "wrong_type", 2, "label"),
    "comma": (READING + "weight_kg = 3,4", "toml_syntax", 11, "decimal point"),
    "twice": (READING + "age_h = 3\n", "toml_syntax", 11, "weight_kg"),
    "deep nesting": (HEAD + "a = " + "[" * 9000, "toml_syntax", None, "weight_kg"),
    "endless number": (READING + "weight_kg = " + "9" * 5000, "toml_syntax", None, "weight_kg"),
    "empty": ("", "empty", None, "inseries new"),
    "comments only": ("# nothing\n\n# here\n", "empty", None, "inseries new"),
}  # fmt: skip


def _refusal(told: str | Path) -> CaseError:
    with pytest.raises(CaseError) as caught:
        read_case(told)
    return caught.value


@pytest.mark.parametrize("name", BAD)
def test_a_slip_is_refused_with_place_and_remedy(name: str) -> None:
    """Each slip is refused with its code, its line and what to try, in one line of text."""
    text, code, line, remedy = BAD[name]
    error = _refusal(text)
    assert error.code == code
    assert line is None or f"line {line}" in error.where
    assert remedy in error.remedy
    assert "\n" not in str(error)
    assert pickle.loads(pickle.dumps(error)).where == error.where


@pytest.mark.parametrize("name", [n for n, (_, code, *_) in BAD.items() if code == "before_birth"])
def test_a_refused_time_is_told_as_age(name: str) -> None:
    """A time before birth is said back as hours, never as the date that was written."""
    error = _refusal(BAD[name][0])
    assert error.unit == "h"
    assert "2026" not in str(error)


def test_mixed_times_with_zone_at_birth() -> None:
    """A zone at birth and none at the reading is refused at the reading."""
    text = HEAD.replace("04:10", "04:10+01:00") + "[[readings]]\nat = 2026-03-02T05:00\nph = 7.2"
    assert _refusal(text).code == "mixed_times"
    assert "line 6" in _refusal(text).where


def test_the_value_of_an_unknown_key_is_not_said_back() -> None:
    """A text behind an unknown key, which may be a name, appears in no refusal."""
    error = _refusal(HEAD + 'mother = "Jane Placeholder"')
    assert "Placeholder" not in str(error)


def test_a_directory(tmp_path: Path) -> None:
    """A folder is refused by its own name, without its path."""
    folder = tmp_path / "cases"
    folder.mkdir()
    error = _refusal(folder)
    assert (error.code, error.where) == ("is_directory", "cases")


def test_a_missing_file(tmp_path: Path) -> None:
    """A missing file is refused by its own name, without its path."""
    error = _refusal(tmp_path / "none.toml")
    assert (error.code, error.where) == ("not_found", "none.toml")
    assert str(tmp_path) not in str(error)


def test_fifty_megabytes_are_not_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file of 50 MB is refused by its size; it is never opened."""
    big = tmp_path / "big.toml"
    with big.open("wb") as stream:
        stream.truncate(50_000_000)
    monkeypatch.setattr(Path, "open", lambda *_: pytest.fail("the file was opened"))
    error = _refusal(big)
    assert (error.code, error.value, error.unit) == ("too_large", 50.0, "MB")


def test_a_full_case_file_is_far_below_the_limit() -> None:
    """The largest demo case is less than a hundredth of what is read."""
    demo = Path(__file__).parents[2] / "src/inseries/desk/demo/harbour-07.toml"
    assert demo.stat().st_size < LARGEST_BYTES / 100


def test_invalid_utf8(tmp_path: Path) -> None:
    """A byte that is no UTF-8 is refused with its line."""
    file = tmp_path / "latin.toml"
    file.write_bytes(b'[case]\nid = "x"\n# K\xf6ln\n')
    error = _refusal(file)
    assert (error.code, error.where) == ("not_utf8", "latin.toml, line 3")


def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    """A named pipe, which would block for ever, is refused."""
    os.mkfifo(tmp_path / "pipe")
    assert _refusal(tmp_path / "pipe").code == "not_a_file"
