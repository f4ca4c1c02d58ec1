"""The team brief on paper: tagged pages that say what they must and nothing they must not."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from importlib.resources import files
from typing import TYPE_CHECKING
from xml.etree import ElementTree

import pytest
from pypdf import PdfReader
from rooms.brief_sample import BRIEF, CURVE, TIGHT, WINDOW
from rooms.paper import letters_in_pictures

from inseries.base.errors import OutputError
from inseries.brief import setting
from inseries.brief.headings import HEADINGS, STANDING
from inseries.brief.pages import brief_sense, brief_text
from inseries.brief.team import team_brief_pdf

if TYPE_CHECKING:
    from pathlib import Path

    from inseries.brief.view import Picture, TeamBrief


@pytest.fixture(scope="module")
def printed() -> bytes:
    """The brief of the invented baby."""
    return team_brief_pdf(BRIEF)


def pages(pdf: bytes) -> list[str]:
    """The words of each page, with single spaces."""
    return [" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(pdf)).pages]


def picture_lines(picture: Picture) -> set[str]:
    """Words inside a picture or spoken for it: not part of the page's own text."""
    return {" ".join(text.split()) for text in ElementTree.fromstring(picture.svg).itertext()} | {
        picture.alt
    }


def rules(view: TeamBrief) -> set[str]:
    """The names of the rules a brief breaks."""
    return {violation.rule for violation in brief_sense(view)}


def test_three_pages_of_a4(printed: bytes) -> None:
    """The invented baby fits on three A4 pages: today, the window, what stands beside."""
    reader = PdfReader(io.BytesIO(printed))
    assert len(reader.pages) == 3
    assert [round(float(side)) for side in reader.pages[0].mediabox[2:]] == [595, 842]


def test_every_page_says_whose_brief_it_is_and_what_it_is_not(printed: bytes) -> None:
    """Case, age, page number and the standing caution are on every page."""
    for number, words in enumerate(pages(printed), start=1):
        assert STANDING in words
        assert "case harbour-07" in words
        assert "9 days old" in words
        assert f"page {number} of 3" in words


def test_every_required_part_is_on_its_page(printed: bytes) -> None:
    """Today first; the window with cost, limits and changes; then series, doubts, sources."""
    first, second, third = pages(printed)
    for key in ("baby", "loops", "upper", "lower", "panel", "what_if_gain", "what_if_harm"):
        assert HEADINGS[key] in first, key
    for key in ["suitability", "window", "cost", "limits", "drivers", "next", "moves"]:
        assert HEADINGS[key] in second, key
    for key in ["series", "rule", "published", "unknown", "cautions", "sources"]:
        assert HEADINGS[key] in third, key


def test_every_word_of_the_record_is_printed(printed: bytes) -> None:
    """Nothing is trimmed in silence: each line of the record is found on paper."""
    paper = re.sub(r"\W+", "", "".join(pages(printed)))
    drawn = {*picture_lines(BRIEF.loops.picture), *picture_lines(CURVE)}
    joined = r"[:,] |\n|\f|  +|\. Threshold| Threshold| (?=n = |selected|operated|PMID)"
    missing = [
        part
        for line in re.split(r"[\n\f]", brief_text(BRIEF))
        if line not in drawn
        for part in re.split(joined, line)
        if re.sub(r"\W+", "", part) not in paper
    ]
    assert missing == []


def test_urgency_stands_above_everything(printed: bytes) -> None:
    """The first words under the page's head are the urgency."""
    first = pages(printed)[0]
    assert first.index(BRIEF.urgency.hours) < first.index(HEADINGS["baby"])


def test_an_emergency_says_so_on_both_pages_before_any_forecast() -> None:
    """The word, not only the colour; and the second page sends the reader back."""
    first, second = pages(team_brief_pdf(TIGHT))[:2]
    assert first.count("EMERGENCY") == 2
    assert TIGHT.urgency.headline in first
    assert second.index(HEADINGS["emergency_first"]) < second.index(HEADINGS["window"])


