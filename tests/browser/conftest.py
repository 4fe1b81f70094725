"""The studio in a real Chromium: a server with a room for each test file, and a page that forgives nothing."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from dataclasses import dataclass
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import expect, sync_playwright

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from playwright.sync_api import Browser, Page

NAMES = ("chromium", "chromium-browser", "google-chrome")
FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
)  # fmt: skip
WAIT_MS = 60_000  # far more than on a quiet machine
expect.set_options(timeout=WAIT_MS)
SERVE = "import sys; from pathlib import Path; from nookwright.studio.main import serve; serve(Path(sys.argv[1]))"

ROOM = """\
# a drawer, invented
format = 1

[room]
name = "A drawer to try"

[choices.colours]
liner = "white"

[[space]]
id = "drawer"
name = "The drawer"
kind = "drawer"
width = 260
depth = 200
height = 70
floor_height = 1000
load_kg = 6

[[space]]
id = "shelf"
name = "The shelf"
kind = "shelf"
width = 200
depth = 160
height = 90
floor_height = 1900
load_kg = 6
children = false

[[lot]]
id = "corks"
name = "Corks"
shape = "round"
diameter = 22
height = 40
count = 3
mass_g = 4

[[lot]]
id = "dice"
name = "Dice"
shape = "box"
width = 16
depth = 16
height = 16
count = 10
mass_g = 5

[[lot]]
id = "notes"
name = "Notes"
shape = "flat"
width = 76
depth = 76
thickness = 0.1
count = 100
mass_g = 0.5

[[printer]]
id = "one"
bed_width = 220
bed_depth = 220
bed_height = 200
materials = ["white"]

[[material]]
id = "white"
colour = "#f2f2f2"
density_g_cm3 = 1.24
price_per_kg = 20
"""


@dataclass(frozen=True)
class Served:
    """A studio that runs."""

    address: str
    room_file: Path
    process: subprocess.Popen[str]

    @property
    def home(self) -> str:
        """The address without its key."""
        parts = urlsplit(self.address)
        return f"{parts.scheme}://{parts.netloc}"


def start(room_file: Path) -> Served:
    """Start the studio of a room file as a person would, in a process of its own."""
    clean = {name: value for name, value in os.environ.items() if not name.startswith(("PYTEST", "NICEGUI"))}
    command = [sys.executable, "-c", SERVE, str(room_file)]
    with room_file.with_name("studio.log").open("w", encoding="utf-8") as log:
        process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=log, text=True, env=clean)
    line = process.stdout.readline() if process.stdout else ""
    if not line.startswith("http"):
        process.kill()
        raise AssertionError(f"the studio did not start: {line}{room_file.with_name('studio.log').read_text()}")
    return Served(line.strip(), room_file, process)


def stop(served: Served) -> None:
    """End it as Ctrl-C does."""
    served.process.terminate()
    served.process.communicate(timeout=20)


@pytest.fixture(scope="module")
def room_text() -> str:
    """The room of a test file; a file with another one has its own fixture of this name."""
    return ROOM


@pytest.fixture(scope="module")
def served(room_text: str, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A studio with a room of this test file."""
    room_file = tmp_path_factory.mktemp("studio") / "room.toml"
    room_file.write_text(room_text, encoding="utf-8")
    studio = start(room_file)
    yield studio
    stop(studio)
    assert "Traceback" not in room_file.with_name("studio.log").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """Debian's Chromium, or another one that is installed."""
    path = next((found for name in NAMES if (found := shutil.which(name))), None)
    if path is None:
        if os.environ.get("CI"):
            pytest.fail("no Chromium on this machine: .ci/run installs it")
        pytest.skip("no Chromium on this machine: install the package chromium")
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=path, args=list(FLAGS))
        yield chromium
        chromium.close()


@pytest.fixture
def page(browser: Browser, served: Served) -> Iterator[Page]:
    """A page of the studio; an error of a script, one in the console, or a request to elsewhere fails the test."""
    context = browser.new_context(viewport={"width": 1440, "height": 900})
    context.set_default_timeout(WAIT_MS)
    new = context.new_page()
    wrong: list[str] = []
    new.on("pageerror", lambda error: wrong.append(f"script: {error}"))
    new.on("console", lambda said: wrong.append(f"console: {said.text}") if said.type == "error" else None)
    new.on("request", lambda asked: wrong.append(f"left: {asked.url}") if _leaves(asked.url, served.home) else None)
    new.goto(served.address)
    yield new
    context.close()
    assert wrong == []


def _leaves(address: str, home: str) -> bool:
    """Whether a request goes anywhere but to the studio."""
    return not address.startswith((f"{home}/", f"{home.replace('http', 'ws')}/", "data:", f"blob:{home}"))
