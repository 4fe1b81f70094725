"""Where pockets go: in rows, staggered, or of several sizes in one row. Plain arithmetic; a part decides nothing.

``land`` is the least distance from pocket to pocket just below their chamfers; ``sleeve_lines.land_of`` says how much
it must be.
"""

from __future__ import annotations

import math
from itertools import accumulate
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.parts.cradles.pocket import Placed
from nookwright.parts.refusals import refuse_part

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.parts.cradles.pocket import Pocket

HEXAGONAL = Fact(
    math.sqrt(3) / 2,
    unit="1",
    kind=SourceKind.CALCULATED,
    source="Height of a triangle of equal sides: staggered rows lie this much of a pitch apart.",
)


def in_row(pockets: Sequence[Pocket], height: float, *, land: float, x: float, y: float) -> tuple[Placed, ...]:
    """Pockets of one size or of several, side by side, the same distance between each two.

    Args:
        pockets: from left to right.
        height: of their mouths above their floors, mm.
        land: from pocket to pocket, mm.
        x: left edge of the first pocket, mm.
        y: middle of the row, mm.
    """
    halves = [pocket.outline(height).half_width for pocket in pockets]
    ends = accumulate(2 * half + land for half in halves)
    return tuple(
        Placed(pocket, x + end - land - half, y) for pocket, half, end in zip(pockets, halves, ends, strict=True)
    )


def row_length(pockets: Sequence[Pocket], height: float, *, land: float) -> float:
    """From the left edge of the first pocket of a row to the right edge of the last, mm."""
    return sum(2 * pocket.outline(height).half_width for pocket in pockets) + land * (len(pockets) - 1)


def lattice(pocket: Pocket, height: float, *, columns: int, lines: int, land: float) -> tuple[Placed, ...]:
    """Equal pockets in rows, the front left pocket's box at the origin.

    Args:
        pocket: each of them.
        height: of their mouths above their floors, mm.
        columns: pockets along x.
        lines: pockets along y.
        land: from pocket to pocket, mm.
    """
    box = pocket.outline(height)
    across, back = 2 * box.half_width + land, 2 * box.half_depth + land
    return tuple(
        Placed(pocket, box.half_width + column * across, box.half_depth + line * back)
        for line in range(lines)
        for column in range(columns)
    )


def staggered(pocket: Pocket, height: float, *, columns: int, lines: int, land: float) -> tuple[Placed, ...]:
    """Equal round pockets, every second row shifted by half a pitch and one pocket shorter.

    Args:
        pocket: each of them; its outline is a circle.
        height: of their mouths above their floors, mm.
        columns: pockets of the first row.
        lines: rows.
        land: from pocket to pocket, mm.

    Raises:
        RecipeError: the pockets are not round, or a row would be empty.
    """
    box = pocket.outline(height)
    if not box.radius == box.half_width == box.half_depth:
        refuse_part(
            "a staggered cradle",
            "only round pockets move into each other's gaps",
            found=pocket.words,
            allowed="pockets with a round outline",
            remedy="Put boxes in plain rows.",
        )
    if columns < 1 + (lines > 1) or lines < 1:
        refuse_part(
            "a staggered cradle",
            "every row holds a pocket",
            found=f"{columns} columns in {lines} rows",
            allowed="2 columns or more where there is a second row",
            remedy="Put so few pockets in plain rows.",
        )
    pitch = 2 * box.radius + land
    return tuple(
        Placed(pocket, box.radius + (column + (line % 2) / 2) * pitch, box.radius + line * pitch * HEXAGONAL)
        for line in range(lines)
        for column in range(columns - line % 2)
    )


def staggered_count(columns: int, lines: int) -> int:
    """How many pockets a staggered field holds.

    >>> staggered_count(5, 4), staggered_count(5, 1)
    (18, 5)
    """
    return columns * lines - lines // 2


def staggering_gain(*, across: float, back: float, pitch: float) -> int:
    """How many more pockets a staggered field holds than plain rows on the same area; negative where it holds fewer.

    In the plane a hexagonal field holds 2 / sqrt(3) = 1.155 times as many; on a small area the shorter rows eat it up.

    Args:
        across: from the middle of the first to that of the last pocket of a row, at most, mm.
        back: the same from row to row, mm.
        pitch: from middle to middle of neighbours, mm.

    >>> staggering_gain(across=100, back=100, pitch=100), staggering_gain(across=300, back=300, pitch=20)
    (-1, 23)
    """
    columns = math.floor(round(across / pitch, 6)) + 1
    plain = columns * (math.floor(round(back / pitch, 6)) + 1)
    lines = math.floor(round(back / (pitch * HEXAGONAL), 6)) + 1
    longer = across - (columns - 1) * pitch >= pitch / 2  # then the shifted rows are as long as the others
    full = columns * lines if longer else staggered_count(columns, lines)
    return full - plain


def moved(placed: Sequence[Placed], *, x: float, y: float) -> tuple[Placed, ...]:
    """The same pockets, shifted."""
    return tuple(Placed(each.pocket, each.x + x, each.y + y) for each in placed)


def centred(placed: Sequence[Placed], height: float, *, width: float, depth: float) -> tuple[Placed, ...]:
    """The same pockets, the box around them in the middle of a part.

    Args:
        placed: pockets anywhere.
        height: of their mouths above their floors, mm.
        width: of the part, mm.
        depth: of the part, mm.
    """
    boxes = [each.pocket.outline(height, each.x, each.y) for each in placed]
    left, right = min(b.x - b.half_width for b in boxes), max(b.x + b.half_width for b in boxes)
    front, back = min(b.y - b.half_depth for b in boxes), max(b.y + b.half_depth for b in boxes)
    return moved(placed, x=(width - left - right) / 2, y=(depth - front - back) / 2)
