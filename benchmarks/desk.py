"""The desk in real Chromium and under many clients: how long until a finger sees what it moved.

Run: .venv/bin/python benchmarks/desk.py   (needs Chromium; prints a table)
"""

from __future__ import annotations

import os
import shutil
import sys
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from statistics import quantiles

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests"))

import httpx
from playwright.sync_api import sync_playwright
from serving import Served, served

from inseries.desk.shelf import invented_text

NAME = "harbour-07"
READERS, WRITERS, ROUNDS = 20, 4, 12
MOVES = 40
# From the input event to the frame after the picture was replaced.
PAINTED = """(value) => new Promise((go) => {
  const slider = document.querySelector("#r-try_atrial_defect_mm");
  const begun = performance.now();
  new MutationObserver((_, seen) => {
    seen.disconnect();
    requestAnimationFrame(() => setTimeout(() => go(performance.now() - begun)));
  }).observe(document.querySelector("#part"), { childList: true, subtree: true });
  slider.value = value;
  slider.dispatchEvent(new Event("input"));
})"""


def main() -> None:
    """Print the table."""
    with tempfile.TemporaryDirectory() as folder, served(Path(folder)) as desk:
        for place in range(WRITERS):
            text = invented_text(NAME).replace(NAME, f"baby-{place}")
            (desk.folder / f"baby-{place}.toml").write_text(text, encoding="utf-8")
        row("", "median", "p95", "worst")
        in_chromium(desk)
        many(desk)


def row(*cells: str) -> None:
    """One line of the table."""
    print(
        f"| {cells[0]:<52} | " + " | ".join(f"{cell:>8}" for cell in cells[1:]) + " |", flush=True
    )


def told(what: str, seconds: list[float]) -> None:
    """Median, 95th centile and worst, in milliseconds."""
    cuts = quantiles(seconds, n=20)
    row(what, *(f"{1000 * each:.0f} ms" for each in (cuts[9], cuts[18], max(seconds))))


def in_chromium(desk: Served) -> None:
    """First page, a finger on `now`, and the first look at the window."""
    arguments = ["--disable-gpu", "--disable-dev-shm-usage"]
    arguments += ["--no-sandbox"] if os.geteuid() == 0 else []
    with sync_playwright() as playwright:
        place = shutil.which("chromium")
        browser = playwright.chromium.launch(executable_path=place, args=arguments)
        page = browser.new_page()
        page.goto(desk.opening("baby-0"))
        wait = page.locator("#part[aria-busy=false] .answer").wait_for
        page.goto(f"{desk.home}/case/baby-0/now")
        wait()
        first = []
        for _ in range(20):
            begun = time.perf_counter()
            page.goto(f"{desk.home}/case/baby-0/now")
            wait()
            first.append(time.perf_counter() - begun)
        told("page of `now`, answer at hand", first)
        page.evaluate(PAINTED, "5")  # narrows the draws once
        page.wait_for_timeout(500)
        moves = [page.evaluate(PAINTED, str(2 + 0.5 * (n % 13))) / 1000 for n in range(1, MOVES)]
        told("`now`: slider moved to picture painted", moves)
        begun = time.perf_counter()
        page.goto(f"{desk.home}/case/baby-0/window")
        page.locator("#part[data-look=first] .answer").wait_for(timeout=60_000)
        row("`window`: first look, once", f"{time.perf_counter() - begun:.1f} s", "", "")
        page.locator("#part[data-look=full] .answer").wait_for(timeout=120_000)
        row("`window`: full answer, once", f"{time.perf_counter() - begun:.1f} s", "", "")
        browser.close()


def many(desk: Served) -> None:
    """Many read while some write."""
    with ThreadPoolExecutor(READERS + WRITERS) as pool:
        reading = [pool.submit(reader, desk, n) for n in range(READERS)]
        writing = [pool.submit(writer, desk, n) for n in range(WRITERS)]
        read = [each for done in reading for each in done.result()]
        written = [each for done in writing for each in done.result()]
    told(f"{READERS} read, {WRITERS} write: a page read", read)
    told(f"{READERS} read, {WRITERS} write: an edit written", written)


def reader(desk: Served, place: int) -> list[float]:
    """Looks at a page every half second."""
    found: list[float] = []
    with httpx.Client(base_url=desk.home, trust_env=False, timeout=30) as client:
        client.get("/open", params={"start": desk.keys.start})
        for _ in range(ROUNDS):
            begun = time.perf_counter()
            client.get(f"/case/baby-{place % WRITERS}/check").raise_for_status()
            found.append(time.perf_counter() - begun)
            time.sleep(0.5)
    return found


def writer(desk: Served, place: int) -> list[float]:
    """Changes one weight every half second."""
    found: list[float] = []
    sent = {"origin": desk.home, "x-desk-form": desk.keys.form}
    with httpx.Client(base_url=desk.home, trust_env=False, timeout=30) as client:
        client.get("/open", params={"start": desk.keys.start})
        for turn in range(ROUNDS):
            begun = time.perf_counter()
            add = {
                "table": "readings",
                "age_h": str(300 + turn),
                "key": "weight_kg",
                "value": "3.4",
            }
            client.post(f"/case/baby-{place}/add", json=add, headers=sent).raise_for_status()
            found.append(time.perf_counter() - begun)
            time.sleep(0.5)
    return found


if __name__ == "__main__":
    main()
