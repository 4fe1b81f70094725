"""How long proving the demo takes, beside building it: processor time of one process, nothing remembered.

    python -m benchmarks.proving.against_building [--out ROW.json]

What is compared is the stage of proving with everything else but the search for the layout.
"""

from __future__ import annotations

import argparse
import json
import tempfile
import time
from pathlib import Path

from nookwright.build import build
from nookwright.ground.progress import Silent
from nookwright.survey.rooms import demo_path

SEARCH, PROOF = "planning", "proving"


class Clock(Silent):
    """Notes how much processor time each stage took, s."""

    def __init__(self) -> None:
        """Begin to count."""
        self.stages: dict[str, float] = {}
        self._name, self._began = "", time.process_time()

    def stage(self, name: str) -> None:
        """A stage ends, and another begins."""
        now = time.process_time()
        if self._name:
            self.stages[self._name] = self.stages.get(self._name, 0.0) + now - self._began
        self._name, self._began = name, now


def main() -> None:
    """Build the demo, print the time of every stage, and the two sums."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--out", type=Path)
    options = parser.parse_args()
    clock = Clock()
    with tempfile.TemporaryDirectory() as folder, demo_path() as room:
        build(room, Path(folder) / "kit", progress=clock)
    clock.stage("end")
    for name, seconds in clock.stages.items():
        print(f"{name:12} {seconds:6.1f} s")
    proving = clock.stages[PROOF]
    building = sum(seconds for name, seconds in clock.stages.items() if name not in (SEARCH, PROOF))
    print(f"proving {proving:.1f} s, building without the search {building:.1f} s")
    if options.out:
        rounded = {name: round(seconds, 1) for name, seconds in clock.stages.items()}
        options.out.write_text(json.dumps(rounded, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
