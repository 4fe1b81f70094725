"""Spare trays of the commonest sizes of the room, so that they swap with what is there."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.bits import first, places, shifts_for, stride
from nookwright.layout.filling.growth import may_grow
from nookwright.layout.filling.means import held
from nookwright.layout.filling.spots import box_of, floor_of
from nookwright.layout.model import Placed

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.layout.filling.means import Means
    from nookwright.layout.model import Grid

FOOTPRINTS = Fact(
    4,
    unit="1",
    kind=Kind.CHOICE,
    source="Few widths read calmly: spare trays take only so many of the room's footprints.",
)


def common_footprints(placed: Sequence[Placed], smallest: tuple[int, int]) -> tuple[tuple[int, int], ...]:
    """The commonest footprints of trays in the room, the larger first, each with its longer side first.

    Args:
        placed: all that stands in the room.
        smallest: cells of the smallest spare tray.
    """
    least = sorted(smallest)
    counts = Counter(
        (max(one.cols, one.rows), min(one.cols, one.rows))
        for one in placed
        if may_grow(one) and min(one.cols, one.rows) >= least[0] and max(one.cols, one.rows) >= least[1]
    )
    commonest = sorted(counts, key=lambda size: (-counts[size], -size[0] * size[1], size))[: int(FOOTPRINTS)]
    return tuple(sorted(commonest, key=lambda size: (-size[0] * size[1], size)))


def common_height(grid: Grid, placed: Sequence[Placed]) -> float:
    """The commonest height of trays that the space can take, mm; 0 where there is none.

    Args:
        grid: the space.
        placed: the trays that are looked at.
    """
    counts = Counter(one.height for one in placed if may_grow(one) and one.height <= grid.height)
    return min(counts, key=lambda height: (-counts[height], height), default=0.0)


def spare_trays(
    grid: Grid,
    here: Sequence[Placed],
    everywhere: Sequence[Placed],
    common: Sequence[tuple[int, int]],
    means: Means,
) -> list[Placed]:
    """Spare trays for the free cells of a space, as far as it carries them.

    Args:
        grid: the space.
        here: what stands in it.
        everywhere: what stands in the room: its heights, where the space has none.
        common: footprints to take, the largest first.
        means: what filling may use.
    """
    height = common_height(grid, here) or common_height(grid, everywhere)
    step, free = stride(grid.cols), floor_of(grid, here)
    left_g = grid.load_g - sum(means.mass_g(one) for one in here)
    spare: list[Placed] = []
    for size in (size for size in common if height and held(grid, *size)):
        for cols, rows in dict.fromkeys((size, size[::-1])):
            while cols <= grid.cols and (mask := places(free.free, shifts_for(cols, rows, step))):
                row, col = divmod(first(mask), step)
                one = Placed(grid.space, col, row, cols, rows, cols < rows, None, height)
                left_g -= means.mass_g(one)
                if left_g < 0:
                    return spare
                free = free.without((box_of(one),))
                spare.append(one)
    return spare
