"""The usable inside of a space: what is left of the readings after their uncertainty."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from nookwright.survey.models import Blocked, Space
    from nookwright.survey.readings import Readings

ONE_READING_ERROR = Fact(1.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="A steel tape read once in a drawer.")
SEVERAL_READINGS_ERROR = Fact(
    0.5,
    unit="mm",
    kind=Kind.COMMON_PRACTICE,
    source="The smallest of three readings and more still misses the narrowest place.",
)
SEVERAL = Fact(3, unit="1", kind=Kind.CHOICE, source="From three readings on a dimension counts as read several times.")
BLOCKED_GROWTH = Fact(
    3.0,
    unit="mm",
    kind=Kind.COMMON_PRACTICE,
    source="What is in the way is kept clear by this: it was taped, and it is round.",
)


@dataclass(frozen=True)
class BlockedBox:
    """A box that nothing may enter, grown by the measuring error; mm, from the front left corner of the floor."""

    reason: str
    service: bool
    x0: float
    y0: float
    z0: float
    x1: float
    y1: float
    z1: float


@dataclass(frozen=True)
class Usable:
    """What may be filled.

    Attributes:
        space: id of the space.
        width: smallest at the floor and at the rim, less the measuring error.
        depth: the same along y.
        height: clear height, less mat and measuring error.
        corner_radius: of the vertical corners.
        blocked: boxes that nothing may enter.
        cove_radius: of the rounded edge between walls and floor.
    """

    space: str
    width: float
    depth: float
    height: float
    corner_radius: float
    blocked: tuple[BlockedBox, ...]
    cove_radius: float = 0.0


def reading_error(readings: Readings) -> float:
    """What is taken off the smallest reading, mm: less where several were taken."""
    return float(SEVERAL_READINGS_ERROR if len(readings.all) >= SEVERAL else ONE_READING_ERROR)


def usable_of(space: Space) -> Usable:
    """The usable inside of a space, in mm; sides may be 0 where nothing is left.

    Args:
        space: the space as surveyed.
    """
    width, depth, height = (
        max(0.0, readings.smallest - reading_error(readings)) for readings in (space.width, space.depth, space.height)
    )
    return Usable(
        space=space.id,
        width=width,
        depth=depth,
        height=max(0.0, height - space.mat),
        corner_radius=space.corner_radius,
        cove_radius=space.cove_radius,
        blocked=tuple(_grown(box, height, space.mat) for box in space.blocked),
    )


def _grown(box: Blocked, top: float, mat: float) -> BlockedBox:
    """A blocked box with the measuring error on all sides, above the mat; up to the top where no height is given."""
    high = top if box.height is None else box.z + box.height + BLOCKED_GROWTH
    return BlockedBox(
        reason=box.reason,
        service=box.service,
        x0=max(0.0, box.x - BLOCKED_GROWTH),
        y0=max(0.0, box.y - BLOCKED_GROWTH),
        z0=max(0.0, box.z - mat - BLOCKED_GROWTH),
        x1=box.x + box.width + BLOCKED_GROWTH,
        y1=box.y + box.depth + BLOCKED_GROWTH,
        z1=max(0.0, high - mat),
    )
