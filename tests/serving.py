"""A desk that really listens, for tests that ask it over a socket of this machine."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from contextlib import contextmanager
from dataclasses import dataclass
from threading import Thread
from time import sleep
from typing import TYPE_CHECKING

from inseries.desk.shelf import Shelf
from inseries.serve.app import application
from inseries.serve.guard import Guard, Keys
from inseries.serve.start import at_home, opening, server

if TYPE_CHECKING:
    from collections.abc import Generator
    from pathlib import Path


@dataclass(frozen=True, slots=True, kw_only=True)
class Served:
    """A desk that answers, with its secrets and the folder of its cases."""

    keys: Keys
    folder: Path

    @property
    def home(self) -> str:
        """The address without a path."""
        return f"http://127.0.0.1:{self.keys.port}"

    def opening(self, case: str | None = None) -> str:
        """The address that lets a browser in."""
        return opening(self.keys, case)


@contextmanager
def process(folder: Path, case: str) -> Generator[tuple[subprocess.Popen[str], str]]:
    """A desk in a process of its own, and the address that it printed to let a browser in."""
    command = [sys.executable, "-m", "inseries", "desk", case, "--no-browser"]
    with subprocess.Popen(
        command, cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
        env={**os.environ, "PYTHONUNBUFFERED": "1"},
    ) as running:  # fmt: skip
        assert running.stdout is not None
        found = re.search(r"http://127\.0\.0\.1:\d+/open\S+", running.stdout.readline())
        assert found
        try:
            yield running, found[0]
        finally:
            running.kill()


@contextmanager
def served(folder: Path) -> Generator[Served]:
    """A desk of a folder, on a free port, until the test is done."""
    listening = at_home(0)
    keys = Keys(port=listening.getsockname()[1])
    running = server(Guard(application(Shelf.at(folder), keys), keys))
    thread = Thread(target=running.run, kwargs={"sockets": [listening]}, daemon=True)
    thread.start()
    while not running.started:
        sleep(0.01)
    try:
        yield Served(keys=keys, folder=folder)
    finally:
        running.should_exit = True
        thread.join(10)
        listening.close()
