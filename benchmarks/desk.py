"""The desk in real Chromium and under many clients: how long until a finger sees what it moved.

Run: ``python benchmarks/desk.py`` (needs Chromium); with ``--write`` the table goes to
``docs/physics/desk_speed.md``. The desk is a process of its own, the browser another and the many
clients a third, all on this machine. Nothing here is asserted: tests count work, not seconds.
"""

from __future__ import annotations

import os
import platform
import re
import shutil
import subprocess
import sys
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass
from http.client import HTTPConnection
from pathlib import Path
from statistics import quantiles
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

from playwright.sync_api import Page, sync_playwright

from inseries.desk.shelf import invented_text

if TYPE_CHECKING:
    from collections.abc import Callable, Generator

NAME = "harbour-07"
READERS, WRITERS, ROUNDS = 20, 4, 24
# chosen: seconds between two looks of one client
PAUSE_S = 0.5
LOADS, MOVES, WINDOW_MOVES = 20, 40, 16
PAGE = Path(__file__).parents[1] / "docs" / "physics" / "desk_speed.md"
ATRIAL, DUCT = "try_atrial_defect_mm", "try_duct_mm"
# chosen: what is asked of each, milliseconds at the 95th centile
ASKED_MS = {
    "page of `now`, answer at hand: asked for to painted": 400.0,
    "`now`: slider moved to picture painted": 50.0,
    "`window`: slider moved to coarse window painted": 250.0,
    "`window`: slider let go to fuller window painted": 2000.0,
    f"{READERS} read, {WRITERS} write: a page read": 250.0,
    f"{READERS} read, {WRITERS} write: an edit written": 250.0,
}
# From the input event to the frame after the picture was replaced by another one.
PAINTED = """([name, value, event, look]) => new Promise((go) => {
  const slider = document.querySelector(`#r-${name}`);
  const part = document.querySelector("#part");
  const picture = () => part.querySelector("figure .picture svg");
  const before = picture();
  const begun = performance.now();
  const seen = new MutationObserver(() => {
    if (picture() === before || (look && part.dataset.look !== look)) return;
    seen.disconnect();
    requestAnimationFrame(() => setTimeout(() => go(performance.now() - begun)));
  });
  seen.observe(part, { childList: true, subtree: true, attributes: true });
  slider.value = value;
  slider.dispatchEvent(new Event(event, { bubbles: true }));
})"""
# From the moment the page was asked for to the frame in which its largest piece stood.
LOADED = """() => new Promise((go) => {
  new PerformanceObserver((list) => {
    const last = list.getEntries().at(-1);
    const ready = performance.getEntriesByType("navigation")[0].domContentLoadedEventEnd;
    if (last) go(Math.max(last.startTime, ready));
  }).observe({ type: "largest-contentful-paint", buffered: true });
})"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """What was measured, milliseconds."""

    what: str
    median: float
    p95: float
    worst: float

    @property
    def line(self) -> str:
        """As the page has it."""
        asked = ASKED_MS.get(self.what)
        wanted = "" if asked is None else f"≤ {asked:.0f}"
        met = "" if asked is None else ("met" if self.p95 <= asked else "**not met**")
        return (
            f"| {self.what} | {wanted} | {self.median:.0f} | {self.p95:.0f} | {self.worst:.0f} "
            f"| {met} |"
        )


def row(what: str, taken_ms: list[float]) -> Row:
    """Median, 95th centile and worst of what was taken."""
    cuts = quantiles(taken_ms, n=20, method="inclusive") if len(taken_ms) > 1 else taken_ms * 19
    made = Row(what=what, median=cuts[9], p95=cuts[18], worst=max(taken_ms))
    sys.stdout.write(made.line + "\n")
    sys.stdout.flush()
    return made


def main() -> None:
    """Measures, prints a line for each, and with ``--write`` writes the page."""
    with tempfile.TemporaryDirectory() as name, desk(Path(name)) as address:
        rows = [*in_chromium(address), *many(address)]
    if "--write" in sys.argv:
        PAGE.write_text(page(rows), encoding="utf-8")


@contextmanager
def desk(folder: Path) -> Generator[str]:
    """A desk in a process of its own; gives the address that lets a browser in."""
    for place in range(WRITERS):
        text = invented_text(NAME).replace(NAME, f"baby-{place}")
        (folder / f"baby-{place}.toml").write_text(text, encoding="utf-8")
    command = [sys.executable, "-m", "inseries", "desk", str(folder), "--no-browser"]
    with subprocess.Popen(
        command,
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONUNBUFFERED": "1"},
    ) as running:
        assert running.stdout is not None
        found = re.search(r"http://\S+", running.stdout.readline())
        assert found is not None
        yield found[0]
        running.kill()


def in_chromium(address: str) -> list[Row]:
    """First page, a finger on `now`, a finger on `window`."""
    arguments = ["--disable-gpu", "--disable-dev-shm-usage"]
    arguments += ["--no-sandbox"] if os.geteuid() == 0 else []
    home = "{0.scheme}://{0.netloc}/case/baby-0".format(urlsplit(address))
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=arguments
        )
        seen = browser.new_page()
        seen.set_default_timeout(180_000)
        seen.goto(address)
        rows = [*_now(seen, f"{home}/now"), *_window(seen, f"{home}/window")]
        browser.close()
    return rows


def _now(seen: Page, address: str) -> list[Row]:
    seen.goto(address)
    answered = seen.locator("#part[aria-busy=false] .answer")
    answered.wait_for()
    loads: list[float] = []
    for _ in range(LOADS):
        seen.goto(address)
        answered.wait_for()
        loads.append(seen.evaluate(LOADED))
    _move(seen, ATRIAL, "input", "", 9.0)  # narrows the draws once
    moves = _moved(seen, ATRIAL, "", DUCT, MOVES)
    first, second = list(ASKED_MS)[:2]
    return [row(first, loads), row(second, moves)]


def _window(seen: Page, address: str) -> list[Row]:
    begun = time.perf_counter()
    seen.goto(address)
    cold: list[Row] = []
    for look, what in (("first", "first look"), ("fuller", "second look"), ("full", "full answer")):
        seen.locator(f"#part[data-look={look}] .answer").wait_for()
        taken = 1000 * (time.perf_counter() - begun)
        cold.append(row(f"`window`: page asked for the first time to {what}", [taken]))
    coarse = _moved(seen, DUCT, "first", ATRIAL, WINDOW_MOVES)
    fuller: list[float] = []
    for n in range(6):
        fuller.append(_move(seen, DUCT, "change", "fuller", 0.5 + 0.5 * n))
        seen.locator("#part[data-look=full]").wait_for()
    third, fourth = list(ASKED_MS)[2:4]
    return [*cold, row(third, coarse), row(fourth, fuller)]


def _moved(seen: Page, name: str, look: str, other: str, count: int) -> list[float]:
    """So many moves of one slider, every one to a state that was not asked before.

    Answers are kept: after every eight moves another slider makes all states new.
    """
    found: list[float] = []
    for n in range(count):
        if n % 8 == 0:
            _move(seen, other, "input", look, 2.0 + 0.5 * (n // 8))
        found.append(_move(seen, name, "input", look, 1.0 + 0.5 * (n % 8)))
    return found


def _move(seen: Page, name: str, event: str, look: str, value: float) -> float:
    return float(seen.evaluate(PAINTED, [name, str(value), event, look]))


def many(address: str) -> list[Row]:
    """Many read while some write, from a process of their own."""
    told = subprocess.run(
        [sys.executable, __file__, "--clients", address], check=True, capture_output=True, text=True
    ).stdout.splitlines()
    read, written = ([float(word) for word in line.split()] for line in told)
    first, second = list(ASKED_MS)[4:]
    return [row(first, read), row(second, written)]


def clients(address: str) -> None:
    """Prints what each page and each edit took, ms."""
    with ThreadPoolExecutor(READERS + WRITERS) as pool:
        reading = [pool.submit(reader, address, n) for n in range(READERS)]
        writing = [pool.submit(writer, address, n) for n in range(WRITERS)]
        for group in (reading, writing):
            told = [f"{each:.3f}" for done in group for each in done.result()]
            sys.stdout.write(" ".join(told) + "\n")


class Client:
    """One browser's connection, let in."""

    def __init__(self, address: str) -> None:
        place = urlsplit(address)
        self._line = HTTPConnection(place.netloc, timeout=60)
        self._headers = {"origin": f"http://{place.netloc}"}
        reply = self.ask("GET", f"{place.path}?{place.query}", status=303)
        self._headers["cookie"] = reply[1].split(";")[0]

    def ask(
        self, method: str, path: str, body: str | None = None, *, status: int = 200
    ) -> tuple[str, str]:
        """Text and cookie of a reply; an error ends the measurement."""
        json = {"content-type": "application/json"} if body else {}
        self._line.request(method, path, body, {**self._headers, **json})
        reply = self._line.getresponse()
        text = reply.read().decode()
        assert reply.status == status, f"{reply.status}: {text[:200]}"
        return text, reply.headers.get("set-cookie", "")

    def begin_writing(self) -> None:
        """Take the key that forms send back from a page."""
        found = re.search(r'name="desk-form" content="([^"]+)"', self.ask("GET", "/")[0])
        assert found is not None
        self._headers["x-desk-form"] = found[1]


