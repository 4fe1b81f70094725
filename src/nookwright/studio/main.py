"""The studio's server: on this machine only, with a key in its address."""

from __future__ import annotations

import asyncio
import gc
import secrets
import socket
import sys
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

from nookwright.ground.errors import FolderError
from nookwright.ground.lock import only_one
from nookwright.ground.sources import Fact, Kind
from nookwright.studio.beginning import begin
from nookwright.studio.state import Studio

if TYPE_CHECKING:
    from collections.abc import Callable

HOST = "127.0.0.1"
STAYS_S = Fact(
    30.0,
    unit="s",
    kind=Kind.CHOICE,
    source="A page whose machine slept, or was too busy to answer, comes back to what was being typed; what was left "
    "is kept as long. 200 pages left one after the other: 49 kept at most, at last none, nor any of their tasks.",
)
_LOOK_S = 0.05


def serve(room_file: Path, *, port: int = 0, key: str = "", tell: Callable[[str], None] = print) -> None:
    """Serve the studio of a room file until interrupted.

    Args:
        room_file: of the room; begun where it is not there yet.
        port: to serve on; any free one if 0.
        key: that opens it; a new one when left out.
        tell: is handed the address to open.

    Raises:
        FolderError: another studio has the room file open, or it cannot be read or begun.
    """
    begin(room_file)
    with only_one(room_file.with_name(f".{room_file.name}.studio-lock")), tempfile.TemporaryDirectory() as scratch:
        _serve(_opened(room_file, Path(scratch)), port or _free_port(), key or secrets.token_urlsafe(24), tell)


def _opened(room_file: Path, scratch: Path) -> Studio:
    """The studio of a room file, or in words why it cannot be read."""
    try:
        return Studio(room_file, scratch)
    except UnicodeDecodeError as error:
        line = error.object.count(b"\n", 0, error.start) + 1
        words = f"{room_file}:{line}: found bytes that are no UTF-8; allowed: a text in UTF-8. Save the file as UTF-8."
        raise FolderError(words) from error
    except OSError as error:
        words = (
            f"{room_file}: cannot be read: {error.strerror or error}. Check that you may read it and write beside it."
        )
        raise FolderError(words) from error


def _serve(studio: Studio, port: int, key: str, tell: Callable[[str], None]) -> None:
    """Run the server."""
    from nicegui import app, ui

    from nookwright.studio import routes
    from nookwright.studio.guard import Guard

    _pages(studio)
    routes.add(app, studio)
    tasks: list[asyncio.Task[None]] = []

    def begin() -> None:
        gc.collect()
        gc.freeze()  # what is loaded stays: looking through it for waste holds every page up for a third of a second
        tasks.append(asyncio.ensure_future(studio.run()))
        tasks.append(asyncio.ensure_future(_told(port, lambda: tell(f"http://{HOST}:{port}/?key={key}"))))

    async def end() -> None:
        for task in tasks:
            task.cancel()
        await asyncio.gather(*tasks, return_exceptions=True)

    app.on_startup(begin)
    app.on_shutdown(end)
    app.add_middleware(Guard, port=port, key=key)
    ui.run(
        host=HOST,
        port=port,
        reload=False,
        show=False,
        tailwind=False,
        show_welcome_message=False,
        cache_control_directives="no-cache",
        binding_refresh_interval=None,
        reconnect_timeout=float(STAYS_S),
        gzip_middleware_factory=None,  # nothing goes further than this machine; and it hides a reader who left
        title="nookwright studio",
    )


def _pages(studio: Studio) -> None:
    """All pages."""
    from fastapi.responses import RedirectResponse
    from nicegui import ui

    from nookwright.studio.pages import layout, make, module, parts, prove, survey

    def shown(path: str, build: Callable[..., object]) -> None:
        ui.page(path, title="nookwright studio", language="en-US")(build)

    def survey_page(at: str = "") -> None:
        survey.build(studio, at=at)

    def layout_page(space: str = "", pick: str = "") -> None:
        layout.build(studio, space=space, pick=pick)

    def parts_page(lot: str = "") -> None:
        parts.build(studio, lot=lot)

    shown("/", lambda: RedirectResponse("/layout" if studio.room else "/survey"))
    shown("/survey", survey_page)
    shown("/module", lambda: module.build(studio))
    shown("/layout", layout_page)
    shown("/parts", parts_page)
    shown("/make", lambda: make.build(studio))
    shown("/prove", lambda: prove.build(studio))


async def _told(port: int, tell: Callable[[], None]) -> None:
    """Tell once the server answers."""
    while True:
        try:
            _, writer = await asyncio.open_connection(HOST, port)
        except OSError:
            await asyncio.sleep(_LOOK_S)
            continue
        writer.close()
        tell()
        sys.stdout.flush()
        return


def _free_port() -> int:
    """A port that nobody serves on."""
    with socket.socket() as probe:
        probe.bind((HOST, 0))
        return int(probe.getsockname()[1])
