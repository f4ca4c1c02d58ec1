"""Progress of anything that takes longer than a second, told beside the answer."""

from __future__ import annotations

import sys
import time
from contextlib import contextmanager
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from collections.abc import Generator

    from rich.progress import Progress, TaskID

# chosen: what is done within a second needs no telling
QUIET_S = 1.0


class Teller:
    """Takes the name of a stage and its done fraction; stays silent for the first second.

    On a terminal a moving bar, elsewhere one line for each stage. Always on standard error, so
    that an answer can be piped.
    """

    def __init__(self, *, moving: bool, quiet_s: float = QUIET_S) -> None:
        self._moving = moving
        self._quiet_s = quiet_s
        self._begun = time.monotonic()
        self._bar: Progress | None = None
        self._task: TaskID | None = None
        self._stage = ""

    def __call__(self, stage: str, fraction: float) -> None:
        """Tell how far the stage has come, 0 to 1."""
        if time.monotonic() - self._begun < self._quiet_s:
            return
        if self._moving:
            self._move(stage, fraction)
        elif stage != self._stage:
            click.echo(f"{stage} …", err=True)
        self._stage = stage

    def close(self) -> None:
        """Take the bar away."""
        if self._bar is not None:
            self._bar.stop()

    def _move(self, stage: str, fraction: float) -> None:
        if self._bar is None:
            self._bar = _new_bar()
            self._bar.start()
        if self._task is None or stage != self._stage:
            if self._task is not None:
                self._bar.remove_task(self._task)
            self._task = self._bar.add_task(stage, total=1.0)
        self._bar.update(self._task, completed=fraction)


@contextmanager
def shown_progress() -> Generator[Teller]:
    """A teller for the time of one question."""
    teller = Teller(moving=sys.stderr.isatty())
    try:
        yield teller
    finally:
        teller.close()


def _new_bar() -> Progress:
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TaskProgressColumn, TextColumn

    return Progress(
        TextColumn("{task.description}", markup=False),
        BarColumn(bar_width=24),
        TaskProgressColumn(),
        console=Console(stderr=True, width=80),
        transient=True,
    )
