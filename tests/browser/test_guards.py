"""Who may talk to the studio: asked of the real server, with plain sockets."""

from __future__ import annotations

import http.client
import json
import select
import socket
from contextlib import closing
from dataclasses import dataclass
from importlib.metadata import version
from typing import TYPE_CHECKING
from urllib.parse import parse_qs, urlsplit

import pytest

if TYPE_CHECKING:
    from tests.browser.conftest import Served

EVIL = "http://evil.example"
POLLING = "/_nicegui_ws/socket.io/?EIO=4&transport=polling"
SOCKET = "/_nicegui_ws/socket.io/?EIO=4&transport=websocket"
CSS = f"/_nicegui/{version('nicegui')}/static/nicegui.css"
LARGE = 60_000_000


@dataclass(frozen=True)
class Answer:
    """What came back; headers by name in lower case."""

    status: int
    headers: dict[str, str]
    body: bytes


class Door:
    """The studio as a program sees it that knows the port, and perhaps the key."""

    def __init__(self, served: Served) -> None:
        parts = urlsplit(served.address)
        self.port = parts.port or 0
        self.key = parse_qs(parts.query)["key"][0]
        self.home = {
            "Host": f"127.0.0.1:{self.port}",
            "Origin": f"http://127.0.0.1:{self.port}",
            "Cookie": f"nookwright-key-{self.port}={self.key}",
        }

    def ask(self, path: str, changes: dict[str, str | None], method: str = "GET") -> Answer:
        """Ask with the headers of our own page, but for some of them."""
        with closing(self._line()) as line:
            line.putrequest(method, path, skip_host=True, skip_accept_encoding=True)
            for name, value in {**self.home, **changes}.items():
                if value is not None:
                    line.putheader(name, value)
            line.endheaders()
            with closing(line.getresponse()) as said:
                headers = {name.lower(): value for name, value in said.getheaders()}
                return Answer(said.status, headers, b"" if said.status == 101 else said.read())

    def _line(self) -> http.client.HTTPConnection:
        return http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)


@pytest.fixture
def door(served: Served) -> Door:
    """Of the studio that is served."""
    return Door(served)


@pytest.mark.parametrize("path", ["/", "/survey", "/layout", "/kit.zip", "/module.svg", POLLING])
@pytest.mark.parametrize(
    ("changes", "status"),
    [
        ({"Host": "evil.example"}, 403), ({"Host": "127.0.0.1"}, 403), ({"Origin": EVIL}, 403),
        ({"Origin": "null"}, 403), ({"Origin": "http://127.0.0.1:1"}, 403),
        ({"Origin": None, "Sec-Fetch-Site": "cross-site"}, 403),
        ({"Origin": None, "Sec-Fetch-Site": "same-site", "Sec-Fetch-Dest": "image"}, 403), ({"Cookie": None}, 401),
        ({"Cookie": "nookwright-key-1=a"}, 401),
    ],
)  # fmt: skip
def test_who_is_turned_away(door: Door, path: str, changes: dict[str, str | None], status: int) -> None:
    """Whatever is asked for, under another name, from another page, or without the key."""
    answer = door.ask(path, changes)
    assert answer.status == status
    assert "set-cookie" not in answer.headers
    assert door.key.encode() not in answer.body


@pytest.mark.parametrize("path", ["/survey", "/layout", POLLING])
def test_who_is_let_in(door: Door, path: str) -> None:
    """Our own page; every answer says that nothing comes from elsewhere."""
    answer = door.ask(path, {})
    assert answer.status == 200
    assert "default-src 'self'" in answer.headers["content-security-policy"]
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert answer.headers.get("access-control-allow-origin") in {None, door.home["Origin"]}


def test_a_link_on_another_site_that_is_followed_opens_the_page(door: Door) -> None:
    """With the cookie, as a person's own browser has it."""
    followed = {
        "Origin": None,
        "Sec-Fetch-Site": "cross-site",
        "Sec-Fetch-Mode": "navigate",
        "Sec-Fetch-Dest": "document",
    }
    assert door.ask("/survey", followed).status == 200


