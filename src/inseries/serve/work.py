"""Long work: computed beside the pages, told as it goes, stopped when nobody wants it any more.

Two lanes, so that a first look never waits behind a full answer. What is done is kept by what was
asked, not by who asked: a page that was closed finds its answer again.
"""

from __future__ import annotations

import gc
from collections import OrderedDict
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from functools import cache
from threading import Condition
from time import monotonic
from typing import TYPE_CHECKING, Generic, Literal, TypeVar

from inseries.base.errors import InseriesError, OutputError

if TYPE_CHECKING:
    from collections.abc import Callable

    from inseries.desk.answer import Progress

Lane = Literal["quick", "full"]
Stand = Literal["queued", "running", "done", "failed", "stopped"]
Made = TypeVar("Made")
# chosen: answers kept; each is some hundred kilobytes
MOST_KEPT = 64
# chosen: questions that may wait in all; more are refused, not piled up
MOST_WAITING = 24


class Stopped(Exception):
    """Raised inside a computation, at its next word on progress."""


@dataclass(slots=True, kw_only=True)
class Job(Generic[Made]):
    """One question on its way to its answer."""

    key: str
    lane: Lane
    stand: Stand = "queued"
    stage: str = "waiting for its turn"
    share: float = 0.0
    made: Made | None = None
    error: InseriesError | None = None
    wanted: set[str] = field(default_factory=set[str])
    stop: bool = False
    begun: float = field(default_factory=monotonic)

    @property
    def over(self) -> bool:
        """Whether nothing more will come of it."""
        return self.stand in {"done", "failed", "stopped"}


class Work(Generic[Made]):
    """Everything that is being computed, and what was."""

    def __init__(self) -> None:
        self._lanes = {
            lane: ThreadPoolExecutor(1, thread_name_prefix=f"desk-{lane}")
            for lane in ("quick", "full")
        }
        self._jobs: OrderedDict[str, Job[Made]] = OrderedDict()
        self._latest: dict[tuple[str, Lane], str] = {}
        self._changed = Condition()

    def ask(
        self, key: str, lane: Lane, client: str, compute: Callable[[Progress], Made]
    ) -> Job[Made]:
        """The job of a question: the one that is there, or a new one.

        Parameters
        ----------
        key : what is asked, in full; the same key has the same answer
        lane : quick or full
        client : one page in one browser; what it asked before in this lane is stopped
        compute : makes the answer, telling progress
        """
        with self._changed:
            self._supersede(key, lane, client)
            job = self._jobs.get(key)
            if job is None or job.stand in {"stopped", "failed"} or job.stop:
                self._refuse_crowd()
                job = Job[Made](key=key, lane=lane)
                self._jobs[key] = job
                self._lanes[lane].submit(self._run, job, compute)
            job.wanted.add(client)
            self._jobs.move_to_end(key)
            self._forget()
            return job

    def find(self, key: str) -> Job[Made] | None:
        """The job of a question, if it was asked."""
        with self._changed:
            return self._jobs.get(key)

    def wait(self, job: Job[Made], seconds: float) -> None:
        """Until it is over, or the time is."""
        with self._changed:
            self._changed.wait_for(lambda: job.over, seconds)

    def cancel(self, key: str) -> None:
        """Stop a question, whoever asked it."""
        with self._changed:
            job = self._jobs.get(key)
            if job is not None:
                self._stop(job)

    def close(self) -> None:
        """Stop everything."""
        with self._changed:
            for job in self._jobs.values():
                self._stop(job)
        for pool in self._lanes.values():
            pool.shutdown(wait=False, cancel_futures=True)

    def _supersede(self, key: str, lane: Lane, client: str) -> None:
        """What this page asked before, and nobody else wants, need not be finished."""
        before = self._latest.get((client, lane))
        self._latest[client, lane] = key
        job = self._jobs.get(before) if before is not None and before != key else None
        if job is None:
            return
        job.wanted.discard(client)
        if not job.wanted:
            self._stop(job)

    def _stop(self, job: Job[Made]) -> None:
        if job.over:
            return
        job.stop = True
        if job.stand == "queued":
            job.stand = "stopped"
        self._changed.notify_all()

    def _refuse_crowd(self) -> None:
        if sum(not job.over for job in self._jobs.values()) >= MOST_WAITING:
            raise OutputError(
                "too many questions are waiting",
                code="busy",
                where="desk",
                remedy="the same again in a moment.",
            )

    def _forget(self) -> None:
        over = [key for key, job in self._jobs.items() if job.over]
        for key in over[: max(len(self._jobs) - MOST_KEPT, 0)]:
            del self._jobs[key]

    def _run(self, job: Job[Made], compute: Callable[[Progress], Made]) -> None:
        def tell(stage: str, share: float) -> None:
            if job.stop:
                raise Stopped
            job.stage, job.share = stage, share

        if job.stop:
            return
        job.stand = "running"
        try:
            made = compute(tell)
        except Stopped:
            self._end(job, "stopped")
        except InseriesError as error:
            job.error = error
            self._end(job, "failed")
        except Exception as error:  # noqa: BLE001 - told to the page by its kind
            job.error = _unexpected(error)
            self._end(job, "failed")
        else:
            job.made = made
            self._end(job, "done")
            _keep_what_is_loaded()

    def _end(self, job: Job[Made], stand: Stand) -> None:
        with self._changed:
            job.stand = stand
            self._changed.notify_all()


@cache
def _keep_what_is_loaded() -> None:
    """Once: the engine stays, and is not swept again and again while a finger waits for it."""
    gc.collect()
    gc.freeze()


def _unexpected(error: Exception) -> OutputError:
    # the error's own words may hold a path or a name; its kind does not
    return OutputError(
        f"this met an error that was not expected ({type(error).__name__})",
        code="internal",
        where="desk",
        remedy="another value; the command line with --debug shows where it arose.",
    )
