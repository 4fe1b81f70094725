"""Ways that another one of the same lot beats in everything are dropped before anything is made of them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol, TypeVar

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind

if TYPE_CHECKING:
    from collections.abc import Iterable

GUTTER = Fact(
    8.0,
    unit="1",
    kind=SourceKind.CHOICE,
    source="An inside this many times as long as it is wide is a gutter; kept only where nothing else goes in.",
)


class Measured(Protocol):
    """What a way is judged by; less is better in all of it."""

    @property
    def inner_width(self) -> float: ...  # noqa: D102 - as of ``Way``, like those that follow
    @property
    def inner_depth(self) -> float: ...  # noqa: D102
    @property
    def stack_height(self) -> float: ...  # noqa: D102
    @property
    def wall_height(self) -> float: ...  # noqa: D102
    @property
    def trouble(self) -> float: ...  # noqa: D102


Kind = TypeVar("Kind", bound=Measured)


def undominated(ways: Iterable[Kind]) -> list[Kind]:
    """The ways that no other one beats, in their order; of equal ones the first.

    Ways are compared that are made of the same kind of part with the same floor, so that they weigh alike.

    Args:
        ways: of one lot and one kind of part.
    """
    every = list(ways)
    wide = [way for way in every if _gutter(way) <= 0] or every
    measured = [
        (one.inner_width, one.inner_depth, one.stack_height, one.wall_height, one.trouble, number)
        for number, one in enumerate(wide)
    ]
    kept: list[tuple[float, float, float, float, float, int]] = []
    for new in sorted(measured):
        width, depth, stack, wall, trouble, _ = new
        if not any(o[1] <= depth and o[2] <= stack and o[3] <= wall and o[4] <= trouble for o in kept if o[0] <= width):
            kept.append(new)
    return [wide[number] for number in sorted(one[-1] for one in kept)]


def _gutter(way: Measured) -> float:
    """Above 0 where an inside is a gutter."""
    short, long = sorted((way.inner_width, way.inner_depth))
    return long - GUTTER * short
