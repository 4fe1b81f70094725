"""How cautions name what they are about: the first few by name, the rest counted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterable

AT_MOST = Fact(3, unit="1", kind=Kind.CHOICE, source="Names that a sentence bears.")


def named(names: Iterable[str]) -> str:
    """Names in their order, each once.

    >>> named(["Forks", "Forks"]), named(["Cups", "Forks"]), named("abcd"), named("abcde")
    ('Forks', 'Cups and Forks', 'a, b, c and d', 'a, b, c and 2 more')
    """
    once, most = list(dict.fromkeys(names)), int(AT_MOST)
    if len(once) > most + 1:
        return f"{', '.join(once[:most])} and {len(once) - most} more"
    return " and ".join((", ".join(once[:-1]), once[-1])) if len(once) > 1 else "".join(once)
