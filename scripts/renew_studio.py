"""Renew the pictures of the studio in docs/pictures, from the demo, in a real Chromium.

::

    python -m uv run python scripts/renew_studio.py

Takes a minute. Pictures are brought to few colours where Pillow is there, and else taken smaller.
"""

from __future__ import annotations

import io
import shutil
import subprocess
import sys
import tempfile
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

from playwright.sync_api import sync_playwright

from nookwright.survey.rooms import demo_path

if TYPE_CHECKING:
    from collections.abc import Iterator

    from playwright.sync_api import Browser, Page

PICTURES = Path(__file__).resolve().parent.parent / "docs" / "pictures"
SERVE = "import sys; from pathlib import Path; from nookwright.studio.main import serve; serve(Path(sys.argv[1]))"
FLAGS = ("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-background-networking")
DESK, PHONE = (1440, 900), (390, 844)
SPACE, PICK = "bench-left", "hex-keys-4"
SHOTS = (
    ("survey", f"/survey?at=space.{SPACE}", DESK, "light"),
    ("layout", f"/layout?pick={PICK}", DESK, "light"),
    ("layout-dark", f"/layout?pick={PICK}", DESK, "dark"),
    ("make", "/make", DESK, "light"),
    ("phone", f"/layout?pick={PICK}", PHONE, "light"),
)
COLOURS, SMALLER, WAIT_MS = 48, 0.6, 300_000


def main() -> None:
    """Take all pictures."""
    with tempfile.TemporaryDirectory() as folder, _studio(Path(folder)) as address, _chromium() as chromium:
        first = chromium.new_page()
        first.set_default_timeout(WAIT_MS)
        first.goto(address)
        _quiet(first)
        home = "{0.scheme}://{0.netloc}".format(urlsplit(address))
        for name, path, size, light in SHOTS:
            with _opened(chromium, first, size, light) as page:
                page.goto(f"{home}{path}")
                _quiet(page)
                if path.startswith("/layout"):
                    page.locator(".tray.picked").wait_for()
                (PICTURES / f"studio-{name}.png").write_bytes(_small(page.screenshot()))
    sys.stdout.write("renewed docs/pictures/studio-*.png\n")


@contextmanager
def _studio(folder: Path) -> Iterator[str]:
    """The studio of the demo: its address."""
    room = folder / "room.toml"
    with demo_path() as given:
        shutil.copy(given, room)
    with (folder / "studio.log").open("w", encoding="utf-8") as log:
        command = [sys.executable, "-c", SERVE, str(room)]
        studio = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=log, text=True)
    try:
        yield studio.stdout.readline().strip() if studio.stdout else ""
    finally:
        studio.terminate()
        studio.wait(timeout=20)


@contextmanager
def _chromium() -> Iterator[Browser]:
    """A browser."""
    path = next(found for name in ("chromium", "chromium-browser", "google-chrome") if (found := shutil.which(name)))
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=path, args=list(FLAGS))
        yield chromium
        chromium.close()


@contextmanager
def _opened(chromium: Browser, first: Page, size: tuple[int, int], light: str) -> Iterator[Page]:
    """A page of a size; the cookie of the first page opens the studio to it."""
    context = chromium.new_context(
        viewport={"width": size[0], "height": size[1]},
        color_scheme="dark" if light == "dark" else "light",
        device_scale_factor=1.0 if _pillow() else SMALLER,
        storage_state=first.context.storage_state(),
    )
    page = context.new_page()
    page.set_default_timeout(WAIT_MS)
    yield page
    context.close()


def _quiet(page: Page) -> None:
    """Wait until no job runs and all is drawn."""
    page.locator("[data-job]", has_text="Nothing to wait for").wait_for()
    page.wait_for_load_state("networkidle")


def _pillow() -> bool:
    """Whether colours can be made fewer."""
    try:
        import PIL  # noqa: F401
    except ImportError:
        return False
    return True


def _small(png: bytes) -> bytes:
    """A picture in few colours."""
    if not _pillow():
        return png
    from PIL import Image

    kept = io.BytesIO()
    picture = Image.open(io.BytesIO(png)).convert("RGB")
    picture.quantize(COLOURS, dither=Image.Dither.NONE).save(kept, "PNG", optimize=True)
    return kept.getvalue()


if __name__ == "__main__":
    main()
