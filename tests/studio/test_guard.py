"""Who may talk to the studio, request by request; the same against the real server stands in ``browser/``."""

from __future__ import annotations

import asyncio
from typing import TYPE_CHECKING

import pytest

from nookwright.studio.guard import HEADERS, Guard

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.studio.guard import Message, Receive, Scope, Send

PORT, KEY = 8123, "a-key"
HOST = f"127.0.0.1:{PORT}"
COOKIE = f"nookwright-key-{PORT}={KEY}"
HOME = {"host": HOST, "cookie": COOKIE, "origin": f"http://{HOST}", "sec-fetch-site": "same-origin"}


class Inner:
    """The application behind the guard: notes what reaches it, and reads the body."""

    def __init__(self) -> None:
        self.reached = 0
        self.body = b""
        self.cut_off = False

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer with 200."""
        self.reached += 1
        if scope["type"] != "http":
            return
        while True:
            message = await receive()
            if message["type"] == "http.disconnect":
                self.cut_off = True
                break
            self.body += message.get("body", b"")
            if not message.get("more_body"):
                break
        await send({"type": "http.response.start", "status": 200, "headers": []})
        await send({"type": "http.response.body", "body": b"in"})


def ask(
    headers: dict[str, str],
    *,
    kind: str = "http",
    path: str = "/layout",
    query: str = "",
    body: tuple[bytes, ...] = (b"",),
    method: str = "GET",
) -> tuple[int, dict[str, str], Inner]:
    """Ask through the guard: status (1008: a WebSocket was closed, 0: it was let in), headers, what is behind."""
    inner, sent = Inner(), []
    pieces = [{"type": "http.request", "body": one, "more_body": n < len(body) - 1} for n, one in enumerate(body)]
    waiting: Iterator[Message] = iter([{"type": "websocket.connect"}] if kind == "websocket" else pieces)

    async def receive() -> Message:
        return next(waiting)

    async def send(message: Message) -> None:
        sent.append(message)

    raw = [(name.encode(), value.encode("latin-1")) for name, value in headers.items()]
    scope = {"type": kind, "path": path, "query_string": query.encode(), "headers": raw, "method": method}
    asyncio.run(Guard(inner, port=PORT, key=KEY, most_upload=100)(scope, receive, send))
    start = next((one for one in sent if one["type"] != "http.response.body"), {})
    found = {name.decode(): value.decode() for name, value in start.get("headers", ())}
    return int(start.get("status", start.get("code", 0))), found, inner


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        (HOME, 200), ({**HOME, "host": f"localhost:{PORT}", "origin": f"http://localhost:{PORT}"}, 200), ({"host":
        HOST, "cookie": COOKIE}, 200), ({**HOME, "host": f"evil.example:{PORT}"}, 403), ({**HOME, "host":
        "127.0.0.1"}, 403), ({**HOME, "origin": "http://evil.example"}, 403), ({**HOME, "origin":
        f"http://127.0.0.1:{PORT + 1}"}, 403), ({**HOME, "origin": "null"}, 403), ({"host": HOST, "cookie": COOKIE,
        "sec-fetch-site": "cross-site"}, 403), ({"host": HOST, "cookie": COOKIE, "sec-fetch-site": "same-site",
        "sec-fetch-mode": "no-cors", "sec-fetch-dest": "image"}, 403), ({"host": HOST, "cookie": COOKIE,
        "sec-fetch-site": "cross-site", "sec-fetch-mode": "navigate", "sec-fetch-dest": "document"}, 200), ({"host":
        HOST, "cookie": COOKIE, "sec-fetch-site": "cross-site", "sec-fetch-mode": "navigate", "sec-fetch-dest":
        "iframe"}, 403), ({"host": HOST}, 401), ({**HOME, "cookie": f"nookwright-key-{PORT}=wrong"}, 401), ({**HOME,
        "cookie": f"nookwright-key-{PORT + 1}={KEY}"}, 401), ({**HOME, "cookie": "\xff\x00;;=;"}, 401), ({**HOME,
        "content-length": "101"}, 413), ({**HOME, "content-length": "100"}, 200), ({**HOME, "content-length": "-1"},
        413), ({**HOME, "content-length": "\xb2"}, 413),
    ],
)  # fmt: skip
def test_requests(headers: dict[str, str], status: int) -> None:
    """Only this machine's names, pages of ours or an address that was followed, the key, and bodies that are small."""
    found, _, inner = ask(headers)
    assert found == status
    assert inner.reached == (status == 200)


