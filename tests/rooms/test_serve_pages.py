"""What a page costs, in counts: nothing is read, laid out or rendered twice for the same thing."""

from __future__ import annotations

from typing import TYPE_CHECKING

import httpx
import pytest
from jinja2 import Template
from serving import Served, served

from inseries.case import read
from inseries.desk.shelf import Shelf, invented_text
from inseries.serve.files import edition
from inseries.serve.guard import Keys
from inseries.serve.pages import Desk

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

NAME = "harbour-07"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with one case."""
    (tmp_path / f"{NAME}.toml").write_text(invented_text(NAME), encoding="utf-8")
    return tmp_path


@pytest.fixture
def desk(folder: Path) -> Iterator[Desk]:
    """The pages of that folder, without a server."""
    made = Desk(Shelf.at(folder), Keys(port=1))
    yield made
    made.work.close()


class Counted:
    """What was read and rendered since it was last asked."""

    def __init__(self, patch: pytest.MonkeyPatch) -> None:
        self.rendered: list[str] = []
        self.read = 0
        render, case = Template.render, read._Reader.case  # pyright: ignore[reportPrivateUsage]

        def told(template: Template, *args: object, **given: object) -> str:
            self.rendered.append(str(template.name))
            return render(template, *args, **given)

        def opened(reader: read._Reader) -> object:  # pyright: ignore[reportPrivateUsage]
            self.read += 1
            return case(reader)

        patch.setattr(Template, "render", told)
        patch.setattr(read._Reader, "case", opened)  # pyright: ignore[reportPrivateUsage]

    def since(self) -> tuple[list[str], int]:
        """Names of templates, and how many case files were read."""
        found = self.rendered, self.read
        self.rendered, self.read = [], 0
        return found


@pytest.fixture
def counted(monkeypatch: pytest.MonkeyPatch) -> Counted:
    """A count of both."""
    return Counted(monkeypatch)


def test_an_unchanged_page_renders_nothing_anew(desk: Desk, counted: Counted) -> None:
    """The second time only frame and notes are filled: no field, table, picture, no case read."""
    first = desk.page(NAME, "check", {})
    every = {"editor.html", "part.html", "life.html", "notes.html", "page.html"}
    assert every == set(counted.since()[0])
    assert desk.page(NAME, "check", {}) == first
    assert counted.since() == (["notes.html", "page.html"], 0)


def test_an_edit_reads_the_new_file_once(desk: Desk, folder: Path, counted: Counted) -> None:
    """One change: the new state is read once and its fields are rendered once."""
    desk.page(NAME, "check", {})
    counted.since()
    desk.add(NAME, {"table": "readings", "age_h": "300", "key": "weight_kg", "value": "3.6"})
    assert counted.since() == (["editor.html"], 1)
    assert "weight_kg = 3.6" in (folder / f"{NAME}.toml").read_text(encoding="utf-8")


def test_a_file_changed_by_another_hand_is_seen(desk: Desk, folder: Path) -> None:
    """What is kept is kept by content, so an editor beside the desk is never overlooked."""
    before = desk.page(NAME, "check", {})
    path = folder / f"{NAME}.toml"
    path.write_text(path.read_text(encoding="utf-8").replace("7.9", "8.3"), encoding="utf-8")
    after = desk.page(NAME, "check", {})
    assert before != after
    assert 'value="8.3"' in after


@pytest.fixture(scope="module")
def running(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A desk that listens."""
    with served(tmp_path_factory.mktemp("cases")) as found:
        yield found


def test_packaged_files_are_kept_for_good(running: Served) -> None:
    """Each file a page names carries the edition in its address and need never be asked again."""
    with httpx.Client(base_url=running.home, trust_env=False) as browser:
        page = browser.get("/open", params={"start": running.keys.start}, follow_redirects=True)
        assert f'href="/static/{edition()}/desk.css"' in page.text
        kept = browser.get(f"/static/{edition()}/desk.css").headers["cache-control"]
        other = browser.get("/static/another/desk.css").headers["cache-control"]
    assert "immutable" in kept
    assert other == "no-cache"
