"""What the places of a repeat must obey, decided in whole grid steps.

Copies overlap, or are flush, or are apart by ``tolerances.TOUCHING``: a gap between would weld in a file.
"""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING

from nookwright.ground import tolerances
from nookwright.shapes.node import refuse, steps

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.shapes.boxes import Box2

Point = tuple[float, float]
Step = tuple[int, int]


def check_places(subject: str, places: tuple[Point, ...], box: Box2) -> None:
    """Refuse copies that nearly coincide, and copies whose boxes nearly touch.

    Args:
        subject: the node, for the message.
        places: shifts in x and y, mm.
        box: of the thing repeated.

    Raises:
        RecipeError: no places; two nearer than TOUCHING; a gap between boxes in (0, TOUCHING).
    """
    if not places or any(len(place) != len(("x", "y")) for place in places):
        refuse(subject, "places holds one or more pairs of numbers", found=places, allowed="(x, y), ...")
    size = (steps(box[2] - box[0]), steps(box[3] - box[1]))
    least = steps(tolerances.TOUCHING)
    corners = [(steps(x), steps(y)) for x, y in places]
    for first, second in _neighbours(corners, (size[0] + least, size[1] + least)):
        apart = [abs(a - b) for a, b in zip(corners[first], corners[second], strict=True)]
        gaps = [max(0, distance - side) for distance, side in zip(apart, size, strict=True)]
        pair = f"{places[first]} and {places[second]}"
        if _square(apart) < least**2:
            refuse(subject, "copies stand apart", found=pair, allowed=f"at least {tolerances.TOUCHING:g}")
        if 0 < _square(gaps) < least**2:
            allowed = f"an overlap, 0, or at least {tolerances.TOUCHING:g}"
            refuse(subject, "the boxes of copies leave no hair's gap", found=pair, allowed=allowed)


def _neighbours(corners: list[Step], reach: Step) -> Iterator[tuple[int, int]]:
    """Pairs of places that may be nearer to each other than ``reach`` on both axes."""
    buckets: dict[Step, list[int]] = {}
    for index, (x, y) in enumerate(corners):
        column, row = x // reach[0], y // reach[1]
        for right, up in product((-1, 0, 1), repeat=2):
            yield from ((other, index) for other in buckets.get((column + right, row + up), ()))
        buckets.setdefault((column, row), []).append(index)


def _square(legs: list[int]) -> int:
    return sum(leg**2 for leg in legs)
