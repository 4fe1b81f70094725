"""What a gesture changes in the parts that a page shows, so that no more than that is sent to it.

Vocabulary: a *patch* says by numbers of a list which of its items became otherwise, and which are gone.

Promise: a patch holds keys of ours, numbers and yes or no, and no word that a person has typed. What it does not know:
items that are new; then all is sent.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence


@dataclass(frozen=True)
class Patch:
    """A change of a list of items.

    Attributes:
        changed: number of an item, with the keys that it has other values for.
        gone: numbers of items that are no more.
    """

    changed: tuple[tuple[int, dict[str, float]], ...] = ()
    gone: tuple[int, ...] = ()

    @property
    def sent(self) -> dict[str, Any]:
        """As it travels."""
        return {"changed": [[number, keys] for number, keys in self.changed], "gone": list(self.gone)}

    def made(self, items: Sequence[Mapping[str, Any]]) -> tuple[Mapping[str, Any], ...]:
        """The items after it.

        Args:
            items: before it.
        """
        other = dict(self.changed)
        left = frozenset(self.gone)
        return tuple({**one, **other.get(number, {})} for number, one in enumerate(items) if number not in left)


NOTHING = Patch()


def patch_between(before: Sequence[Mapping[str, Any]], after: Sequence[Mapping[str, Any]]) -> Patch | None:
    """What makes items of others, in whatever order both are; nothing where a patch cannot say it.

    Args:
        before: items, each with an ``id`` of its own.
        after: the same.
    """
    then = {one["id"]: one for one in after}
    changed: list[tuple[int, dict[str, float]]] = []
    gone: list[int] = []
    for number, one in enumerate(before):
        new = then.pop(one["id"], None)
        if new is None:
            gone.append(number)
        elif new != one:
            keys = {key: value for key, value in new.items() if one.get(key) != value}
            if not all(isinstance(value, int | float) for value in keys.values()):
                return None
            changed.append((number, keys))
    return None if then else Patch(tuple(changed), tuple(gone))
