"""Whether pages that were left are given back: memory, tasks and listeners while a person leaves page after page.

    left_pages.py ROOM.toml [PAGES]

Says a line every five seconds, and goes on until nothing of the pages is left, or a minute has passed.
"""

from __future__ import annotations

import asyncio
import subprocess
import sys
import threading
import time
from pathlib import Path

from playwright.sync_api import sync_playwright

from nookwright.studio import main, state

STAGES = "layout", "parts", "survey", "make"
LOOK_S = 5.0
PATIENCE_S = 60.0


def memory_mb() -> int:
    """What this process holds."""
    held = next(line for line in Path("/proc/self/status").read_text("utf-8").splitlines() if line.startswith("VmRSS"))
    return int(held.split()[1]) // 1024


class Watched(state.Studio):
    """A studio that says every few seconds how much it has to do."""

    async def run(self) -> None:
        """As it always does, and watched."""
        threading.Thread(target=self.watch, args=(asyncio.get_running_loop(),), daemon=True).start()
        await super().run()

    def watch(self, loop: asyncio.AbstractEventLoop) -> None:
        """Say how much there is, for ever."""
        from nicegui import Client

        while True:
            tasks = len(asyncio.all_tasks(loop))
            print(f"pages {len(Client.instances)}, tasks {tasks}, listeners {len(self._heard)}, {memory_mb()} MB",
                  flush=True)  # fmt: skip
            time.sleep(LOOK_S)


def serve(room_file: Path) -> None:
    """Serve it, watched, until interrupted."""

    def opened(room_file: Path, scratch: Path) -> state.Studio:
        return Watched(room_file, scratch)

    main._opened = opened  # noqa: SLF001 - the server's own way in is kept
    main.serve(room_file)


def leave(room_file: Path, pages: int = 200) -> None:
    """Open one page after another, and see what becomes of those that were left."""
    command = [sys.executable, __file__, "--serve", str(room_file)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as server, sync_playwright() as playwright:
        said = iter(server.stdout.readline, "") if server.stdout else iter(())
        address = next(line for line in said if line.startswith("http")).strip()
        lines: list[str] = []
        threading.Thread(target=lambda: lines.extend(tell(line) for line in said), daemon=True).start()
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=["--headless", "--no-sandbox"])
        page = browser.new_page()
        page.goto(address)
        home = address.partition("?")[0]
        for number in range(pages):
            page.goto(f"{home}{STAGES[number % len(STAGES)]}", wait_until="domcontentloaded")
            page.locator("[data-job]").wait_for(state="attached")
        browser.close()
        print(f"{pages} pages were left", flush=True)
        end = time.monotonic() + PATIENCE_S
        while time.monotonic() < end and not (lines and lines[-1].startswith("pages 0,")):
            time.sleep(1)
        server.terminate()


def tell(line: str) -> str:
    """Say it here too."""
    print(line, end="", flush=True)
    return line


if __name__ == "__main__":
    if sys.argv[1] == "--serve":
        serve(Path(sys.argv[2]))
    else:
        leave(Path(sys.argv[1]), *map(int, sys.argv[2:]))
