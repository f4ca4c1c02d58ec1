"""Long work: the latest wins, the stale is stopped, what is done is kept."""

from __future__ import annotations

from threading import Event
from typing import TYPE_CHECKING

import pytest

from inseries.base.errors import OutputError
from inseries.serve.work import MOST_WAITING, Work

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from inseries.desk.answer import Progress


@pytest.fixture
def work() -> Iterator[Work[str]]:
    """Lanes of their own for a test."""
    made: Work[str] = Work()
    yield made
    made.close()


def _held(begun: Event, let_go: Event) -> Callable[[Progress], str]:
    """Tells progress until it is let go."""

    def compute(tell: Progress) -> str:
        begun.set()
        while not let_go.wait(0.005):
            tell("holding", 0.5)
        return "held"

    return compute


def test_an_answer_is_made_once(work: Work[str]) -> None:
    """The same question by another page is the same answer, not another computation."""
    asked: list[int] = []

    def compute(_: Progress) -> str:
        asked.append(1)
        return "done"

    for client in ("one", "two"):
        job = work.ask("key", "quick", client, compute)
        work.wait(job, 5)
    assert (job.made, len(asked)) == ("done", 1)


def test_the_latest_of_a_page_stops_what_it_asked_before(work: Work[str]) -> None:
    """Of a drag only the one in flight and the last are computed; the rest never begin."""
    begun, let_go = Event(), Event()
    first = work.ask("0", "quick", "page", _held(begun, let_go))
    assert begun.wait(5)
    between = [work.ask(str(n), "quick", "page", lambda _: "between") for n in range(1, 10)]
    last = work.ask("last", "quick", "page", lambda _: "last")
    work.wait(last, 5)
    assert last.made == "last"
    assert first.stand == "stopped"
    assert {job.stand for job in between} == {"stopped"}


def test_what_another_page_wants_goes_on(work: Work[str]) -> None:
    """A question that two pages asked is not stopped when one of them moves on."""
    begun, let_go = Event(), Event()
    shared = work.ask("shared", "full", "one", _held(begun, let_go))
    assert begun.wait(5)
    work.ask("shared", "full", "two", _held(begun, let_go))
    work.ask("other", "full", "one", lambda _: "other")
    let_go.set()
    work.wait(shared, 5)
    assert shared.made == "held"


def test_cancel_ends_it_and_it_may_be_asked_again(work: Work[str]) -> None:
    """A stopped question stays stopped until somebody asks it anew."""
    begun, let_go = Event(), Event()
    job = work.ask("key", "full", "page", _held(begun, let_go))
    assert begun.wait(5)
    work.cancel("key")
    work.wait(job, 5)
    assert job.stand == "stopped"
    again = work.ask("key", "full", "page", lambda _: "now")
    work.wait(again, 5)
    assert again.made == "now"


def test_a_refusal_is_kept_with_its_reason(work: Work[str]) -> None:
    """What fails is told by its own refusal; what fails unexpectedly, by its kind alone."""

    def refuses(_: Progress) -> str:
        raise OutputError("no", code="no")

    def breaks(_: Progress) -> str:
        raise ValueError("a-folder/somebody")

    told = work.ask("a", "quick", "page", refuses)
    work.wait(told, 5)
    other = work.ask("b", "quick", "page", breaks)
    work.wait(other, 5)
    assert told.error is not None
    assert told.error.what == "no"
    assert other.error is not None
    assert "somebody" not in str(other.error)
    assert "ValueError" in str(other.error)


def test_a_crowd_is_refused(work: Work[str]) -> None:
    """Beyond the most that may wait, a question is refused at once."""
    begun, let_go = Event(), Event()
    for n in range(MOST_WAITING):
        work.ask(str(n), "full", f"page {n}", _held(begun, let_go))
    with pytest.raises(OutputError, match="too many"):
        work.ask("more", "full", "more", lambda _: "more")
    let_go.set()
