"""The verbs ``new`` and ``check``."""

from __future__ import annotations

import json
import stat
from typing import TYPE_CHECKING

import pytest

from inseries.base.errors import OutputError
from inseries.case import read_case
from inseries.desk.record import CheckResult, NewResult, check, new
from inseries.desk.sizes import sizes

if TYPE_CHECKING:
    from pathlib import Path

CASE = '[case]\nid = "x"\nborn = 2026-03-02T04:10\nsex = "female"\n[[readings]]\nage_h = 24\n'


def test_new_writes_for_its_owner_alone(tmp_path: Path) -> None:
    """A new case file is readable by its owner only, and is a case named after the file."""
    target = tmp_path / "bay-02.toml"
    answer = new(out_path=target)
    assert stat.S_IMODE(target.stat().st_mode) == 0o600
    assert read_case(target).id == "bay-02"
    assert str(tmp_path) not in answer.to_json()


def test_new_does_not_overwrite(tmp_path: Path) -> None:
    """An existing file is refused and stays as it was, unless replacing is allowed."""
    target = tmp_path / "bay-02.toml"
    target.write_text("mine", encoding="utf-8")
    with pytest.raises(OutputError):
        new(out_path=target)
    assert target.read_text(encoding="utf-8") == "mine"
    new(out_path=target, replace=True)
    assert read_case(target).id == "bay-02"


def test_new_without_a_file_gives_the_text() -> None:
    """Without a file the text itself is the answer."""
    result = new().result
    assert isinstance(result, NewResult)
    assert result.written is None
    assert result.shown().picture == result.skeleton


def test_check_answers_with_ages() -> None:
    """The answer names the case and holds no date, as JSON and in the terminal."""
    answer = check(CASE + "weight_kg = 3.3\nlength_cm = 50\n")
    told = answer.to_json()
    assert answer.case_id == "x"
    assert "2026" not in told
    assert json.loads(told)["result"]["age_days"] == 1
    assert isinstance(answer.result, CheckResult)
    assert "2026" not in repr(answer.result.shown())


def test_a_size_has_a_z_or_a_reason() -> None:
    """A size has a Z with its reference, or says why it has none."""
    text = CASE + "weight_kg = 3.3\nlength_cm = 50\nlv_mass_g = 8\naortic_annulus_mm = 7\n"
    by_name = {s.name: s for s in sizes(read_case(text + 'lv_mass_method = "echo-2d"\n'))}
    assert by_name["lv_mass_g"].reference == "lopez2017"
    assert by_name["aortic_annulus_mm"].reason == "no method is stated"
    assert all((s.z is None) == (s.reason is not None) for s in by_name.values())
    assert all((s.z is None) == (s.reference is None) for s in by_name.values())


def test_one_mass_by_echo_and_by_cmr_is_scored_by_its_own_reference() -> None:
    """6 g is low by echo and usual by CMR: each method has its own reference."""
    text = CASE + "weight_kg = 3.4\nlength_cm = 50\nlv_mass_g = 6\nlv_mass_method = "
    echo, cmr = (
        next(s for s in sizes(read_case(text + f'"{m}"\n')) if s.name == "lv_mass_g")
        for m in ("echo-2d", "cmr")
    )
    assert (echo.reference, cmr.reference) == ("lopez2017", "jhaveri2023")
    assert echo.z is not None
    assert cmr.z is not None
    assert echo.z < -1 < 0 < cmr.z < 1


def test_further_references_stand_beside_the_first() -> None:
    """A pulmonary annulus is told by five references, and those read second hand are named."""
    text = CASE + "weight_kg = 3.3\nlength_cm = 50\npulmonary_annulus_mm = 9\n"
    answer = check(text + 'pulmonary_annulus_method = "echo-2d"\n')
    assert isinstance(answer.result, CheckResult)
    size = next(s for s in answer.result.sizes if s.name == "pulmonary_annulus_mm")
    assert size.reference == "lopez2017"
    assert [other.reference for other in size.others] == [
        "cantinotti2014",
        "cantinotti2017",
        "pettersen2008",
        "daubeney1999",
    ]
    told = str(answer.result.shown().tables[0].rows)
    assert "4 more: " in told
    assert "Daubeney 1999" in told
    assert any("open calculator" in caution.text for caution in answer.cautions)
    assert set(answer.sources) >= {"lopez2017", "daubeney1999"}


def test_a_neo_aortic_root_is_scored_as_a_root_and_says_so() -> None:
    """At sixteen years a neo-aorta has a child's and an adult's answer against normal roots."""
    text = CASE.replace("age_h = 24", "age_h = 141600")
    text += "weight_kg = 68\nlength_cm = 177\nneoaortic_root_mm = 38\n"
    answer = check(text + 'neoaortic_root_method = "echo-2d"\n')
    assert isinstance(answer.result, CheckResult)
    size = next(s for s in answer.result.sizes if s.name == "neoaortic_root_mm")
    assert size.reference == "lopez2017"
    assert "devereux2012" in {other.reference for other in size.others}
    assert any("normal aortic roots" in caution.text for caution in answer.cautions)
