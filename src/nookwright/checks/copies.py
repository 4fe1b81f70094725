"""How many copies of each part a kit needs, and what parts and spaces come to by the pieces that they are printed as.

A part that is printed in several materials has a sum for each of them, and may have any; so a space has a least and a
most.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from nookwright.exchange.kit import Kit, KitPart, Piece


def needed(kit: Kit) -> Counter[str]:
    """Copies of each part by its id: those in their places, and those to order.

    Args:
        kit: the kit, its references sound.
    """
    count = Counter(placement.part for placement in kit.placements)
    for order in kit.orders:
        count[order.part] += order.count
    return count


def sums_of_pieces(kit: Kit, of: Callable[[Piece], float]) -> Mapping[str, tuple[float, ...]]:
    """What the pieces of each part come to in each of its materials, by the part's id; parts without pieces left out.

    Args:
        kit: the kit, its references sound.
        of: a piece, such as its mass or its time.
    """
    sums: dict[str, dict[str, float]] = defaultdict(lambda: defaultdict(float))
    for piece in kit.pieces:
        sums[piece.part][piece.material] += of(piece)
    return {part: tuple(found.values()) for part, found in sums.items()}


def bounds_by_space(
    kit: Kit, sums: Mapping[str, tuple[float, ...]], of: Callable[[KitPart], float]
) -> Mapping[str, tuple[float, float]]:
    """The least and the most that the prints in each space come to, by its id.

    Args:
        kit: the kit, its references sound.
        sums: as of ``sums_of_pieces``.
        of: a part that has no pieces, the same.
    """
    own = {part.id: (of(part),) for part in kit.parts}
    found: dict[str, tuple[float, float]] = {space.id: (0.0, 0.0) for space in kit.spaces}
    for placement in kit.placements:
        each = sums.get(placement.part, own[placement.part])
        least, most = found[placement.space]
        found[placement.space] = least + min(each), most + max(each)
    return found
