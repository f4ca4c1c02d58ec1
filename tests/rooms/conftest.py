"""Windows that several tests of the desk look at, each computed once."""

from __future__ import annotations

import socket
from dataclasses import dataclass
from typing import TYPE_CHECKING, NoReturn

import pytest
from rooms.prior_samples import THIN

from inseries.case import Case, read_case
from inseries.desk import demonstration
from inseries.desk.window import WindowResult, answered

if TYPE_CHECKING:
    from pathlib import Path

    from inseries.desk.answer import Answer
    from inseries.desk.now import NowResult

# chosen: enough draws for a curve, few enough for a test
DRAWS, FEW = 32, 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A case and what the window answered of it, with what ``now`` says of the same draws."""

    case: Case
    answer: Answer
    window: WindowResult
    now: NowResult


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """The demo as it ran without a network: its answer, its brief, and the window inside it."""

    answer: Answer
    brief: Path
    asked: Asked


def _asked(case: Case, draws: int) -> Asked:
    answer, result, now = answered(case, seed=1, draws=draws, criteria=None, progress=None)
    return Asked(case=case, answer=answer, window=result, now=now)


def _refuse(*_args: object, **_kwargs: object) -> NoReturn:
    raise AssertionError("this test must not use the network")


@pytest.fixture(scope="session")
def demo_shown(tmp_path_factory: pytest.TempPathFactory) -> Shown:
    """The demo on few draws with sockets blocked."""
    held: list[Asked] = []

    def watched(record: Case, **names: object) -> tuple[Answer, WindowResult, NowResult]:
        told = answered(record, **names)  # type: ignore[arg-type]
        held.append(Asked(case=record, answer=told[0], window=told[1], now=told[2]))
        return told

    brief = tmp_path_factory.mktemp("demo") / "brief.pdf"
    with pytest.MonkeyPatch.context() as patch:
        for name in ("connect", "connect_ex", "sendto"):
            patch.setattr(socket.socket, name, _refuse)
        patch.setattr(socket, "getaddrinfo", _refuse)
        patch.setattr(demonstration, "answered", watched)
        answer = demonstration.demo(out_path=brief, draws=DRAWS)
    return Shown(answer=answer, brief=brief, asked=held[0])


@pytest.fixture(scope="session")
def harbour(demo_shown: Shown) -> Asked:
    """The invented girl whose ventricle loses its load."""
    return demo_shown.asked


@pytest.fixture(scope="session")
def ridge() -> Asked:
    """The invented girl whose outflow keeps her ventricle at work."""
    return _asked(demonstration.demo_case("ridge-03"), FEW)


@pytest.fixture(scope="session")
def tight() -> Asked:
    """The invented boy whose septum is all but closed."""
    return _asked(demonstration.demo_case("tight-01"), FEW)


@pytest.fixture(scope="session")
def thin() -> Asked:
    """A baby with next to no readings."""
    return _asked(read_case(THIN), FEW)
