"""How long a hand waits in the studio: a drop with 200 trays, a solid drawer, a page while a kit is built.

    latency.py [--renew] [--drops N] [--room ROOM.toml]

Real Chromium, real server, real mouse. Takes two minutes on a quiet machine; read numbers beside the load that is said.
``--renew`` writes the table into docs/studio.md.
"""

from __future__ import annotations

import argparse
import os
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from contextlib import contextmanager, nullcontext
from pathlib import Path
from typing import TYPE_CHECKING

from playwright.sync_api import sync_playwright

from nookwright.survey.rooms import demo_path

if TYPE_CHECKING:
    from collections.abc import Iterator

    from playwright.sync_api import Page

ROOT = Path(__file__).resolve().parent.parent.parent
PAGE = ROOT / "docs" / "studio.md"
HERE = Path(__file__).resolve().parent
WAIT_MS = 300_000
TRAYS = 200
PREPARED_S = 20
BEGIN, END = "<!-- latency: begin -->", "<!-- latency: end -->"
FLAGS = ("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-background-networking")
WATCH = """() => {
  const svg = document.querySelector("svg[data-rev]");
  window.took = [];
  let let_go = 0;
  svg.addEventListener("pointerup", () => { let_go = performance.now(); }, true);
  new MutationObserver(() => {
    if (!let_go) return;
    const from = let_go;
    let_go = 0;
    requestAnimationFrame(() => setTimeout(() => window.took.push(performance.now() - from)));
  }).observe(svg, { attributes: true, attributeFilter: ["data-rev"] });
}"""


