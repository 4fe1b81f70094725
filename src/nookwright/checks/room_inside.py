"""Whether points lie inside the usable room of a space: walls at every height, rounded corners, clear height."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.in_words import length
from nookwright.ground.tolerances import GRID

if TYPE_CHECKING:
    from nookwright.checks.boxes import Floats
    from nookwright.exchange.kit import KitSpace


def outside(space: KitSpace, points: Floats) -> str:
    """By how much points stick out of a space, in words; empty if they do not.

    Args:
        space: with its usable sizes by height.
        points: (n, 3), in the space's axes.
    """
    return ", ".join(f"{length(by)} past {what}" for what, by in beyond(space, points).items() if by > GRID)


def beyond(space: KitSpace, points: Floats) -> dict[str, float]:
    """By how much points reach at most past each wall, the floor and the clear height, mm; negative: room that is left.

    Between the heights at which the usable outline is known it is taken to change evenly. Past a rounded corner or edge
    the least is 0.

    Args:
        space: with its usable sizes by height.
        points: (n, 3), in the space's axes.
    """
    heights = [level.z for level in space.usable]
    width = np.interp(points[:, 2], heights, [level.width for level in space.usable])
    depth = np.interp(points[:, 2], heights, [level.depth for level in space.usable])
    left = np.interp(points[:, 2], heights, [level.x for level in space.usable])
    front = np.interp(points[:, 2], heights, [level.y for level in space.usable])
    far, points = np.column_stack([width, depth]), points - np.column_stack([left, front, np.zeros_like(left)])
    return {
        "the left wall": float((-points[:, 0]).max()),
        "the front": float((-points[:, 1]).max()),
        "the floor": float((-points[:, 2]).max()),
        "the right wall": float((points[:, 0] - width).max()),
        "the back": float((points[:, 1] - depth).max()),
        "the clear height": float(points[:, 2].max() - space.height),
        "a rounded corner": _past_corner(points[:, :2], far, np.full(len(points), space.corner_radius)),
        "the round edge of the floor": _past_cove(points, far, space),
    }


def _past_cove(points: Floats, far: Floats, space: KitSpace) -> float:
    """The most by which a point that is inside the upright walls is past the cove along them, as far as it reaches up.

    At a height z a cove of radius R draws the walls in by R - sqrt(R^2 - (R - z)^2), and the radius of a corner
    becomes smaller by as much.
    """
    low = points[points[:, 2] < space.cove_radius]
    if not len(low):
        return 0.0
    below = np.minimum(space.cove_radius - low[:, 2], space.cove_radius)
    inset = space.cove_radius - np.sqrt(space.cove_radius**2 - below**2)
    inner, room = low[:, :2] - inset[:, None], far[points[:, 2] < space.cove_radius] - 2 * inset[:, None]
    past_wall = np.maximum(-inner, inner - room).max(axis=1)
    past_corner = _past_corner(inner, room, np.maximum(0.0, space.corner_radius - inset))
    return max(float(past_wall.max()), past_corner)


def _past_corner(points: Floats, far: Floats, radii: Floats) -> float:
    """The most by which a point that is inside the straight walls is past the arc of a corner, each with its radius."""
    radius = radii[:, None]
    to_wall = np.minimum(points, far - points)
    from_centre = np.maximum(radius - to_wall, 0)
    in_corner = (to_wall < radius).all(axis=1) & (to_wall >= 0).all(axis=1)
    past = np.sqrt((from_centre**2).sum(axis=1)) - radii
    return float(np.max(past[in_corner], initial=0.0))