def test_the_pdf_is_tagged_in_english_and_claims_ua_1(printed: bytes) -> None:
    """Marked content, language en-GB and the PDF/UA-1 mark are in the file."""
    reader = PdfReader(io.BytesIO(printed))
    root = reader.root_object
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en-GB"
    assert "/StructTreeRoot" in root
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert re.search(rb"pdfuaid:part>\s*1|pdfuaid:part=.1.", printed)


def test_pictures_carry_their_words(printed: bytes) -> None:
    """Both pictures are figures with an alternative text."""
    assert _alternatives(PdfReader(io.BytesIO(printed))) >= {BRIEF.loops.picture.alt, CURVE.alt}


@pytest.mark.parametrize("view", [BRIEF, TIGHT], ids=["urgent", "emergency"])
def test_letters_in_the_pictures_can_be_read_on_paper(view: TeamBrief) -> None:
    """Measured on both pages with pictures, no letter in them is smaller than 6.5 points."""
    for page in PdfReader(io.BytesIO(team_brief_pdf(view))).pages[:2]:
        assert min(letters_in_pictures(page)) >= 6.5


def test_a_picture_without_words_is_refused() -> None:
    """An empty alternative text stops the brief."""
    bare = replace(BRIEF, loops=replace(BRIEF.loops, picture=replace(CURVE, alt="")))
    with pytest.raises(OutputError) as refusal:
        team_brief_pdf(bare)
    assert refusal.value.code == "clinical_sense"


def test_a_broken_picture_is_refused_in_one_sentence() -> None:
    """A picture that is not whole never reaches the paper."""
    broken = replace(BRIEF, loops=replace(BRIEF.loops, picture=replace(CURVE, svg="<svg")))
    with pytest.raises(OutputError, match="not whole"):
        team_brief_pdf(broken)


def test_metadata_names_the_case_and_nobody(printed: bytes) -> None:
    """The title and the maker are there; no author, no moment, no folder."""
    found = PdfReader(io.BytesIO(printed)).metadata
    assert found is not None
    assert set(found) <= {"/Title", "/Creator", "/Producer"}
    assert found.title == "Brief for the team, case harbour-07"
    assert b"/Users/" not in printed
    assert b"/home/" not in printed
    assert not re.search(rb"CreateDate|ModifyDate|/CreationDate|/ModDate", printed)


def test_same_record_same_bytes(printed: bytes) -> None:
    """A second setting gives the same file."""
    assert team_brief_pdf(BRIEF) == printed


def test_words_are_never_run() -> None:
    """Markup and code in a user's words come out as those words."""
    hostile = '#[boo] *bold* _it_ $x^2$ `raw` "quoted" \\ @ref <tag> #panic("no") // gone'
    words = pages(team_brief_pdf(replace(BRIEF, baby=hostile)))[0]
    assert hostile in words


@pytest.mark.parametrize(
    "planted",
    ["Born 2026-03-02", "Seen 02.03.2026", "see /export/roe/baby.toml", "write to roe@example.org"],
)
def test_planted_identifiers_never_reach_paper(planted: str) -> None:
    """A date, a folder or an address in any words stops the brief."""
    for view in (
        replace(BRIEF, baby=f"{BRIEF.baby} {planted}."),
        replace(BRIEF, case_id=planted),
        replace(BRIEF, unknown=(*BRIEF.unknown, planted)),
        replace(BRIEF, run=f"{BRIEF.run}; {planted}"),
        replace(BRIEF, loops=replace(BRIEF.loops, picture=replace(CURVE, caption=planted))),
    ):
        with pytest.raises(OutputError) as refusal:
            team_brief_pdf(view)
        assert refusal.value.code == "clinical_sense"


def test_words_inside_a_picture_are_read_too() -> None:
    """A lone last day drawn into the curve is caught."""
    svg = CURVE.svg.replace(">this baby</text>", ">possible until day 31</text>")
    assert svg != CURVE.svg
    drawn = replace(BRIEF, window=replace(WINDOW, picture=replace(CURVE, svg=svg)))
    assert rules(drawn) == {"lone_last_day"}


def test_the_sample_breaks_no_rule() -> None:
    """Both invented babies pass."""
    assert brief_sense(BRIEF) == []
    assert brief_sense(TIGHT) == []


