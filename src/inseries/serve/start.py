"""A server on this machine alone, and the browser that opens on it."""

from __future__ import annotations

import socket
import webbrowser
from threading import Timer
from typing import TYPE_CHECKING
from urllib.parse import urlencode

import uvicorn

from inseries.base.errors import OutputError
from inseries.desk.shelf import Shelf
from inseries.serve.app import application
from inseries.serve.guard import Guard, Keys

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

HOME = "127.0.0.1"
# chosen: seconds after which the browser is opened; the server listens by then
SOON_S = 0.4


def serve_desk(place: Path, *, port: int, browser: bool, tell: Callable[[str], None]) -> None:
    """Answers until it is stopped.

    Parameters
    ----------
    place : a case file, or a folder of them
    port : to listen on; 0 takes a free one
    browser : whether the browser is opened
    tell : takes the lines for the terminal

    Raises
    ------
    CaseError, OutputError
        the case cannot be read, or the port is taken
    """
    shelf = Shelf.at(place)
    listening = at_home(port)
    keys = Keys(port=listening.getsockname()[1])
    address = opening(keys, shelf.first)
    tell(f"The desk is at {address}")
    tell("It answers this machine only. Ctrl-C ends it; every edit is already in the file.")
    if browser:
        timer = Timer(SOON_S, webbrowser.open, [address])
        timer.daemon = True
        timer.start()
    app = application(shelf, keys)
    server(Guard(app, keys)).run(sockets=[listening])


def server(app: Guard) -> uvicorn.Server:
    """What listens; it keeps no log of what was asked."""
    config = uvicorn.Config(
        app,
        access_log=False,
        log_level="error",
        server_header=False,
        proxy_headers=False,
        ws="none",
        timeout_graceful_shutdown=1,
    )
    return uvicorn.Server(config)


def opening(keys: Keys, case: str | None) -> str:
    """The address that lets one browser in."""
    asked = {"start": keys.start} | ({"case": case} if case else {})
    return f"http://{HOME}:{keys.port}/open?{urlencode(asked)}"


def at_home(port: int) -> socket.socket:
    """A socket bound to this machine; refuses where the port is taken.

    Parameters
    ----------
    port : to listen on; 0 takes a free one
    """
    found = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    # else the last piece of a page waits 40 ms for the browser's word on the one before
    found.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
    try:
        found.bind((HOME, port))
        found.listen()
    except OSError as error:
        found.close()
        raise OutputError(
            "This port is taken or not allowed",
            code="port_taken",
            where="--port",
            value=port,
            remedy="another port, or none to have a free one.",
        ) from error
    return found
