"""The verb ``repair``: its shape, its sizes, averaged readings, paper, drawing, refusals."""

from __future__ import annotations

import json
from dataclasses import replace
from io import StringIO
from typing import TYPE_CHECKING

import ezdxf
import numpy as np
import pytest
from click.testing import CliRunner
from pypdf import PdfReader
from rooms.paper import stroked_boxes_mm

from inseries.brief.wording import wording_sense
from inseries.case.scalars import LEIDEN
from inseries.cli.main import main
from inseries.cli.screen import screen_text
from inseries.desk import repair as asked_for
from inseries.desk.demonstration import demo_case
from inseries.desk.repair_plan import plan_of
from inseries.desk.repair_result import RepairResult
from inseries.desk.repair_told import shares_of
from inseries.desk.urgency import Urgency
from inseries.draw.patch_dxf import patch_dxf
from inseries.draw.repair_view import repair_svg
from inseries.repair import Button, FirstCourse, search, two_roots
from inseries.repair.leiden import all_patterns

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from inseries.case import Case
    from inseries.desk.answer import Answer

FEW = 32  # chosen: enough draws for an interval, few enough for a test
MEASURED, UNMEASURED = "harbour-07", "meadow-11"
CALM = Urgency(level="planned", hours=48.0, headline="Not asked in these tests", why=("None.",))


@pytest.fixture(scope="module", autouse=True)
def today_is_not_computed() -> Iterator[None]:
    """Urgency is proven elsewhere; here it would only cost a circuit for each answer."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(asked_for, "urgency_now", lambda _record, _seed: CALM)
        yield


def _changed(name: str, **anatomy: object) -> Case:
    case = demo_case(name)
    return replace(case, anatomy=replace(case.anatomy, **anatomy))  # type: ignore[arg-type]


def _asked(case: Case | None = None, **names: object) -> Answer:
    record = demo_case(MEASURED) if case is None else case
    return asked_for.plan_repair(record, draws=FEW, seed=1, **names)  # type: ignore[arg-type]


def _result(answer: Answer) -> RepairResult:
    assert isinstance(answer.result, RepairResult)
    return answer.result


@pytest.fixture(scope="module")
def usual() -> Answer:
    """The baby whose roots were measured."""
    return _asked()


@pytest.fixture(scope="module")
def unusual() -> RepairResult:
    """A pattern called unusual by echo, commissures misaligned to a side that is not recorded."""
    case = _changed(
        MEASURED,
        coronary="1L-2RCx",
        coronary_certainty="uncertain",
        coronary_commissures="minor-misalignment",
    )
    return _result(_asked(case))


def test_the_promised_names_are_estimates_with_their_interval(usual: Answer) -> None:
    """Buttons, ratio, gap, tension and patch stand under their published names."""
    told = json.loads(usual.to_json())["result"]
    assert {each["artery"] for each in told["buttons"]} == {"LCx", "R"}
    estimates = [
        *(each[name] for each in told["buttons"]
          for name in ("path_mm", "rotation_deg", "stretch_pct")),
        *(told[name] for name in ("mismatch_ratio", "gap_mm", "direct_tension")),
        told["patch"]["area_mm2"],
    ]  # fmt: skip
    for each in estimates:
        assert each["low"] <= each["value"] <= each["high"]
    assert len(told["patch"]["outline_mm"]) > 100
    assert all("concern" in each for each in told["buttons"])


def test_each_button_is_searched_over_a_hundred_thousand_places(usual: Answer) -> None:
    """The work of the search is a count, and it is told."""
    assert {each.positions for each in _result(usual).buttons} == {100_000}


def test_the_same_seed_gives_the_same_words(usual: Answer) -> None:
    """Two answers with one seed are the same text."""
    assert _asked().to_json() == usual.to_json()


def test_sizes_say_whether_they_were_measured(usual: Answer) -> None:
    """No size is defaulted in silence: each says how it is known."""
    seen = {size.name: size.basis for size in _result(usual).sizes}
    assert seen["pulmonary_root_mm"] == "measured"
    assert seen["ascending_aorta_mm"] == "scaled from what was measured"
    assert seen["branch_length_mm"] == "chosen"
    expected = plan_of(demo_case(UNMEASURED)).sizes
    assert {size.basis for size in expected.values()} == {"expected for this size"}


def test_a_measured_error_replaces_the_usual_one() -> None:
    """The case's own standard deviation of a root sets the interval of that root."""
    case = demo_case(MEASURED)
    surer = replace(
        case,
        readings=tuple(
            replace(
                each,
                values=tuple(
                    replace(v, sd=0.1) if v.key == "pulmonary_root_mm" else v for v in each.values
                ),
            )
            for each in case.readings
        ),
    )
    assert plan_of(case).doubt.new_share == pytest.approx(0.6 / 11.8)
    assert plan_of(surer).doubt.new_share == pytest.approx(0.1 / 11.8)