def main() -> None:
    """Measure all of it, and say it or write it down."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--renew", action="store_true")
    asked.add_argument("--drops", type=int, default=20)
    asked.add_argument("--room", type=Path, help="instead of the demo")
    options = asked.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        rows = [*_many_trays(Path(folder), options.drops), *_demo(Path(folder), options.room, options.drops)]
    table = "\n".join(["| what | median | 95 % | wanted |", "|---|---|---|---|", *rows])
    said = f"{table}\n\nOn {os.cpu_count()} shared cores at a load of {os.getloadavg()[0]:.1f}.\n"
    sys.stdout.write(said)
    if options.renew:
        text = PAGE.read_text(encoding="utf-8")
        pattern = re.compile(f"{re.escape(BEGIN)}.*?{re.escape(END)}", re.DOTALL)
        PAGE.write_text(pattern.sub(lambda _: f"{BEGIN}\n{said}{END}", text), encoding="utf-8")


def _many_trays(folder: Path, drops: int) -> Iterator[str]:
    """Rows of a drawer with 200 trays."""
    room = folder / "many" / "room.toml"
    with _page([str(HERE / "many_trays.py"), str(room), str(TRAYS)], room.parent) as page:
        page.wait_for_selector(f".tray >> nth={TRAYS - 1}")
        yield _row(f"drop until the plan of {TRAYS} trays is redrawn", _drops(page, "cube-000", drops), "50 ms")


def _demo(folder: Path, room: Path | None, drops: int) -> Iterator[str]:
    """Rows of the demo: its fullest drawer in the round, and a drop while its kit is built."""
    file = folder / "demo" / "room.toml"
    file.parent.mkdir()
    with nullcontext(room) if room else demo_path() as given:
        shutil.copy(given, file)
    serve = "import sys; from pathlib import Path; from nookwright.studio.main import serve; serve(Path(sys.argv[1]))"
    with _page(["-c", serve, str(file)], file.parent) as page:
        page.wait_for_selector(".tray")
        _quiet(page)
        fullest = page.locator(f'button[data-space="{_fullest(page)}"]')
        fullest.click()
        time.sleep(PREPARED_S)
        yield _row(f"the demo's fullest drawer in the round, {PREPARED_S} s after its plan", [_round(page)], "1000 ms")
        page.reload()
        fullest.click()
        yield _row("the same again, on a new page", [_round(page)], "")
        page.goto(re.sub(r"/layout.*", "/make", page.url))
        page.locator('[data-do="build"]').click()
        page.wait_for_selector("progress")
        page.goto(re.sub(r"/make.*", "/layout", page.url))
        page.wait_for_selector(".tray")
        name = str(page.locator(".tray:not(.filler):not(.upper)").first.get_attribute("data-id"))
        yield _row("a key on the plan while the demo's kit is built", _turns(page, name, drops // 2), "")


@contextmanager
def _page(command: list[str], folder: Path) -> Iterator[Page]:
    """A page of a studio that is started by a command."""
    folder.mkdir(parents=True, exist_ok=True)
    with (folder / "studio.log").open("w", encoding="utf-8") as log:
        studio = subprocess.Popen([sys.executable, *command], stdout=subprocess.PIPE, stderr=log, text=True)
    address = studio.stdout.readline().strip() if studio.stdout else ""
    path = next(found for name in ("chromium", "chromium-browser", "google-chrome") if (found := shutil.which(name)))
    try:
        with sync_playwright() as playwright:
            chromium = playwright.chromium.launch(executable_path=path, args=list(FLAGS))
            page = chromium.new_page(viewport={"width": 1440, "height": 900})
            page.set_default_timeout(WAIT_MS)
            page.goto(address)
            yield page
            chromium.close()
    finally:
        studio.terminate()
        studio.wait(timeout=20)


def _row(what: str, took_ms: list[float], wanted: str) -> str:
    """A row of the table."""
    late = sorted(took_ms)[min(len(took_ms) - 1, round(0.95 * len(took_ms)))]
    return f"| {what} | {statistics.median(took_ms):.0f} ms | {late:.0f} ms | {wanted} |"


def _quiet(page: Page) -> None:
    """Wait until no job runs."""
    page.locator("[data-job]", has_text="Nothing to wait for").wait_for()


def _fullest(page: Page) -> str:
    """The space in which most parts stand."""
    counts: dict[str, int] = {}
    for button in page.locator("button[data-space]").all():
        button.click()
        name = str(button.get_attribute("data-space"))
        page.wait_for_selector(f'svg[data-space="{name}"]')
        counts[name] = page.locator(".tray").count()
    return max(counts, key=lambda one: counts[one])


def _drops(page: Page, name: str, times: int) -> list[float]:
    """Drag a tray to the front and back again with the mouse: from letting go to the frame with the new plan."""
    page.evaluate(WATCH)
    for number in range(times):
        box = page.locator(f'.tray[data-id="{name}"] rect').bounding_box()
        if box is None:
            raise SystemExit(f"{name} is not to be seen")
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        page.mouse.move(x, y)
        page.mouse.down()
        page.mouse.move(x, y + (1 if number % 2 == 0 else -1) * box["height"] * 1.05, steps=8)
        page.mouse.up()
        page.wait_for_function(f"window.took.length > {number}")
        page.wait_for_function("!document.querySelector('[data-kept]').textContent.startsWith('Being')")
    return [float(one) for one in page.evaluate("window.took")]


def _turns(page: Page, name: str, times: int) -> list[float]:
    """Let a part stay and be free again by its key: until the plan is redrawn."""
    took = []
    tray = page.locator(f'.tray[data-id="{name}"]')
    for _ in range(times):
        rev = int(page.locator("svg[data-rev]").get_attribute("data-rev") or 0)
        tray.focus()
        start = time.perf_counter()
        page.keyboard.press("s")
        page.wait_for_selector(f'svg[data-rev="{rev + 1}"]')
        took.append(1000 * (time.perf_counter() - start))
        page.wait_for_function("!document.querySelector('[data-kept]').textContent.startsWith('Being')")
    return took


def _round(page: Page) -> float:
    """See a space in the round: from the click until it is drawn."""
    start = time.perf_counter()
    page.locator('[data-do="solid"]').click()
    page.wait_for_selector('[data-state="ready"]')
    return 1000 * (time.perf_counter() - start)


if __name__ == "__main__":
    main()
