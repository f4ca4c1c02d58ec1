"""Who may ask the desk, and what every reply carries."""

from __future__ import annotations

from typing import TYPE_CHECKING

import httpx
import pytest
from serving import Served, served

from inseries.desk.shelf import invented_text
from inseries.serve.guard import MOST_BYTES, Keys

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A desk that listens."""
    folder = tmp_path_factory.mktemp("shelf") / "cases"
    folder.mkdir()
    (folder / "harbour-07.toml").write_text(invented_text("harbour-07"), encoding="utf-8")
    (folder.parent / "outside.toml").write_text("[case]\nid = 'outside'\n", encoding="utf-8")
    with served(folder) as running:
        yield running


@pytest.fixture
def folder(desk: Served) -> Path:
    """Where its cases are."""
    return desk.folder


@pytest.fixture
def keys(desk: Served) -> Keys:
    """The secrets of its start."""
    return desk.keys


@pytest.fixture
def stranger(desk: Served) -> Iterator[httpx.Client]:
    """A browser that was not let in."""
    with httpx.Client(base_url=desk.home, trust_env=False) as client:
        yield client


@pytest.fixture
def browser(stranger: httpx.Client, keys: Keys) -> httpx.Client:
    """A browser that opened the address of the start."""
    reply = stranger.get("/open", params={"start": keys.start, "case": "harbour-07"})
    assert reply.status_code == 303
    assert keys.start not in reply.headers["location"]
    return stranger


def _sent(keys: Keys, **changed: str) -> dict[str, str]:
    home = f"http://127.0.0.1:{keys.port}"
    return {"origin": home, "x-desk-form": keys.form, **changed}


def test_the_opening_address_lets_one_browser_in(browser: httpx.Client) -> None:
    """After the opening address the cookie alone opens every page."""
    assert browser.get("/").status_code == 200
    assert browser.get("/go", params={"case": "harbour-07"}).headers["location"].startswith("/case")


def test_the_cookie_is_out_of_reach_of_scripts_and_other_sites(
    stranger: httpx.Client, keys: Keys
) -> None:
    """The cookie is HttpOnly and SameSite=Strict."""
    told = stranger.get("/open", params={"start": keys.start}).headers["set-cookie"]
    assert "HttpOnly" in told
    assert "SameSite=Strict" in told


@pytest.mark.parametrize(
    "path", ["/", "/case/harbour-07/now", "/static/x/desk.css", "/open?start=x"]
)
def test_nobody_asks_without_the_key(stranger: httpx.Client, path: str) -> None:
    """Without the cookie nothing is answered, not even a style sheet."""
    assert stranger.get(path).status_code == 401


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1", "127.0.0.1:1"])
def test_another_host_is_refused(browser: httpx.Client, host: str) -> None:
    """A name that was pointed at this machine from outside is refused."""
    assert browser.get("/", headers={"host": host}).status_code == 400


@pytest.mark.parametrize(
    "changed", [{"origin": "http://evil.example"}, {"origin": "null"}, {"x-desk-form": "guess"}]
)
def test_another_page_cannot_change_anything(
    browser: httpx.Client, keys: Keys, changed: dict[str, str], folder: Path
) -> None:
    """A change from a foreign origin, or without the form's key, is refused and writes nothing."""
    before = (folder / "harbour-07.toml").read_bytes()
    reply = browser.post(
        "/case/harbour-07/drop",
        json={"table": "events", "index": 0, "anchor": ""},
        headers=_sent(keys, **changed),
    )
    assert reply.status_code == 403
    assert (folder / "harbour-07.toml").read_bytes() == before


def test_a_body_beyond_one_case_is_refused(browser: httpx.Client, keys: Keys) -> None:
    """Too many bytes are refused, whether their number is told or not."""
    text = b"x" * (MOST_BYTES + 1)
    told = browser.post("/cases", content=text, headers=_sent(keys))
    untold = browser.post("/cases", content=iter([text[:9], text]), headers=_sent(keys))
    assert (told.status_code, untold.status_code) == (413, 413)


@pytest.mark.parametrize(
    "name",
    ["../outside", "..%2Foutside", "%2e%2e%2foutside", "/etc/passwd", "%2e%2e"],
)
def test_nothing_outside_the_folder_is_opened(browser: httpx.Client, name: str) -> None:
    """No way of writing a path leads out of the folder."""
    for path in (f"/case/{name}/check", f"/static/x/{name}", f"/go?case={name}"):
        reply = browser.get(path)
        assert reply.status_code in {404, 422}, path
        assert "outside'" not in reply.text


def test_docs_of_the_framework_are_off(browser: httpx.Client) -> None:
    """No page of the framework's own is served."""
    assert {browser.get(path).status_code for path in ("/docs", "/redoc", "/openapi.json")} == {404}


def test_every_reply_carries_the_rules(stranger: httpx.Client, keys: Keys) -> None:
    """Pages and refusals alike allow nothing inline, nothing from elsewhere, and are not kept."""
    refused = stranger.get("/")
    stranger.get("/open", params={"start": keys.start})
    for reply in (refused, stranger.get("/"), stranger.get("/case/harbour-07/draft")):
        policy = reply.headers["content-security-policy"]
        assert "unsafe" not in policy
        assert "default-src 'none'" in policy
        assert reply.headers["x-content-type-options"] == "nosniff"
        assert reply.headers["referrer-policy"] == "no-referrer"
        assert reply.headers["cache-control"] == "no-store"


def test_pages_carry_no_inline_style_or_script(browser: httpx.Client) -> None:
    """What the policy forbids is not in a page, pictures included."""
    for path in ("/", "/case/harbour-07/check", "/case/harbour-07/present"):
        text = browser.get(path).text
        assert " style=" not in text
        assert "<style" not in text
        assert "<script>" not in text


def test_an_unexpected_error_tells_no_path(
    browser: httpx.Client, keys: Keys, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An error inside is told by its kind; neither folder nor text leave."""
    from inseries.serve import pages

    def broken(*_: object) -> None:
        raise RuntimeError("a-folder/secret")

    monkeypatch.setattr(pages.Desk, "home", broken)
    reply = browser.get("/")
    assert reply.status_code == 500
    assert "secret" not in reply.text


def test_the_json_of_a_page_is_the_command_line_s(browser: httpx.Client, folder: Path) -> None:
    """`answer.json` and ``inseries check --json`` are the same object."""
    import json

    from inseries.desk.record import check

    told = browser.get("/case/harbour-07/check/answer.json").json()
    assert told == json.loads(check(folder / "harbour-07.toml").to_json())


def test_a_case_begins_with_five_answers(browser: httpx.Client, keys: Keys, folder: Path) -> None:
    """Five answers make a case file that only its owner reads; refusals are the reader's."""
    five = {"id": "gull-01", "sex": "female", "age": "2 d", "weight": "3400 g", "septum": "intact"}
    bad = browser.post("/cases", json={**five, "weight": "34 kg"}, headers=_sent(keys))
    assert bad.status_code == 422
    assert "weight is not possible" in bad.json()["refused"]["what"]
    good = browser.post("/cases", json=five, headers=_sent(keys))
    assert good.json()["address"] == "/case/gull-01"
    assert (folder / "gull-01.toml").stat().st_mode & 0o777 == 0o600
    again = browser.post("/cases", json=five, headers=_sent(keys))
    assert again.status_code == 422