def test_an_uncertain_pattern_is_averaged_over_what_it_may_be(unusual: RepairResult) -> None:
    """Both readings are told with weights that sum to one; both sides of the roots are averaged."""
    assert [each.code for each in unusual.readings] == ["1L-2RCx", "1LCx-2R"]
    assert sum(each.weight for each in unusual.readings) == pytest.approx(1.0)
    # By hand: the call holds in 7 of 17, and the usual pattern is 0.722/0.820 of the others.
    share = (7 / 17) / (7 / 17 + 10 / 17 * 0.722 / 0.820)
    assert unusual.readings[0].weight == pytest.approx(share)
    assert [each.code_after for each in unusual.readings] == ["1RCx-2L", "1R-2LCx"]
    said = " ".join(unusual.sentences)
    assert "averaged in are 1LCx-2R" in said


def test_draws_go_to_readings_by_their_weight() -> None:
    """No reading is left without a draw and none is invented."""
    plan = plan_of(_changed(MEASURED, coronary="1RLCx", coronary_certainty="uncertain"))
    found = asked_for.readings_of(plan)
    counts = shares_of(found, 100)
    assert sum(counts) == 100
    assert min(counts) >= 1
    assert counts[0] == pytest.approx(100 * found[0].weight / sum(f.weight for f in found), abs=2)


def test_an_artery_in_the_wall_has_no_simple_button() -> None:
    """The rest is still told, the button is named without a path, and the risk stands beside."""
    told = _result(_asked(_changed(MEASURED, coronary_intramural=True)))
    left = next(each for each in told.buttons if each.artery == "LCx")
    assert left.path_mm is None
    assert "no simple button" in left.concern[0]
    assert told.code_after is None
    assert "intramural_coronary" in {row.id for row in told.published}
    assert told.patches


def test_a_single_coronary_leaves_one_hole() -> None:
    """One button, one piece, and no patch in two legs."""
    told = _result(_asked(coronary="2RLCx"))
    assert len(told.buttons) == len(told.patches) == 1
    assert told.one_piece_refused
    assert "single_coronary" in {row.id for row in told.published}


def test_arteries_side_by_side_are_joined_beside() -> None:
    """The usual way follows from where the aorta lies."""
    assert _result(_asked(relation_deg=20.0)).way == "Lecompte"
    assert "side by side" in _result(_asked(relation_deg=90.0)).way


def test_a_measured_gap_is_taken_as_it_is() -> None:
    """A gap from the table replaces the computed one; more of it pulls more."""
    small, large = (_result(_asked(gap_mm=gap)) for gap in (1.0, 4.0))
    assert large.gap_mm.low == large.gap_mm.high == 4.0
    assert large.direct_tension.value > small.direct_tension.value > 0.0
    assert large.ways[0].branch_area_pct.value < small.ways[0].branch_area_pct.value
    assert large.patch.area_mm2.value > small.patch.area_mm2.value


def test_sites_carry_what_an_outlook_starts_from(usual: Answer) -> None:
    """Inert share by hand: openings and rims over the root's girth; none when direct."""
    told = _result(usual)
    root, direct = told.sites[0], told.sites[-1]
    widths = sum(each.opening_mm + 5.0 for each in told.buttons)
    by_hand = widths / (np.pi * root.diameter_mm.value)
    assert root.inert_share.value == pytest.approx(by_hand, rel=0.02)
    assert direct.inert_share.value == 0.0
    assert direct.tension == told.direct_tension


def test_words_keep_clinical_sense(usual: Answer, unusual: RepairResult) -> None:
    """What, why, how sure break no rule of wording, and the screen stays within its columns."""
    written = json.loads(usual.to_json())["result"]
    three = [written[name] for name in ("what", "why", "how_sure")]
    assert three == list(_result(usual).sentences)
    assert all(three)
    for words in (*_result(usual).sentences, *unusual.sentences):
        assert not wording_sense(words)
    shown = screen_text(usual, colour=False)
    assert max(len(line) for line in shown.splitlines()) <= 80
    assert "Planning only" in shown
    assert "17 of 125" in shown


def test_both_pictures_are_in_one_scale_and_say_from_where(usual: Answer) -> None:
    """Two bars of one length, and both viewpoints in words."""
    svg = repair_svg(_result(usual).picture)
    assert svg.count(">5 mm<") == 2
    assert "Seen from the feet" in svg
    assert "from the patient" in svg


def test_the_printed_scale_is_exact(tmp_path: Path) -> None:
    """In the PDF itself the square is 20 mm, the bar 50 mm, the cut line as told, within 0.2 mm."""
    target = tmp_path / "patch.pdf"
    told = _result(_asked(patch_path=target))
    assert target.stat().st_mode & 0o777 == 0o600
    boxes = stroked_boxes_mm(PdfReader(target).pages[0])
    assert any(abs(w - 20.0) < 0.2 and abs(h - 20.0) < 0.2 for w, h in boxes)
    assert any(abs(w - 50.0) < 0.2 for w, _ in boxes)
    for piece in told.patches:
        wide, high = np.ptp(np.array(piece.outline_mm), axis=0)
        assert any(abs(w - wide) < 0.2 and abs(h - high) < 0.2 for w, h in boxes), piece.name