@pytest.mark.parametrize(
    ("changes", "status"),
    [
        ({}, 101),
        ({"Origin": EVIL}, 403),
        ({"Origin": None}, 403),
        ({"Host": "evil.example"}, 403),
        ({"Cookie": None}, 403),
    ],
)
def test_websockets(door: Door, changes: dict[str, str | None], status: int) -> None:
    """Only a page of ours gets one: a browser lets any page ask for it."""
    wanted = {
        "Connection": "Upgrade",
        "Upgrade": "websocket",
        "Sec-WebSocket-Version": "13",
        "Sec-WebSocket-Key": "AAAAAAAAAAAAAAAAAAAAAA==",
    }
    assert door.ask(SOCKET, {**wanted, **changes}).status == status


def test_the_key_in_the_address_of_the_start_becomes_a_strict_cookie(door: Door) -> None:
    """And leaves the address; a wrong one opens nothing."""
    answer = door.ask(f"/?key={door.key}", {"Cookie": None, "Origin": None})
    assert (answer.status, answer.headers["location"]) == (303, "/")
    assert answer.headers["set-cookie"] == f"nookwright-key-{door.port}={door.key}; Path=/; HttpOnly; SameSite=Strict"
    assert len(door.key) >= 32
    wrong = door.ask(f"/?key={door.key[:-1]}", {"Cookie": None, "Origin": None})
    assert (wrong.status, wrong.headers.get("set-cookie")) == (401, None)


def test_a_body_that_is_too_large_is_refused_by_its_length(door: Door) -> None:
    """Before a byte of it is sent."""
    assert door.ask(POLLING, {"Content-Length": str(LARGE)}, "POST").status == 413


def test_a_body_that_does_not_say_its_length_is_refused_where_it_gets_too_large(door: Door) -> None:
    """It is not taken in to its end, not even by what takes whole bodies in."""
    begun = json.loads(door.ask(POLLING, {}).body[1:])
    with socket.create_connection(("127.0.0.1", door.port), timeout=60) as line:
        headers = [f"{name}: {value}" for name, value in door.home.items()]
        lines = [f"POST {POLLING}&sid={begun['sid']} HTTP/1.1", *headers]
        line.sendall("\r\n".join([*lines, "Transfer-Encoding: chunked", "", ""]).encode())
        sent = _sent(line, LARGE)
        answer = line.recv(64)
    assert answer.startswith(b"HTTP/1.1 413")
    assert sent < LARGE


def _sent(line: socket.socket, most: int) -> int:
    """Send pieces until an answer comes: how many bytes that were."""
    piece = b"x" * 0x10000
    for number in range(most // len(piece)):
        if select.select([line], [], [], 0)[0]:
            return number * len(piece)
        line.sendall(b"10000\r\n" + piece + b"\r\n")
    return most


def test_it_listens_on_one_address_of_this_machine_only(door: Door) -> None:
    """Not even on its other loopback addresses, so on none that a network reaches."""
    with pytest.raises(ConnectionRefusedError):
        socket.create_connection(("127.0.0.2", door.port), timeout=60)


@pytest.mark.parametrize("path", ["/solids/..%2f..%2froom.toml.glb", "/kit/..%2froom.toml", "/docs", "/openapi.json"])
def test_nothing_else_is_served(door: Door, path: str) -> None:
    """No path leads out, and no list of what can be asked."""
    answer = door.ask(path, {})
    assert answer.status == 404
    assert b'A drawer to try"' not in answer.body


def test_one_who_leaves_before_the_first_byte_leaves_no_trace(door: Door, served: Served) -> None:
    """A file that nobody waits for any more is no fault of the server."""
    asked = "\r\n".join([f"GET {CSS} HTTP/1.1", *(f"{name}: {value}" for name, value in door.home.items()), "", ""])
    for _ in range(40):
        line = socket.create_connection(("127.0.0.1", door.port), timeout=60)
        line.sendall(asked.encode())
        line.close()
    assert door.ask("/survey", {}).status == 200
    assert "Traceback" not in served.room_file.with_name("studio.log").read_text(encoding="utf-8")
