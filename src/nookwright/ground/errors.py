"""Everything that can go wrong, as one tree.

::

    NookwrightError
    ├── RoomError (ValueError)          the room file cannot be used; carries every fault found
    ├── LengthError (ValueError)        a typed length that cannot be read for certain
    ├── TimeError (ValueError)          a typed time, duration or number that cannot be read for certain
    ├── RecipeError (ValueError)        a shape that could not be made, refused before any kernel sees it
    ├── SolidError (RuntimeError)       a kernel failed or returned what is no solid
    ├── LayoutError (RuntimeError)      the solver failed (a room too small is a finding, not an error)
    ├── FileFormatError (ValueError)    a file that we wrote, or should read, does not hold what it must
    ├── MissingExtraError (ImportError) a library that is installed on request only is not there
    └── FolderError (OSError)           a folder that may not be replaced, or could not be

Each leaf also derives from the built-in that a caller would expect, so ``except ValueError`` works.
"""

from __future__ import annotations

from dataclasses import dataclass


class NookwrightError(Exception):
    """The base of all errors that this package raises on purpose."""


@dataclass(frozen=True, order=True)
class Fault:
    """One thing that is wrong in a file.

    Attributes:
        file: path of the file as the user gave it.
        line: line in it, counted from 1; 0 where no line can be named (a key that is missing altogether).
        key: the key in words a user can search for, such as ``space.bench-left.width``.
        found: what stands there, as typed.
        allowed: what may stand there.
        remedy: what to do about it, as an imperative sentence.
    """

    file: str
    line: int
    key: str
    found: str
    allowed: str
    remedy: str

    def __str__(self) -> str:
        where = f"{self.file}:{self.line}" if self.line else self.file
        return f"{where}: {self.key}: found {self.found}; allowed: {self.allowed}. {self.remedy}"


class RoomError(NookwrightError, ValueError):
    """The room file cannot be used; ``faults`` holds all that is wrong with it, in order of lines."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        self.faults = tuple(sorted(faults))
        super().__init__("\n".join(str(fault) for fault in self.faults))


class LengthError(NookwrightError, ValueError):
    """A typed length that cannot be read for certain; the message says what is allowed."""


class TimeError(NookwrightError, ValueError):
    """A typed time, duration or plain number that cannot be read for certain; the message says what is allowed."""


class RecipeError(NookwrightError, ValueError):
    """A region or solid that cannot be made: the message names the rule and the value."""


class SolidError(NookwrightError, RuntimeError):
    """A geometry kernel failed, or what it returned is no closed solid."""


class LayoutError(NookwrightError, RuntimeError):
    """The solver of the layout failed; a room that is too small is a finding instead."""


class FileFormatError(NookwrightError, ValueError):
    """A file does not hold what its format demands."""


class MissingExtraError(NookwrightError, ImportError):
    """A library that comes with an extra of this package is not installed; the message says how to get it."""


class FolderError(NookwrightError, OSError):
    """A folder that may not be replaced, because it holds what this tool did not write, or could not be."""
