"""The verb ``outlook``: its names, words, tables, page, later readings, refusals."""

from __future__ import annotations

import json
from functools import cache
from typing import TYPE_CHECKING

import pytest
from pypdf import PdfReader
from rooms.prior_samples import ANATOMY, baby_case, event, reading

from inseries.base.errors import OutputError, RouteNotPossible
from inseries.base.sources import bibliography
from inseries.brief.wording import wording_sense
from inseries.cli.screen import screen_text
from inseries.desk import outlook, outlook_told
from inseries.desk.demonstration import demo_case
from inseries.desk.outlook import look_ahead
from inseries.desk.outlook_result import OutlookResult
from inseries.desk.repair import plan_repair
from inseries.desk.repair_result import RepairResult

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from inseries.case import Case
    from inseries.desk.answer import Answer

FEW = 40  # chosen: enough draws for an interval, few enough for a test
REPAIRS = ("direct", "autologous_fresh", "autologous_fixed", "xenograft_or_synthetic")
SWITCHED = (event(200, "switch"), reading(24 * 365, weight_kg=9.4))


@pytest.fixture(scope="module", autouse=True)
def few_run_in_the_circuit() -> Iterator[None]:
    """Four draws of each repair run in the whole circuit: names and words need no more."""
    with pytest.MonkeyPatch.context() as patch:
        for module in (outlook, outlook_told):
            patch.setattr(module, "CIRCUIT_DRAWS", 4)
        yield


@cache
def _answer() -> Answer:
    return look_ahead(demo_case("harbour-07"), draws=FEW, seed=1)


def _result(answer: Answer) -> OutlookResult:
    assert isinstance(answer.result, OutlookResult)
    return answer.result


def _after(*more: str) -> Case:
    return baby_case(*SWITCHED, *more, anatomy=ANATOMY)


# ---- shape --------------------------------------------------------------------------------------


def test_every_promised_name_is_there() -> None:
    """Ages, gradients by repair, ratio, root, Z, reserve and published stand under their names."""
    told = json.loads(_answer().to_json())["result"]
    by_repair = told["pulmonary_gradient_mmhg"]
    assert set(by_repair) == set(REPAIRS)
    for name in REPAIRS:
        assert len(by_repair[name]) == len(told["ages_y"])
        assert set(by_repair[name][0]) == {"value", "low", "high", "unit"}
        assert len(told["rv_lv_systolic_pressure_ratio"][name]) == len(told["circuit_ages_y"])
    names = {"root_mm", "root_z", "coronary_flow_reserve", "published"}
    assert names <= set(told)
    assert told["ages_y"][-1] == 40.0


def test_it_says_what_why_and_how_sure() -> None:
    """Urgency, then three paragraphs that break no rule of wording."""
    result = _result(_answer())
    told = json.loads(_answer().to_json())["result"]
    assert [told[name] for name in ("what", "why", "how_sure")] == list(result.sentences)
    assert "disagree" in result.sentences[0]
    assert "pulled" in result.sentences[1]
    assert "14 to 17 children" in result.sentences[2]
    assert screen_text(_answer(), colour=False).startswith(result.urgency.level.upper())
    for words in (*result.sentences, *(caution.text for caution in _answer().cautions)):
        assert wording_sense(words) == []


def test_it_starts_where_the_repair_ends() -> None:
    """Same baby, same day: patch and gap of the outlook's own draws are those of the repair."""
    ahead = look_ahead(demo_case("meadow-11"), seed=1).result
    fits = plan_repair(demo_case("meadow-11"), seed=1).result
    assert isinstance(ahead, OutlookResult)
    assert isinstance(fits, RepairResult)
    holes = next(site for site in fits.sites if site.name.startswith("root"))
    patched = [each.patch_share for each in ahead.repairs if each.patch_share > 0.0]
    assert patched == pytest.approx([holes.inert_share.value] * 3, abs=0.03)
    assert ahead.tension.gap_mm.value == pytest.approx(fits.gap_mm.value, abs=0.5)


def test_the_terminal_stays_within_its_columns() -> None:
    """No line is wider than 80 columns."""
    assert max(map(len, screen_text(_answer(), colour=False).splitlines())) <= 80


def test_the_same_seed_gives_the_same_answer() -> None:
    """Draws are keyed by case and seed."""
    again = look_ahead(demo_case("harbour-07"), draws=FEW, seed=1)
    assert again.to_json() == _answer().to_json()


# ---- what stands beside -------------------------------------------------------------------------


def test_the_root_is_never_averaged() -> None:
    """Three courses, each with its source and population, and both tables of Z."""
    result = _result(_answer())
    assert len({each.growth for each in result.root_mm}) == 3
    for each in result.root_mm:
        assert each.in_whom
        assert set(each.sources) <= set(bibliography())
    assert {each.reference for each in result.root_z} == {"lopez2017", "devereux2012"}


def test_a_leak_is_published_only() -> None:
    """No share of a leak is simulated: every point of it is a published series' own."""
    result = _result(_answer())
    assert {each.source for each in result.leak} == {"schwartz2004", "neoaorta_growth2019"}
    assert not any("leak" in field or "regurg" in field for field in _simulated(result))


