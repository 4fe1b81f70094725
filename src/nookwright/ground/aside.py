"""Work that runs aside while other work goes on; an interrupted program does not wait for it."""

from __future__ import annotations

from threading import Thread
from typing import TYPE_CHECKING, Generic, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable

Result = TypeVar("Result")


class Aside(Generic[Result]):
    """A function that runs in a thread of its own from the moment it is handed in.

    >>> Aside(lambda: 6 * 7).result()
    42
    """

    def __init__(self, work: Callable[[], Result]) -> None:
        self._work = work
        self._found: list[Result] = []
        self._error: BaseException | None = None
        self._thread = Thread(target=self._run, daemon=True)
        self._thread.start()

    def _run(self) -> None:
        try:
            self._found.append(self._work())
        except BaseException as error:  # noqa: BLE001 - it is raised again where the result is asked for
            self._error = error

    def result(self) -> Result:
        """What the function gives, once it has ended; what it raises is raised here."""
        self._thread.join()
        if self._error is not None:
            raise self._error
        return self._found[0]
