"""How long a hand waits in the studio: a page of 200 trays, a drawer in the round, a page while a kit is built.

    latency.py [--renew] [--drops N] [--room ROOM.toml]

Real Chromium, real server, real mouse, no solid remembered from before. Takes three minutes on a quiet machine; read
numbers beside the load that is said. ``--renew`` writes the table into docs/studio.md.
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
    from collections.abc import Callable, Iterator

    from playwright.sync_api import Locator, Page

ROOT = Path(__file__).resolve().parent.parent.parent
PAGE = ROOT / "docs" / "studio.md"
HERE = Path(__file__).resolve().parent
WAIT_MS = 300_000
TRAYS, FEW = 200, 2
LOADS = 5
PREPARED_S = 20
BEGIN, END = "<!-- latency: begin -->", "<!-- latency: end -->"
FLAGS = ("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-background-networking")
WATCH = """(begins) => {
  // from what a hand does to the frame that shows what came of it: another revision, or other parts marked as found
  const svg = document.querySelector("svg[data-rev]");
  window.took = [];
  let begun = 0;
  for (const name of begins) window.addEventListener(name, () => { begun = performance.now(); }, true);
  const seen = () => {
    if (!begun) return;
    const from = begun;
    begun = 0;
    requestAnimationFrame(() => setTimeout(() => window.took.push(performance.now() - from)));
  };
  new MutationObserver(seen).observe(svg, { attributes: true, attributeFilter: ["data-rev"] });
  if (!begins.includes("input")) return; // what is looked for costs time itself
  const marked = () => svg.querySelectorAll(".found").length;
  let before = marked();
  new MutationObserver(() => { if (marked() !== before) { before = marked(); seen(); } })
    .observe(svg, { attributes: true, subtree: true, attributeFilter: ["class"] });
}"""
OPENED = """(() => {
  // when the last of so many trays is on the page, from when it was asked for
  new MutationObserver((_, watch) => {
    if (document.querySelectorAll(".tray").length < TRAYS) return;
    watch.disconnect();
    requestAnimationFrame(() => setTimeout(() => { window.opened = performance.now(); }));
  }).observe(document, { childList: true, subtree: true });
})();"""


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


def _many_trays(folder: Path, times: int) -> Iterator[str]:
    """Rows of a drawer with 200 trays."""
    few = folder / "few" / "room.toml"
    with _page([str(HERE / "many_trays.py"), str(few), str(FEW)], few.parent) as page:
        least = statistics.median(_opened(page, FEW))
    room = folder / "many" / "room.toml"
    with _page([str(HERE / "many_trays.py"), str(room), str(TRAYS)], room.parent) as page:
        page.wait_for_selector(f".tray >> nth={TRAYS - 1}")
        yield _row(f"drop until the plan of {TRAYS} trays is redrawn", _drops(page, "cube-000", times), "50 ms")
        yield _row("a move taken back there, and made again", _undone(page, times // 2), "100 ms")
        yield _row("a tray that is to stay there", _stays(page, "cube-001", times // 2), "100 ms")
        yield _row("a search there, letter by letter", _searched(page, times // 4), "100 ms")
        opened = [one - least for one in _opened(page, TRAYS)]  # last: pages that were left are served for a while
        yield _row(f"what {TRAYS} trays add to opening the page ({least:.0f} ms with {FEW})", opened, "100 ms")


def _demo(folder: Path, room: Path | None, times: int) -> Iterator[str]:
    """Rows of the demo: its fullest drawer in the round, and a drop while its kit is built."""
    file = folder / "demo" / "room.toml"
    file.parent.mkdir()
    with nullcontext(room) if room else demo_path() as given:
        shutil.copy(given, file)
    serve = "import sys; from pathlib import Path; from nookwright.studio.main import serve; serve(Path(sys.argv[1]))"
    with _page(["-c", serve, str(file)], file.parent) as page:
        page.wait_for_selector(".tray")
        fullest = page.locator(f'button[data-space="{_fullest(page)}"]')
        fullest.click()
        _quiet(page)
        first, last = _round(page)
        yield _row("the demo's fullest drawer in the round, right after its plan: first picture", [first], "1000 ms")
        yield _row("the same: the last solid in it", [last], "")
        time.sleep(PREPARED_S)
        page.reload()
        fullest.click()
        _, last = _round(page)
        yield _row("the last solid on a new page, once it is made", [last], "1000 ms")
        page.goto(re.sub(r"/layout.*", "/make", page.url))
        page.locator('[data-do="build"]').click()
        page.wait_for_selector("progress")
        page.goto(re.sub(r"/make.*", "/layout", page.url))
        page.wait_for_selector(".tray")
        name = str(page.locator(".tray:not(.filler):not(.upper)").first.get_attribute("data-id"))
        yield _row("a key on the plan while the demo's kit is built", _stays(page, name, times // 2), "")


@contextmanager
def _page(command: list[str], folder: Path) -> Iterator[Page]:
    """A page of a studio that is started by a command, which remembers nothing from before."""
    folder.mkdir(parents=True, exist_ok=True)
    own = {**os.environ, "XDG_CACHE_HOME": str(folder / "cache")}
    with (folder / "studio.log").open("w", encoding="utf-8") as log:
        studio = subprocess.Popen([sys.executable, *command], stdout=subprocess.PIPE, stderr=log, text=True, env=own)
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


def _kept(page: Page) -> None:
    """Wait until all that is drawn is written down."""
    page.wait_for_function("!document.querySelector('[data-kept]').textContent.startsWith('Being')")


def _fullest(page: Page) -> str:
    """The space in which most parts stand."""
    counts: dict[str, int] = {}
    for button in page.locator("button[data-space]").all():
        button.click()
        name = str(button.get_attribute("data-space"))
        page.wait_for_selector(f'svg[data-space="{name}"]')
        counts[name] = page.locator(".tray").count()
    return max(counts, key=lambda one: counts[one])


def _opened(page: Page, trays: int) -> list[float]:
    """Open the page again and again: until all trays are on it."""
    page.wait_for_selector(f".tray >> nth={trays - 1}")
    page.add_init_script(OPENED.replace("TRAYS", str(trays)))
    took = []
    for _ in range(LOADS):
        page.reload()
        page.wait_for_function("window.opened")
        took.append(float(page.evaluate("window.opened")))
    return took


def _timed(page: Page, begins: list[str], times: int, do: Callable[[int], object]) -> list[float]:
    """Do something so many times: each from the event that it begins with to the frame that shows what came of it."""
    page.evaluate(WATCH, begins)
    for number in range(times):
        do(number)
        page.wait_for_function(f"window.took.length > {number}")
        _kept(page)
    return [float(one) for one in page.evaluate("window.took")]


def _drops(page: Page, name: str, times: int) -> list[float]:
    """Drag a tray to the front and back again with the mouse."""
    tray = page.locator(f'.tray[data-id="{name}"] rect')

    def drop(number: int) -> None:
        box = tray.bounding_box()
        if box is None:
            raise SystemExit(f"{name} is not to be seen")
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        page.mouse.move(x, y)
        page.mouse.down()
        page.mouse.move(x, y + (1 if number % 2 == 0 else -1) * box["height"] * 1.05, steps=8)
        page.mouse.up()

    return _timed(page, ["pointerup"], times, drop)


def _undone(page: Page, times: int) -> list[float]:
    """Take the last move back, and make it again, by the buttons."""
    ways: list[Locator] = [page.locator('[data-do="undo"]'), page.locator('[data-do="redo"]')]
    return _timed(page, ["click"], 2 * times, lambda number: ways[number % 2].click())


def _stays(page: Page, name: str, times: int) -> list[float]:
    """Let a part stay and be free again by its key."""
    tray = page.locator(f'.tray[data-id="{name}"]')

    def press(_: int) -> None:
        tray.focus()
        page.keyboard.press("s")

    return _timed(page, ["keydown"], times, press)


def _searched(page: Page, times: int) -> list[float]:
    """Search for fewer and fewer trays: each letter until the trays are marked."""
    field = page.locator("[data-find]")
    field.focus()
    keys = ["c", "Backspace"] * times  # all of them, and none
    return _timed(page, ["input"], len(keys), lambda number: page.keyboard.press(keys[number]))


def _round(page: Page) -> tuple[float, float]:
    """See a space in the round: from the click until something of it is drawn, and until all of it is solid."""
    start = time.perf_counter()
    page.locator('[data-do="solid"]').click()
    page.wait_for_selector('[data-state="rough"], [data-state="ready"]')
    first = 1000 * (time.perf_counter() - start)
    page.wait_for_selector('[data-state="ready"]')
    return first, 1000 * (time.perf_counter() - start)


if __name__ == "__main__":
    main()
