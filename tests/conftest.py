"""What every test stands on: a quiet network, repeatable examples, and a header that says where."""

from __future__ import annotations

import platform
import socket
from pathlib import Path
from typing import NoReturn

import hypothesis
import pytest

# The same examples on every machine; no deadline, since a first call compiles kernels.
hypothesis.settings.register_profile(
    "ci", derandomize=True, deadline=None, database=None, print_blob=True
)
hypothesis.settings.load_profile("ci")

ROOT = Path(__file__).resolve().parents[1]


def pytest_report_header() -> list[str]:
    """Names the compiler and the processor, on which last digits depend."""
    import llvmlite.binding as llvm
    import numba

    version = ".".join(str(part) for part in llvm.llvm_version_info)
    return [
        f"numba {numba.__version__}, LLVM {version}",
        f"processor {llvm.get_host_cpu_name()} ({platform.machine()})",
    ]


@pytest.fixture
def root() -> Path:
    """The top folder of the source tree."""
    return ROOT


@pytest.fixture
def quiet_network(monkeypatch: pytest.MonkeyPatch) -> None:
    """No socket of the internet can be opened, nor any name looked up, in this process."""

    def refuse(*_args: object, **_kwargs: object) -> NoReturn:
        raise AssertionError("this test must not use the network")

    monkeypatch.setattr(socket.socket, "connect", refuse)
    monkeypatch.setattr(socket.socket, "connect_ex", refuse)
    monkeypatch.setattr(socket.socket, "sendto", refuse)
    monkeypatch.setattr(socket, "create_connection", refuse)
    monkeypatch.setattr(socket, "getaddrinfo", refuse)
