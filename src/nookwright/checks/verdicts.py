"""Verdicts that were reached before, kept on disk under the content that they are about.

A verdict is only ever a saving of time: one that is missing, unreadable or cannot be stored is reached anew.
"""

from __future__ import annotations

import json
import os
from contextlib import suppress
from typing import TYPE_CHECKING

from nookwright import __version__
from nookwright.ground.digest import digest

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

# Raised when a check changes what it finds, so that old verdicts are no longer believed.
CHECKER = f"{__version__}/5"


class Verdicts:
    """A folder of verdicts; each is a short list of numbers."""

    def __init__(self, folder: Path | None) -> None:
        """Use a folder.

        Args:
            folder: made when the first verdict is stored; ``None`` to remember nothing.
        """
        self._folder = folder

    def of(self, question: str, reach: Callable[[], tuple[float, ...]]) -> tuple[float, ...]:
        """The verdict on a question, from the folder or reached now.

        Args:
            question: says all that the verdict depends on.
            reach: reaches the verdict.
        """
        if self._folder is None:
            return reach()
        path = self._folder / f"{digest(f'{CHECKER} {question}')}.json"
        known = _read(path, question)
        if known is None:
            known = reach()
            _store(path, question, known)
        return known


def _read(path: Path, question: str) -> tuple[float, ...] | None:
    """A stored verdict, or nothing where it is missing or not whole."""
    try:
        content = json.loads(path.read_text(encoding="utf-8"))
        if content["question"] == question:
            return tuple(float(number) for number in content["verdict"])
    except (OSError, ValueError, TypeError, KeyError):
        pass
    return None


def _store(path: Path, question: str, verdict: tuple[float, ...]) -> None:
    """Store a verdict beside and rename it, so that nobody reads half of one."""
    beside = path.with_suffix(f".{os.getpid()}")
    with suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True)
        beside.write_text(json.dumps({"question": question, "verdict": verdict}), encoding="utf-8")
        beside.replace(path)