def reader(address: str, place: int) -> list[float]:
    """Looks at a page again and again."""
    client = Client(address)
    return _timed(place, lambda _: client.ask("GET", f"/case/baby-{place % WRITERS}/check"))


def writer(address: str, place: int) -> list[float]:
    """Writes one more weight again and again."""
    client = Client(address)
    client.begin_writing()
    told = '{{"table": "readings", "age_h": "{}", "key": "weight_kg", "value": "3.4"}}'
    path = f"/case/baby-{place}/add"
    return _timed(place, lambda turn: client.ask("POST", path, told.format(300 + turn)))


def _timed(place: int, ask: Callable[[int], object]) -> list[float]:
    """What each turn took, ms; clients do not ask in step."""
    time.sleep(PAUSE_S * place / (READERS + WRITERS))
    found: list[float] = []
    for turn in range(ROUNDS):
        begun = time.perf_counter()
        ask(turn)
        found.append(1000 * (time.perf_counter() - begun))
        time.sleep(PAUSE_S)
    return found


def page(rows: list[Row]) -> str:
    """The page of the documentation."""
    head = (
        "# How soon the desk follows\n\n"
        f"Measured by `benchmarks/desk.py` on `{NAME}.toml`, {os.cpu_count()} cores, Python "
        f"{platform.python_version()}, Chromium without a graphics card:\nthe desk in one process, "
        "the browser in another, the many clients in a third, all on this machine. Milliseconds; "
        "what is asked is\nasked of the 95th centile. A busy machine only adds: load average over "
        f"five minutes at the end {os.getloadavg()[1]:.1f}.\n\n"
        "| what | asked | median | p95 | worst |  |\n| --- | --- | --- | --- | --- | --- |\n"
    )
    tail = (
        "\nA *page painted* is its largest piece in a frame, counted from the moment the browser "
        "asked for it. A *slider moved* counts from\nthe input event to the frame after the "
        "picture was replaced; its draws were narrowed before, once for each state of a case.\n"
        f"The {READERS + WRITERS} clients each ask again half a second after they were answered.\n"
    )
    return head + "\n".join(each.line for each in rows) + "\n" + tail


if __name__ == "__main__":
    if "--clients" in sys.argv:
        clients(sys.argv[-1])
    else:
        main()
