"""Progress of long work, told to whoever listens; a stage never knows who that is."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol, TypeVar

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

T = TypeVar("T")


class Progress(Protocol):
    """Somebody who wants to know how far the work has come."""

    def stage(self, name: str) -> None:
        """A stage begins; the one before it is over."""

    def track(self, items: Iterable[T], total: int, what: str) -> Iterator[T]:
        """Hand on the items one by one, counting them.

        Args:
            items: what is worked through.
            total: how many there are.
            what: what is being done, in a few words.
        """


class Silent:
    """Nobody listens."""

    def stage(self, name: str) -> None:
        """Say nothing."""

    def track(self, items: Iterable[T], total: int, what: str) -> Iterator[T]:  # noqa: ARG002 - the protocol's shape
        """Hand on the items and say nothing."""
        yield from items
