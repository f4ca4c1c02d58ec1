"""Who may ask: this browser, on this machine, from the desk's own page.

One layer round the whole application. A request is looked at before any of it is believed: its
host, its token, its origin, its size. Every reply leaves with the same strict rules.
"""

from __future__ import annotations

import hmac
import secrets
from dataclasses import dataclass, field
from http.cookies import CookieError, SimpleCookie
from typing import TYPE_CHECKING
from urllib.parse import parse_qs, urlencode

if TYPE_CHECKING:
    from collections.abc import MutableMapping

    from starlette.types import ASGIApp, Message, Receive, Scope, Send

# chosen: a case file is refused above this too; nothing else that is sent is larger
MOST_BYTES = 1_200_000
# chosen: letters of a token; far beyond guessing
TOKEN_BYTES = 32

POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self'",
        "font-src 'self'",
        "connect-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    )
)
RULES = {
    b"content-security-policy": POLICY.encode(),
    b"x-content-type-options": b"nosniff",
    b"referrer-policy": b"no-referrer",
    b"cross-origin-opener-policy": b"same-origin",
    b"cross-origin-resource-policy": b"same-origin",
    b"permissions-policy": b"camera=(), geolocation=(), microphone=()",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Keys:
    """The secrets of one start of the server.

    Parameters
    ----------
    port : int, the only port it answers on
    start : what the opening address carries
    cookie : what the browser shows from then on
    form : what a page sends back with everything that changes something
    """

    port: int
    start: str = field(default_factory=lambda: secrets.token_urlsafe(TOKEN_BYTES))
    cookie: str = field(default_factory=lambda: secrets.token_urlsafe(TOKEN_BYTES))
    form: str = field(default_factory=lambda: secrets.token_urlsafe(TOKEN_BYTES))

    @property
    def cookie_name(self) -> str:
        """A cookie knows no port: two desks on one machine keep theirs apart by name."""
        return f"inseries-desk-{self.port}"

    @property
    def hosts(self) -> tuple[str, ...]:
        """The names by which a browser on this machine may call."""
        return (f"127.0.0.1:{self.port}", f"localhost:{self.port}")


class Guard:
    """The application behind its guard.

    Parameters
    ----------
    app : what answers those who may ask
    keys : secrets of this start
    """

    def __init__(self, app: ASGIApp, keys: Keys) -> None:
        self._app = app
        self._keys = keys

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer, or refuse in a plain sentence."""
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        if scope["type"] != "http":
            return
        ruled = _ruled(send)
        headers = {
            name.decode("latin-1"): value.decode("latin-1") for name, value in scope["headers"]
        }
        refusal = self._refusal(scope, headers)
        if refusal is not None:
            await _say(ruled, *refusal)
        elif self._opens(scope):
            await self._let_in(scope, ruled)
        else:
            await self._pass_on(scope, _bounded(receive), ruled)

    def _refusal(self, scope: Scope, headers: MutableMapping[str, str]) -> tuple[int, str] | None:
        """Status and sentence for one who may not ask; None for one who may."""
        if headers.get("host", "") not in self._keys.hosts:
            return 400, "This desk answers to its own address on this machine only."
        if _too_long(headers):
            return 413, "This is too large for a case of one baby."
        if self._opens(scope):
            return None
        if not self._known(headers):
            return 401, "Open the desk with the address that it printed when it started."
        if scope["method"] in {"GET", "HEAD"}:
            return None
        if headers.get("origin", "") not in {f"http://{host}" for host in self._keys.hosts}:
            return 403, "This came from another page than the desk's own."
        if not hmac.compare_digest(
            headers.get("x-desk-form", "").encode(), self._keys.form.encode()
        ):
            return 403, "This page is from an earlier start of the desk: load it again."
        return None

    def _opens(self, scope: Scope) -> bool:
        """Whether the opening address is called, with its token."""
        if scope["method"] != "GET" or scope["path"] != "/open":
            return False
        asked = parse_qs(scope["query_string"].decode("latin-1"))
        return hmac.compare_digest(asked.get("start", [""])[0].encode(), self._keys.start.encode())

    def _known(self, headers: MutableMapping[str, str]) -> bool:
        jar: SimpleCookie = SimpleCookie()
        try:
            jar.load(headers.get("cookie", ""))
        except CookieError:
            return False
        shown = jar.get(self._keys.cookie_name)
        value = shown.value if shown is not None else ""
        return hmac.compare_digest(value.encode(), self._keys.cookie.encode())

    async def _let_in(self, scope: Scope, send: Send) -> None:
        """The cookie, and on to the page: the token does not stay in the address."""
        asked = parse_qs(scope["query_string"].decode("latin-1"))
        case = asked.get("case", [""])[0]
        place = f"/go?{urlencode({'case': case})}" if case else "/"
        cookie = f"{self._keys.cookie_name}={self._keys.cookie}; Path=/; HttpOnly; SameSite=Strict"
        headers = [(b"location", place.encode()), (b"set-cookie", cookie.encode())]
        await send({"type": "http.response.start", "status": 303, "headers": headers})
        await send({"type": "http.response.body", "body": b""})

    async def _pass_on(self, scope: Scope, receive: Receive, send: Send) -> None:
        """What fails inside is told by its kind alone; its words may hold a name or a folder."""
        begun = False

        async def watched(message: Message) -> None:
            nonlocal begun
            begun = True
            await send(message)

        try:
            await self._app(scope, receive, watched)
        except _TooLarge:
            await _say(send, 413, "This is too large for a case of one baby.")
        except Exception as error:  # noqa: BLE001 - the last door before the browser
            if not begun:
                kind = type(error).__name__
                await _say(send, 500, f"The desk met an error it did not expect ({kind}).")


class _TooLarge(BaseException):
    """A body that goes on beyond what may be sent; no handler inside takes it for its own."""


def _too_long(headers: MutableMapping[str, str]) -> bool:
    told = headers.get("content-length", "0")
    return not told.isdigit() or int(told) > MOST_BYTES


def _bounded(receive: Receive) -> Receive:
    """A body is counted as it comes: its length may have been told wrongly, or not at all."""
    taken = 0

    async def counted() -> Message:
        nonlocal taken
        message = await receive()
        taken += len(message.get("body", b""))
        if taken > MOST_BYTES:
            raise _TooLarge
        return message

    return counted


def _ruled(send: Send) -> Send:
    """Every reply carries the rules; pages are never kept by the browser, for they name a child."""

    async def sent(message: Message) -> None:
        if message["type"] == "http.response.start":
            told = {name: value for name, value in message["headers"] if name not in RULES}
            told |= RULES
            told.setdefault(b"cache-control", b"no-store")
            both = [(n, v) for n, v in message["headers"] if n == b"set-cookie"]
            told.pop(b"set-cookie", None)
            message = {**message, "headers": [*told.items(), *both]}
        await send(message)

    return sent


async def _say(send: Send, status: int, sentence: str) -> None:
    headers = [(b"content-type", b"text/plain; charset=utf-8")]
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": sentence.encode()})