@pytest.mark.parametrize(
    ("rule", "view"),
    [
        ("cost_missing", replace(BRIEF, window=replace(WINDOW, cost_of_waiting=()))),
        ("limits_missing", replace(BRIEF, window=replace(WINDOW, other_limits=()))),
        ("published_missing", replace(BRIEF, window=replace(WINDOW, published=()))),
        ("window", replace(BRIEF, window_refused="no readings")),
        ("window", replace(BRIEF, window=None)),
        ("urgency", replace(BRIEF, urgency=replace(BRIEF.urgency, reasons=()))),
        ("unknown", replace(BRIEF, unknown=())),
        ("next", replace(BRIEF, next_measurements=())),
        ("harm_beside_gain", replace(BRIEF, what_if=(replace(BRIEF.what_if[0], harm=""),))),
        (
            "harm_beside_gain",
            replace(BRIEF, window=replace(WINDOW, moves=(replace(WINDOW.moves[0], harm=""),))),
        ),
        ("z", replace(BRIEF, panel=(replace(BRIEF.panel[0], z="", z_note=""),))),
        ("method", replace(BRIEF, panel=(replace(BRIEF.panel[0], method=""),))),
        (
            "threshold_without_population",
            replace(BRIEF, panel=(replace(BRIEF.panel[0], population=""),)),
        ),
        (
            "suitability",
            replace(
                BRIEF,
                suitability=replace(
                    BRIEF.suitability,
                    checks=(replace(BRIEF.suitability.checks[0], standing="not shown"),),
                ),
            ),
        ),
    ],
)
def test_what_must_stand_together_is_checked(rule: str, view: TeamBrief) -> None:
    """Taking away a part that must stand there breaks the rule, and nothing is printed."""
    assert rule in rules(view)
    with pytest.raises(OutputError):
        team_brief_pdf(view)


def test_a_refused_window_gives_its_reason() -> None:
    """Without a window the second page says why."""
    why = "The left outflow is not recorded, so no window is shown."
    second = pages(team_brief_pdf(replace(BRIEF, window=None, window_refused=why)))[1]
    assert why in second


def test_a_window_with_few_words_shares_its_page() -> None:
    """Without a window, or with a short one, two pages are enough."""
    why = "The left outflow is not recorded, so no window is shown."
    assert len(pages(team_brief_pdf(replace(BRIEF, window=None, window_refused=why)))) == 2


def test_sources_stand_on_the_third_page() -> None:
    """A long list of sources stays on the third page, whole."""
    many = tuple(f"Invented source number {number}, a journal, 2020" for number in range(70))
    words = pages(team_brief_pdf(replace(BRIEF, sources=many)))
    assert len(words) == 3
    assert HEADINGS["sources"] not in words[1]
    assert all(f"number {number}," in words[2] for number in range(70))


def test_a_missing_font_is_said_not_replaced(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Without the shipped letters the brief is refused; it is never set in others."""
    (tmp_path / "fonts").mkdir()
    monkeypatch.setattr(
        setting, "files", lambda room: tmp_path if room == "inseries.draw" else files(room)
    )
    with pytest.raises(OutputError, match="liberation sans") as refusal:
        team_brief_pdf(BRIEF)
    assert refusal.value.code == "brief_not_set"


def test_too_many_words_are_refused_not_cut() -> None:
    """A page that would overflow at the smallest type stops the brief."""
    with pytest.raises(OutputError) as refusal:
        team_brief_pdf(replace(BRIEF, unknown=BRIEF.unknown * 40))
    assert refusal.value.code == "brief_too_long"


def _alternatives(reader: PdfReader) -> set[str]:
    """Every alternative text in the tree of tags."""
    found: set[str] = set()
    todo = [reader.root_object["/StructTreeRoot"]]
    while todo:
        node = todo.pop().get_object()
        if isinstance(node, list):
            todo += [child for child in node if hasattr(child, "get_object")]
        elif isinstance(node, dict):
            found |= {str(node["/Alt"])} if "/Alt" in node else set()
            todo += [node["/K"]] if "/K" in node and hasattr(node["/K"], "get_object") else []
    return found
