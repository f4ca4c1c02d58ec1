"""The command that opens the desk, and a desk that is killed while somebody writes."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import httpx
import pytest
from click.testing import CliRunner
from serving import process

from inseries.cli.main import main
from inseries.desk.shelf import invented_text

if TYPE_CHECKING:
    import subprocess
    from collections.abc import Iterator
    from pathlib import Path

CASE = "harbour-07.toml"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with one case."""
    (tmp_path / CASE).write_text(invented_text("harbour-07"), encoding="utf-8")
    return tmp_path


@pytest.fixture
def started(folder: Path) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """A desk in a process of its own, and the address that it printed."""
    with process(folder, CASE) as running:
        yield running


def test_a_killed_desk_has_written_every_edit(
    started: tuple[subprocess.Popen[str], str], folder: Path
) -> None:
    """Killed without warning, the file holds the last edit, whole, and nothing lies beside it."""
    running, address = started
    with httpx.Client(follow_redirects=True, trust_env=False, timeout=30) as browser:
        page = browser.get(address)
        home = str(page.url.copy_with(path="/", query=None)).rstrip("/")
        form = re.findall(r'name="desk-form" content="([^"]+)"', page.text)[0]
        entry = re.findall(
            r'data-index="(\d+)" data-key="lv_mass_g" data-anchor="([^"]+)" data-saw="([^"]+)"',
            page.text,
        )[0]
        told = browser.post(
            f"{home}/case/harbour-07/set",
            json={
                "table": "readings",
                "index": int(entry[0]),
                "key": "lv_mass_g",
                "anchor": entry[1],
                "value": "8.1",
                "saw": entry[2],
                "who": "AB",
            },
            headers={"origin": home, "x-desk-form": form},
        )
        assert told.status_code == 200
    running.kill()
    running.wait()
    assert "lv_mass_g = 8.1" in (folder / CASE).read_text(encoding="utf-8")
    assert {each.name for each in folder.iterdir()} == {CASE, "harbour-07.history.jsonl"}
    assert running.stdout is not None
    assert str(folder) not in running.stdout.read()


def test_a_case_that_is_not_there_is_refused(tmp_path: Path) -> None:
    """The sentence is that of every verb, and no folder is named."""
    done = CliRunner().invoke(main, ["desk", str(tmp_path / "nobody.toml"), "--no-browser"])
    assert done.exit_code == 1
    assert "there is no such file" in done.output
    assert str(tmp_path) not in done.output


def test_a_taken_port_is_refused(folder: Path) -> None:
    """A port that somebody listens on is told, not a traceback."""
    import socket

    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = str(taken.getsockname()[1])
        asked = ["desk", str(folder / CASE), "--no-browser", "--port", port]
        done = CliRunner().invoke(main, asked)
    assert done.exit_code == 1
    assert "port is taken" in done.output
