"""What a side of a space decides: its columns or rows of cells, and whether its tallest part goes in."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.module.floor import floor_of
from nookwright.sizing.next_readings.gain import Gain, rate
from nookwright.sizing.next_readings.sides import places_left, usable_later
from nookwright.sizing.next_readings.things import AT_ONCE, Asked

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.layout.model import Placed
    from nookwright.layout.plan import Plan
    from nookwright.layout.spaces import SpacePlan
    from nookwright.sizing.usable import Usable


def next_of_side(space: SpacePlan, side: str, plan: Plan) -> Asked | None:
    """The readings of one side of a space that gain most in a minute; ``None`` where no decision would change.

    Args:
        space: the space, planned.
        side: ``width``, ``depth`` or ``height``.
        plan: of the room.
    """
    found = []
    left = places_left(space.space, side)
    for many in sorted({min(int(most), left) for most in AT_ONCE} - {0}):
        later = usable_later(space.space, side, many, plan.terms.found)
        gain = _height_gain(space, later, plan) if side == "height" else _line_gain(space, side, later, plan)
        found.append(Asked(many, gain))
    worthy = [one for one in found if one.gain.counts]
    return max(worthy, key=lambda one: rate(one.gain, one.readings), default=None)


def _line_gain(space: SpacePlan, side: str, later: Sequence[Usable], plan: Plan) -> Gain:
    """By how many columns or rows the floor changes."""
    lined = bool(space.liner.panels)

    def lines(usable: Usable) -> int:
        floor = floor_of(usable, plan.module, lined=lined)
        return floor.cols if side == "width" else floor.rows

    now = lines(space.usable)
    return Gain(lines=sum(abs(now - lines(one)) for one in later) / len(later))


def _height_gain(space: SpacePlan, later: Sequence[Usable], plan: Plan) -> Gain:
    """Height for a lot that has no place yet, and how likely what is placed turns out too tall."""
    taken = space.usable.height - space.grid.height
    tallest = max((_tall(one) for one in plan.layout.in_space(space.space.id)), default=0.0)
    over = sum(one.height - taken < tallest for one in later) / len(later)
    higher = sum(one.height for one in later) / len(later) - space.usable.height
    return Gain(lines=over, pocket=higher if plan.layout.left_out else 0.0)


def _tall(placed: Placed) -> float:
    """Height of a part above the liner with its things in, mm."""
    return placed.raised + max(placed.height, placed.candidate.tall if placed.candidate else 0.0)
