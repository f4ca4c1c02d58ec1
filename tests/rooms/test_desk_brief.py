"""The brief and the demo, from computed answers: words, pages, privacy, no network."""

from __future__ import annotations

import io
import stat
from typing import TYPE_CHECKING

import pytest
from pypdf import PdfReader
from rooms.paper import letters_in_pictures

from inseries.base.errors import OutputError
from inseries.brief.headings import HEADINGS
from inseries.brief.pages import brief_sense
from inseries.brief.sense import clinical_sense
from inseries.brief.team import team_brief_pdf
from inseries.desk import write_brief as written
from inseries.desk.brief_view import team_brief
from inseries.desk.demonstration import INVENTED, DemoResult, demo_case

if TYPE_CHECKING:
    from pathlib import Path

    from rooms.conftest import Asked, Shown

CASES = pytest.mark.parametrize("name", ["harbour", "ridge", "tight", "thin"])


@pytest.fixture
def asked(name: str, request: pytest.FixtureRequest) -> Asked:
    """One of the invented babies."""
    return request.getfixturevalue(name)


def _pages_of(pdf: bytes) -> list[str]:
    """The words of each page, with single spaces."""
    return [" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(pdf)).pages]


def _pages(file: Path) -> list[str]:
    return [page.extract_text() for page in PdfReader(file).pages]


@CASES
def test_a_computed_brief_makes_clinical_sense(asked: Asked) -> None:
    """Every rule for readers holds on the record that the answers give."""
    assert brief_sense(team_brief(asked.case, asked.answer, asked.window, asked.now)) == []


@CASES
def test_a_computed_brief_fits_its_pages(asked: Asked, tmp_path: Path) -> None:
    """Whatever the baby: urgency on the first page, the window with its company on the second.

    In an emergency no window is printed, the second page says why, and there is no third.
    """
    pdf = team_brief_pdf(team_brief(asked.case, asked.answer, asked.window, asked.now))
    file = tmp_path / "brief.pdf"
    file.write_bytes(pdf)
    first, second, *rest = _pages(file)
    assert asked.now.urgency.headline.split(":")[0] in " ".join(first.split())
    emergency = asked.now.urgency.level == "emergency"
    assert ("survivable" in second.lower()) is not emergency
    assert ("No window is printed" in " ".join(second.split())) is emergency
    assert len(rest) == (0 if emergency else 1)


def test_what_would_move_it_stands_on_the_page_of_the_window(harbour: Asked) -> None:
    """Each change is printed with its days, and with its harm, beside the cost of waiting."""
    view = team_brief(harbour.case, harbour.answer, harbour.window, harbour.now)
    second = _pages_of(team_brief_pdf(view))[1]
    assert view.window is not None
    assert len(view.window.moves) == len(harbour.window.what_would_move) >= 3
    for words in [HEADINGS["moves"], HEADINGS["cost"], HEADINGS["limits"]]:
        assert words in second
    for move in view.window.moves:
        assert move.change in second
        assert move.harm.split(".")[0] in second


def test_letters_of_the_computed_window_can_be_read(harbour: Asked) -> None:
    """However much stands on its page, the picture of the window keeps letters of 6.5 points."""
    pdf = team_brief_pdf(team_brief(harbour.case, harbour.answer, harbour.window, harbour.now))
    assert min(letters_in_pictures(PdfReader(io.BytesIO(pdf)).pages[1])) >= 6.5


def test_the_paper_itself_makes_clinical_sense(demo_shown: Shown) -> None:
    """The words as printed keep every rule, page by page."""
    assert clinical_sense("\f".join(_pages(demo_shown.brief))) == []


def test_the_brief_is_its_owners_alone_and_not_replaced(
    harbour: Asked, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Mode 0600; an existing file is refused and stays; the answer names no folder."""
    told = (harbour.answer, harbour.window, harbour.now)
    monkeypatch.setattr(written, "answered", lambda *_a, **_k: told)
    file = tmp_path / "mine.pdf"
    answer = written.write_brief(harbour.case, out_path=file)
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert str(tmp_path) not in answer.to_json()
    assert "mine.pdf" in answer.to_json()
    kept = file.read_bytes()
    with pytest.raises(OutputError):
        written.write_brief(harbour.case, out_path=file)
    assert file.read_bytes() == kept


def test_no_page_holds_a_date_or_a_day_of_birth(demo_shown: Shown) -> None:
    """The case is dated; its brief and its answer hold ages only."""
    born = demo_case().born
    assert born is not None
    text = "".join(_pages(demo_shown.brief)) + demo_shown.answer.to_json()
    assert born.strftime("%Y-%m-%d") not in text
    assert "2026-0" not in text


def test_the_demo_runs_without_a_network(demo_shown: Shown) -> None:
    """With sockets blocked it tells the record, the window, the emergency, and writes the brief."""
    result = demo_shown.answer.result
    assert isinstance(result, DemoResult)
    assert result.invented == INVENTED
    assert result.emergency.level == "emergency"
    assert result.written == demo_shown.brief.name
    pages = _pages(demo_shown.brief)
    assert "How will the pieces fit?" in pages[3]
    assert stat.S_IMODE(demo_shown.brief.stat().st_mode) == 0o600


def test_the_demo_says_first_that_it_is_invented(demo_shown: Shown) -> None:
    """The first sentence is that no such child exists; the window has its company."""
    result = demo_shown.answer.result
    assert isinstance(result, DemoResult)
    shown = result.shown()
    assert shown.sentences[0] == INVENTED
    titles = [table.title for table in shown.tables]
    assert any("waiting costs" in title for title in titles)
