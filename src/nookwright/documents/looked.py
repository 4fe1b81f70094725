"""What proving looked at, as it stands in kit.json."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.exchange.kit import KitLooked

if TYPE_CHECKING:
    from collections.abc import Iterable

    from nookwright.checks.prove import Looked


def looked_records(looked: Iterable[Looked]) -> tuple[KitLooked, ...]:
    """The records of what was looked at; things that the kit has none of are left out.

    Args:
        looked: in the order in which it was.
    """
    return tuple(
        KitLooked(what=one.what, count=one.count, findings=len(set(one.findings))) for one in looked if one.count
    )
