"""The process that does long work for the studio: it is told one job in a line of JSON, and says how it goes in lines.

It is started before it is needed, with the libraries loaded, and waits; it does one job, then what is likely to be
asked for next, and ends. Whoever wants it to stop kills it: kits are replaced whole or not at all, all else it writes
is a file in a folder of its own, or in the store of meshes.

In::   {"job": "plan", "room": "room.toml", "out": "folder"}
Out::  {"ready": true} {"stage": "planning"} {"doing": "...", "done": 3, "of": 10}
       {"arrived": "file"}, a part of the result that is there already
       {"result": {...}} or {"faults": [...]} or {"error": "..."}
"""

from __future__ import annotations

import contextlib
import json
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any, TextIO, TypeVar

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

T = TypeVar("T")


class Lines:
    """Progress as lines of JSON, no more than one for each hundredth."""

    def __init__(self, out: TextIO) -> None:
        """Say it to a stream."""
        self._out = out

    def say(self, **content: object) -> None:
        """Say one line."""
        self._out.write(json.dumps(content) + "\n")
        self._out.flush()

    def stage(self, name: str) -> None:
        """A stage begins."""
        self.say(stage=name)

    def arrived(self, file: Path) -> None:
        """A part of the result is there."""
        self.say(arrived=str(file))

    def track(self, items: Iterable[T], total: int, what: str) -> Iterator[T]:
        """Hand on items, and count them aloud."""
        said = -1
        for number, item in enumerate(items):
            share = 100 * number // max(total, 1)
            if share != said:
                self.say(doing=what, done=number, of=total)
                said = share
            yield item


def main() -> None:
    """Load, say ready, do the one job."""
    out = sys.stdout
    sys.stdout = sys.stderr  # whatever else prints does not get between the lines
    from nookwright.studio import solid_files, work

    lines = Lines(out)
    solid_files.load_ahead()
    lines.say(ready=True)
    line = sys.stdin.readline()
    if line:
        do(json.loads(line), work.JOBS, lines)


def do(asked: dict[str, Any], jobs: dict[str, Any], lines: Lines) -> None:
    """Do one job and say what came of it."""
    from nookwright.ground.errors import NookwrightError, RoomError

    paths: dict[str, Path] = {key: Path(asked[key]) for key in ("room", "out") if key in asked}
    options = {key: value for key, value in asked.items() if key not in {"job", *paths}}
    try:
        result = jobs[asked["job"]](**paths, **options, progress=lines)
    except RoomError as error:
        lines.say(faults=[vars(fault) for fault in error.faults])
    except NookwrightError as error:
        lines.say(error=str(error))
    else:
        lines.say(result=result)
        _afterwards(asked["job"], paths)


def _afterwards(job: str, paths: dict[str, Path]) -> None:
    """Do what is likely to be asked for next, as long as nobody stops it, and only where nothing else wants to work."""
    from nookwright.ground.errors import NookwrightError
    from nookwright.studio import work

    if job in work.AFTERWARDS:
        with contextlib.suppress(AttributeError, OSError):
            os.nice(int(work.NICE))
        with contextlib.suppress(NookwrightError, OSError):
            work.AFTERWARDS[job](paths["out"])


if __name__ == "__main__":
    main()