@pytest.mark.parametrize(
    ("headers", "let_in"),
    [
        (HOME, True),
        ({**HOME, "origin": "http://evil.example"}, False),
        ({name: value for name, value in HOME.items() if name != "origin"}, False),
        ({**HOME, "host": f"evil.example:{PORT}"}, False),
        ({**HOME, "cookie": ""}, False),
    ],
)
def test_websockets(headers: dict[str, str], let_in: bool) -> None:  # noqa: FBT001 - a row of the table
    """They are seen by the guard too: a page elsewhere that knows the address gets none."""
    status, _, inner = ask(headers, kind="websocket")
    assert inner.reached == let_in
    assert status == (0 if let_in else 1008)


def test_a_websocket_does_not_come_in_by_the_key_in_its_address() -> None:
    """Only the cookie opens it."""
    headers = {name: value for name, value in HOME.items() if name != "cookie"}
    status, _, inner = ask(headers, kind="websocket", query=f"key={KEY}")
    assert (status, inner.reached) == (1008, 0)


@pytest.mark.parametrize(
    ("path", "query", "to"),
    [
        ("/", f"key={KEY}", "/"),
        ("/layout", f"a=1&key={KEY}&b=", "/layout?a=1&b="),
        ("//evil.example/x", f"key={KEY}", "/evil.example/x"),
    ],
)
def test_the_key_becomes_a_cookie_and_leaves_the_address(path: str, query: str, to: str) -> None:
    """So that it stands in no history; the cookie is strict, and no script sees it. No other host is ever led to."""
    status, headers, inner = ask({"host": HOST}, path=path, query=query)
    assert (status, headers["location"], inner.reached) == (303, to, 0)
    assert headers["set-cookie"] == f"{COOKIE}; Path=/; HttpOnly; SameSite=Strict"


@pytest.mark.parametrize("query", ["key=wrong", "key=", "key=%ff", ""])
def test_a_wrong_key_opens_nothing(query: str) -> None:
    """And what is said tells nothing of the right one."""
    status, headers, inner = ask({"host": HOST}, query=query)
    assert (status, inner.reached) == (401, 0)
    assert "set-cookie" not in headers


@pytest.mark.parametrize("headers", [HOME, {"host": HOST}, {"host": "evil.example"}])
def test_every_answer_keeps_others_out(headers: dict[str, str]) -> None:
    """Nothing is fetched from elsewhere, nothing is framed, types are not guessed."""
    _, found, _ = ask(headers)
    for name, value in HEADERS:
        assert found[name.decode()] == value.decode()
    assert "http:" not in found["content-security-policy"]


def test_a_body_that_does_not_say_its_length_is_cut_off() -> None:
    """At the byte where it gets too large; one of just the size passes."""
    status, _, inner = ask(HOME, method="POST", body=(b"x" * 60, b"x" * 40))
    assert (status, len(inner.body), inner.cut_off) == (200, 100, False)
    status, _, inner = ask(HOME, method="POST", body=(b"x" * 60, b"x" * 41))
    assert (status, inner.cut_off) == (413, True)


def test_one_who_left_is_answered_all_the_same() -> None:
    """The application says nothing to somebody who is gone; what stands round the guard wants an answer even so."""
    sent: list[Message] = []

    async def silent(_scope: Scope, receive: Receive, _send: Send) -> None:
        await receive()

    async def gone() -> Message:
        return {"type": "http.disconnect"}

    async def send(message: Message) -> None:
        sent.append(message)

    raw = [(name.encode(), value.encode()) for name, value in HOME.items()]
    scope = {"type": "http", "path": "/module.svg", "query_string": b"", "headers": raw, "method": "GET"}
    asyncio.run(Guard(silent, port=PORT, key=KEY)(scope, gone, send))
    assert [one["type"] for one in sent] == ["http.response.start", "http.response.body"]
    assert sent[0]["status"] == 499
