"""Cases by number in child processes: one that takes too long, or takes its process down, costs that case alone.

A child is this module's caller again (``python -m <its name> --from .. --count ..``). It tells of each case when it
begins and how it ended, a line of JSON each; nothing said for too long is a time-out.
"""

from __future__ import annotations

import json
import subprocess
import sys
from threading import Timer
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

Told = dict[str, Any]


def cases(module: str, first: int, count: int, *, limit_s: float, extra: Sequence[str] = ()) -> Iterator[Told]:
    """How each of some cases ended, in order.

    Args:
        module: name of the script, such as ``fuzz.parts``.
        first: number of the first case.
        count: how many.
        limit_s: longest time for one case, s.
        extra: further arguments for the child.

    Yields:
        What the child told of the case, with ``case`` and ``verdict``; ``time-out`` where it was stopped, ``crash``
        where its process died.
    """
    last = first + count
    while first < last:
        command = [sys.executable, "-m", module, "--from", str(first), "--count", str(last - first), *extra]
        with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:  # noqa: S603 - ourselves
            killer = _Killer(process, limit_s)
            begun: Told | None = None
            try:
                for line in process.stdout or ():
                    begun = json.loads(line)
                    killer.again()
                    if "verdict" in begun:
                        first = begun["case"] + 1
                        yield begun
            finally:  # also where the caller has had enough
                killer.stop()
                process.kill()
        if begun is None:
            raise RuntimeError(f"{module} did not begin case {first}; what its process said stands above")
        if first < last and first <= begun["case"]:
            yield {**begun, "verdict": "time-out" if killer.killed else "crash", "words": "its process ended"}
            first = begun["case"] + 1


def tell(first: int, count: int, begin: Callable[[int], Told], tried: Callable[[int], Told]) -> None:
    """Run cases in a child, telling of each.

    Args:
        first: number of the first case.
        count: how many.
        begin: what to say of a case before it is tried.
        tried: how it ended, with its ``verdict``.
    """
    for case in range(first, first + count):
        _say({"case": case, **begin(case)})
        try:
            told = tried(case)
        except Exception as error:  # noqa: BLE001 - whatever it is, it is a finding
            told = {"verdict": "crash", "words": f"{type(error).__name__}: {error}"}
        _say({"case": case, **begin(case), **told})


def _say(told: Told) -> None:
    sys.stdout.write(json.dumps(told) + "\n")
    sys.stdout.flush()


class _Killer:
    """Stops a process that has said nothing for too long."""

    def __init__(self, process: subprocess.Popen[str], limit_s: float) -> None:
        self._process, self._limit_s, self.killed = process, limit_s, False
        self._timer: Timer | None = None
        self.again()

    def again(self) -> None:
        """Begin to wait."""
        self.stop()
        self._timer = Timer(self._limit_s, self._kill)
        self._timer.daemon = True
        self._timer.start()

    def stop(self) -> None:
        """Wait no longer."""
        if self._timer is not None:
            self._timer.cancel()

    def _kill(self) -> None:
        self.killed = True
        self._process.kill()