def _simulated(result: OutlookResult) -> set[str]:
    told = json.loads(_answer().to_json())["result"]
    return {name for name in told if name not in {"leak", "published", "published_rows"}} - {
        "sentences"
    }


def test_published_series_say_who_is_counted() -> None:
    """Each published curve and row has a population, a denominator and a listed source."""
    result = _result(_answer())
    assert len(result.published) >= 8
    assert len(result.published_rows) >= 12
    for each in (*result.published, *result.published_rows):
        assert each.in_whom
        assert each.denominator
        assert each.source in bibliography()


def test_shares_above_a_limit_fall_with_the_limit() -> None:
    """36 is crossed at least as often as 50, and that as 64, by every age."""
    by = {(c.repair, c.limit_mmhg): c.site_or_branch for c in _result(_answer()).crosses}
    for repair in REPAIRS:
        for a, b, c in zip(*(by[repair, limit] for limit in (36.0, 50.0, 64.0)), strict=True):
            assert a >= b >= c


def test_one_picture_shows_both_failures() -> None:
    """The inert ring fails at five years, so does the join under tension; a slack one does not."""
    rows = {row.name: row for row in _result(_answer()).picture.rows}
    limit = _result(_answer()).picture.limit_mmhg
    five = _result(_answer()).picture.columns.index("5 y")
    ring = rows["Whole ring that cannot grow"].rings
    assert round(ring[five].gradient_mmhg) >= limit > ring[five - 1].gradient_mmhg
    assert rows["Direct join under tension"].rings[five].gradient_mmhg > limit
    assert rows["Direct join"].rings[five].gradient_mmhg < limit


# ---- options and later readings -----------------------------------------------------------------


def test_more_patch_and_a_gap_are_heard() -> None:
    """A larger share raises the gradient of inert material, a gap that of the direct join."""
    usual = _result(_answer())
    asked = _result(look_ahead(demo_case("harbour-07"), draws=FEW, patch_share=0.9, gap_mm=6.0))
    place = usual.place(18.0)
    for name in ("xenograft_or_synthetic", "direct"):
        before, after = (r.pulmonary_gradient_mmhg.of(name)[place].value for r in (usual, asked))
        assert after > before


def test_a_velocity_read_later_narrows() -> None:
    """After a switch 2.2 m/s at one year raises the middle of every repair at that age."""
    free = _result(look_ahead(_after(), draws=FEW))
    seen = _result(look_ahead(_after(reading(24 * 365 + 1, pulmonary_velocity_m_s=2.2)), draws=FEW))
    assert free.operated
    assert "pulmonary_velocity_m_s" in seen.measured
    place = free.place(1.0)
    for name in REPAIRS:
        before, after = (r.pulmonary_gradient_mmhg.of(name)[place].value for r in (free, seen))
        assert after > before


def test_a_root_read_later_narrows() -> None:
    """A root of 17.5 mm read at one year is near that in every course at that age."""
    seen = _result(look_ahead(_after(reading(24 * 365 + 1, neoaortic_root_mm=17.5)), draws=FEW))
    place = seen.place(1.0)
    for each in seen.root_mm:
        assert each.mm[place].value == pytest.approx(17.5, abs=0.8)


# ---- page and refusals --------------------------------------------------------------------------


def test_the_page_is_written_for_its_owner_only(tmp_path: Path) -> None:
    """A PDF with urgency, title, published frame and cautions, mode 0600, not overwritten."""
    target = tmp_path / "ahead.pdf"
    answer = look_ahead(_after(), draws=8, page_path=target)
    assert _result(answer).page == "ahead.pdf"
    assert target.stat().st_mode & 0o777 == 0o600
    text = " ".join(" ".join(page.extract_text().split()) for page in PdfReader(target).pages)
    for words in ("What will grow, and what will not?", "PUBLISHED", "decision aid", "at the next"):
        assert words in text
    with pytest.raises(OutputError):
        look_ahead(_after(), draws=8, page_path=target)


@pytest.mark.parametrize(
    ("names", "code"),
    [
        ({"patch_share": 1.5}, "share_out_of_bounds"),
        ({"gap_mm": -2.0}, "gap_out_of_bounds"),
        ({"switch_day": 9000.0}, "age_out_of_bounds"),
    ],
)
def test_what_cannot_be_is_refused(names: dict[str, float], code: str) -> None:
    """Share, gap and age outside their bounds are refused before anything is computed."""
    with pytest.raises(RouteNotPossible) as refused:
        look_ahead(demo_case("harbour-07"), draws=4, **names)  # type: ignore[arg-type]
    assert refused.value.code == code


def test_an_atrial_switch_has_no_outlook() -> None:
    """It is sent to the routes, which have its published series."""
    with pytest.raises(RouteNotPossible) as refused:
        look_ahead(baby_case(event(200, "atrial_switch")), draws=4)
    assert refused.value.code == "after_atrial_switch"