def test_the_drawing_read_again_is_the_outline(usual: Answer) -> None:
    """DXF in millimetres, layers by name; every cut line is the told outline, moved."""
    told = _result(usual)
    content = patch_dxf(told.sheet)
    assert content == patch_dxf(told.sheet)
    document = ezdxf.read(StringIO(content.decode()))
    assert document.units == ezdxf.units.MM
    space = document.modelspace()
    for layer, line in (("CUT", "outline_mm"), ("SUTURE", "stitch_mm")):
        drawn = space.query(f'LWPOLYLINE[layer=="{layer}"]')
        assert len(drawn) == len(told.patches)
        for entity, piece in zip(drawn, told.patches, strict=True):
            points = np.array([(x, y) for x, y, *_ in entity])
            wanted = np.array(getattr(piece, line)[:-1])
            assert entity.closed
            moved = points - points[0] + wanted[0]
            assert np.abs(moved - wanted).max() < 1e-6
    assert len(space.query('LWPOLYLINE[layer=="MARKS"]')) == 2 + len(told.patches)
    words = " ".join(text.dxf.text for text in space.query('TEXT[layer=="LETTERING"]'))
    assert "Planning only, trim in theatre." in words


def test_the_page_is_written_and_private(tmp_path: Path) -> None:
    """One page file that says what it knows and what it was drawn from."""
    target = tmp_path / "repair.pdf"
    told = _result(_asked(page_path=target))
    assert told.page == "repair.pdf"
    text = "".join(page.extract_text() for page in PdfReader(target).pages)
    assert "How will the pieces fit?" in text
    assert "expected" in text or "scaled" in text


def test_a_whole_search_is_its_own_mirror_image() -> None:
    """Mirrored roots and a mirrored button land at the mirrored place, at the same cost."""
    found = []
    for sign in (1.0, -1.0):
        roots = two_roots(aortic_mm=9.6, pulmonary_mm=11.5, relation_deg=sign * 30.0)
        mirrored = Button(
            arteries=("R",),
            angle_deg=sign * -120.0,
            height_mm=6.0,
            diameter_mm=1.0,
            course=FirstCourse.USUAL,
            leaves_deg=sign * -110.0,
            mobilised_mm=5.5,
        )
        found.append(search(mirrored, roots))
    right, left = found
    assert left.best.angle_deg == pytest.approx(-right.best.angle_deg, abs=1e-6)
    assert left.best.height_mm == pytest.approx(right.best.height_mm)
    assert left.best.cost == pytest.approx(right.best.cost, rel=1e-4)
    assert (left.flat_deg, left.flat_mm) == pytest.approx((right.flat_deg, right.flat_mm))


@pytest.mark.parametrize(
    ("words", "code", "named"),
    [
        (["--opening", "L=170"], "outside_sinus", "170"),
        (["--opening", "D1=40"], "no_artery", "D1"),
        (["--coronary", "1LX-2R"], "not_leiden", "1LCx-2R"),
        (["--root-gap-mm", "-1"], "roots_overlap", "-1"),
        (["--gap-mm", "-2"], "gap_negative", "-2"),
        (["--relation-deg", "400"], "relation_outside", "400"),
        (["--draws", "3"], "few_draws", "3"),
    ],
)
def test_what_cannot_be_is_refused_with_its_reason(
    words: list[str], code: str, named: str, tmp_path: Path
) -> None:
    """Through the command: exit code 1, a code, the value, and what to try."""
    case = tmp_path / "case.toml"
    case.write_text(_source(MEASURED))
    done = CliRunner().invoke(main, ["repair", str(case), *words, "--json"])
    assert done.exit_code == 1, done.output
    refused = json.loads(done.stdout)["refused"]
    assert refused["code"] == code
    assert named in f"{refused['value']} {refused['try']}"
    assert refused["try"]


def test_a_code_in_the_case_that_is_none_names_the_nearest(tmp_path: Path) -> None:
    """Read from the file, too, a slip of the code is refused with what was probably meant."""
    case = tmp_path / "case.toml"
    case.write_text(_source(MEASURED).replace('"1LCx-2R"', '"1L-2RCX"'))
    done = CliRunner().invoke(main, ["repair", str(case), "--json"])
    assert done.exit_code == 1
    refused = json.loads(done.stdout)["refused"]
    assert "1L-2RCX" in refused["value"]
    assert "1L-2RCx" in refused["try"]


def test_the_codes_of_the_case_are_those_of_the_repair() -> None:
    """The list that a slip is compared with is the list of all patterns."""
    assert set(LEIDEN) == {each.code for each in all_patterns()}


def _source(name: str) -> str:
    from importlib.resources import files

    return files("inseries.desk").joinpath("demo", f"{name}.toml").read_text(encoding="utf-8")


def test_no_pattern_no_buttons() -> None:
    """A case without a coronary code is refused, naming how to give one."""
    from inseries.base.errors import CaseError

    with pytest.raises(CaseError) as refusal:
        _asked(_changed(MEASURED, coronary=None))
    assert refusal.value.code == "no_coronary"
