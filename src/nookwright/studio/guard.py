"""Who may talk to the studio: this machine's own browser, with the key of the start, and nobody else.

Plain ASGI, so that WebSockets are seen as well as requests. Browsers send ``Origin`` and ``Sec-Fetch-Site`` by
themselves (Fetch Metadata Request Headers, W3C); a page elsewhere cannot forge them. What it does not know: other
programs of the same account; they can read the room file anyway.
"""

from __future__ import annotations

import hmac
from http.cookies import CookieError, SimpleCookie
from typing import TYPE_CHECKING, Any, Final
from urllib.parse import parse_qs, quote, urlencode

from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Awaitable, Callable, MutableMapping

    Scope = MutableMapping[str, Any]
    Message = MutableMapping[str, Any]
    Receive = Callable[[], Awaitable[Message]]
    Send = Callable[[Message], Awaitable[None]]
    App = Callable[[Scope, Receive, Send], Awaitable[None]]

MOST_UPLOAD = Fact(8e6, unit="byte", kind=Kind.CHOICE, source="A spreadsheet of a household is a hundredth of it.")
COOKIE: Final = "nookwright-key"
KEY: Final = "key"
_POLICY: Final = (
    "default-src 'self'; script-src 'self' 'unsafe-inline' 'unsafe-eval'; style-src 'self' 'unsafe-inline'; "
    "img-src 'self' data: blob:; font-src 'self' data:; connect-src 'self' ws: wss: blob: data:; "
    "worker-src 'self' blob:; frame-ancestors 'none'; base-uri 'none'; form-action 'self'; object-src 'none'"
)
HEADERS: Final = (
    (b"content-security-policy", _POLICY.encode()),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"no-referrer"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"cross-origin-opener-policy", b"same-origin"),
)


class Guard:
    """All guards in one; what is refused never reaches the application."""

    def __init__(self, app: App, *, port: int, key: str, most_upload: int = int(MOST_UPLOAD)) -> None:
        """Guard an application.

        Args:
            app: what is guarded.
            port: that it is served on; names of this machine with it are the only hosts.
            key: that the address of the start has, and a cookie after it; not empty.
            most_upload: the largest body that is taken in, bytes.
        """
        self._app, self._key, self._most, self._cookie = app, key, most_upload, f"{COOKIE}-{port}"
        names = ("127.0.0.1", "localhost", "[::1]")
        self._hosts = frozenset(f"{name}:{port}" for name in names)
        self._origins = frozenset(f"http://{host}" for host in self._hosts)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request through, or refuse it."""
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        status = self._refusal(scope)
        if status == _WITH_KEY:
            await _sent_on(scope, send, f"{self._cookie}={self._key}")
        elif status:
            await _refused(scope, receive, send, status)
        else:
            await _let_in(self._app, scope, _Capped(receive, self._most), send)

    def _refusal(self, scope: Scope) -> int:
        """The status that a request is refused with; 0 if it is let through."""
        headers = _headers(scope)
        if headers.get("host") not in self._hosts or not self._from_here(scope, headers):
            return _FORBIDDEN
        if not hmac.compare_digest(_cookie(headers, self._cookie), self._key):
            asked = parse_qs(scope.get("query_string", b"").decode("latin-1")).get(KEY, [""])[0]
            right = hmac.compare_digest(asked.encode(), self._key.encode())
            return _WITH_KEY if right and scope["type"] == "http" else _NO_KEY
        length = headers.get("content-length", "0")
        return 0 if length.isdecimal() and int(length) <= self._most else _TOO_LARGE

    def _from_here(self, scope: Scope, headers: dict[str, str]) -> bool:
        """Whether it comes from a page of ours, or from a person who typed or followed the address."""
        origin = headers.get("origin")
        if origin is not None and origin not in self._origins:
            return False
        if scope["type"] == "websocket":
            return origin is not None
        site = headers.get("sec-fetch-site", "none")
        followed = headers.get("sec-fetch-mode") == "navigate" and headers.get("sec-fetch-dest") == "document"
        return site in {"none", "same-origin"} or (followed and scope.get("method") == "GET")


_FORBIDDEN: Final = 403
_NO_KEY: Final = 401
_TOO_LARGE: Final = 413
_LEFT: Final = 499
_WITH_KEY: Final = 303
_WORDS: Final = {
    _FORBIDDEN: "The studio answers only to pages of its own, on this machine.",
    _NO_KEY: "Open the address that the studio printed when it started: it has a key in it.",
    _TOO_LARGE: "That is larger than the studio takes in.",
    _LEFT: "Whoever asked has left.",
}


class _Capped:
    """A body that ends where it gets too large."""

    def __init__(self, receive: Receive, most: int) -> None:
        self._receive, self._left = receive, most

    @property
    def over(self) -> bool:
        """Whether it was too large."""
        return self._left < 0

    async def __call__(self) -> Message:
        """The next piece of it."""
        message = await self._receive()
        if message["type"] == "http.request":
            self._left -= len(message.get("body", b""))
            if self.over:
                return {"type": "http.disconnect"}
        return message


def _headers(scope: Scope) -> dict[str, str]:
    """Headers by name in lower case."""
    return {name.decode("latin-1").lower(): value.decode("latin-1") for name, value in scope.get("headers", ())}


def _cookie(headers: dict[str, str], name: str) -> str:
    """The key in the cookies; empty where there is none."""
    try:
        morsel = SimpleCookie(headers.get("cookie", "")).get(name)
    except CookieError:
        return ""
    return morsel.value if morsel and morsel.value.isascii() else ""


async def _let_in(app: App, scope: Scope, receive: _Capped, send: Send) -> None:
    """Have a request answered, with the headers that keep everything else out; one too large by 413."""
    begun = False

    async def sent(message: Message) -> None:
        nonlocal begun
        if receive.over and not begun:
            return
        if message["type"] == "http.response.start":
            begun = True
            message = {**message, "headers": [*message.get("headers", ()), *HEADERS]}
        await send(message)

    try:
        await app(scope, receive, sent)
    except Exception:
        if not receive.over:
            raise
    if scope["type"] == "http" and not begun:
        # a file whose reader left before its first byte is answered with nothing, which the toolkit takes for a fault
        await _refused(scope, receive, send, _TOO_LARGE if receive.over else _LEFT)


async def _sent_on(scope: Scope, send: Send, cookie: str) -> None:
    """Give the cookie, and send on to the same address without the key."""
    asked = parse_qs(scope.get("query_string", b"").decode("latin-1"), keep_blank_values=True)
    rest = urlencode([(name, value) for name, values in asked.items() if name != KEY for value in values])
    path = "/" + scope["path"].lstrip("/")  # two slashes would lead to another host
    address = quote(path) + (f"?{rest}" if rest else "")
    headers = [
        (b"location", address.encode()),
        (b"set-cookie", f"{cookie}; Path=/; HttpOnly; SameSite=Strict".encode()),
    ]
    await send({"type": "http.response.start", "status": _WITH_KEY, "headers": [*headers, *HEADERS]})
    await send({"type": "http.response.body", "body": b""})


async def _refused(scope: Scope, receive: Receive, send: Send, status: int) -> None:
    """Say no."""
    if scope["type"] == "websocket":
        await receive()
        await send({"type": "websocket.close", "code": 1008})
        return
    headers = [(b"content-type", b"text/plain; charset=utf-8"), *HEADERS]
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": _WORDS[status].encode()})
