"""The usable inside of a space: what is left of the readings after their uncertainty."""

from __future__ import annotations

from dataclasses import dataclass


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
    """

    space: str
    width: float
    depth: float
    height: float
    corner_radius: float
    blocked: tuple[BlockedBox, ...]
